"""
The way each wire takes: shortest path between the places of its ends, slack added.

Slack follows from re-termination practice; measured lengths win over computed ones.
"""

from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from heapq import heappop, heappush
from itertools import count, pairwise
from math import fsum
from typing import NamedTuple

from attrs import define, field

from upgrade_planner.configuration.files.faults import one_of, quoted
from upgrade_planner.configuration.ways import Route, Run

SLACK_PER_END_M = 0.15
"""
Spare length at each end: to reach the terminal and to cut and re-terminate twice. [m]

Source: two spare re-terminations, FAA AC 43.13-1B Change 1; the length is our assumption.
"""

_OUTSIDE_WEIGHT = 1e5
"""What a metre outside the wanted loom counts for, so that all of the loom is used first."""

_STEPS_PER_M = 1e6  # whole numbers, for networkx finds exact flows only with them


class Edge(NamedTuple):
    """A route between two places, with what it counts."""

    weight: float
    route: Route


Graph = Mapping[str, Mapping[str, list[Edge]]]
"""Of each place the places beside it, and the routes to these."""


class NoWay(ValueError):
    """
    No route leads from one place to the other as wanted.

    Attributes:
        is_about_loom: True if there are ways, but none in the loom that was named.
    """

    def __init__(self, found: str, expected: str, *, is_about_loom: bool = False) -> None:
        self.found = found
        self.expected = expected
        self.is_about_loom = is_about_loom
        super().__init__(f"found {found}; expected {expected}")


@define(slots=False)
class RouteMap:
    """All routes of a vehicle, asked for the way between two places."""

    places: tuple[str, ...]
    routes: tuple[Route, ...]
    _graphs: dict[str, Graph] = field(factory=dict, init=False)
    _ways: dict[tuple[str, str, str], tuple[Route, ...]] = field(factory=dict, init=False)

    @cached_property
    def looms(self) -> frozenset[str]:
        """Names of all looms."""
        return frozenset(route.loom for route in self.routes if route.loom)

    def run(self, start: str, end: str, *, loom: str = "", measured_m: float | None = None) -> Run:
        """
        The run of a wire from place `start` to place `end`.

        Args:
            start: Place id of the wire's start.
            end: Place id of the wire's end.
            loom: Loom it must use at least once, and does as far as that reaches; "" for any way.
            measured_m: Length measured on the vehicle, which wins. [m]

        Raises:
            NoWay: the places are not joined by routes, or by none that uses `loom`.
        """
        routes = self._way(start, end, loom)
        computed = fsum(route.length_m for route in routes) + 2 * SLACK_PER_END_M
        length = measured_m if measured_m is not None else computed
        return Run(
            length_m=length,
            measured=measured_m is not None,
            routes=routes,
            before_connector_m=_share_before_connector(routes, length, computed),
        )

    def _way(self, start: str, end: str, loom: str) -> tuple[Route, ...]:
        if loom and loom not in self.looms:
            expected = one_of(loom, self.looms) if self.looms else "no `route`: no route has a loom"
            raise NoWay(f"no loom {quoted(loom)}", expected, is_about_loom=True)
        if start == end:
            return _no_routes_at(start, loom)
        first, last = sorted((start, end))  # the same way whichever end is named first
        if (first, last, loom) not in self._ways:
            self._ways[first, last, loom] = self._found(first, last, loom)
        routes = self._ways[first, last, loom]
        return routes if start == first else routes[::-1]

    def _found(self, first: str, last: str, loom: str) -> tuple[Route, ...]:
        if loom not in self._graphs:
            self._graphs[loom] = self._graph(loom)
        routes = _shortest(self._graphs[loom], first, last)
        if loom and not _uses(routes, loom):
            routes = _shortest_in(self._graphs[loom], first, last, loom)
        return routes

    def _graph(self, loom: str) -> Graph:
        graph: dict[str, dict[str, list[Edge]]] = {place: {} for place in sorted(self.places)}
        for route in sorted(self.routes, key=str):  # equal lengths: file order must not decide
            is_outside = bool(loom) and route.loom != loom
            edge = Edge(route.length_m * (_OUTSIDE_WEIGHT if is_outside else 1.0), route)
            ends = (route.start, route.end)
            for one, other in dict.fromkeys((ends, ends[::-1])):
                graph.setdefault(one, {}).setdefault(other, []).append(edge)
        return graph


def _no_routes_at(place: str, loom: str) -> tuple[Route, ...]:
    if loom:
        found = f"both ends at {quoted(place)}, outside the loom {quoted(loom)}"
        raise NoWay(found, "no `route`", is_about_loom=True)
    return ()


def _uses(routes: tuple[Route, ...], loom: str) -> bool:
    return any(route.loom == loom for route in routes)


def _shortest(graph: Graph, first: str, last: str) -> tuple[Route, ...]:
    _, came = _distances(graph, first)
    if last not in came:
        found = f"no route from {quoted(first)} to {quoted(last)}"
        raise NoWay(found, "a [[route]] that joins them")
    places = [last]
    while places[-1] != first:
        places.append(came[places[-1]])
    return _along(graph, places[::-1])


def _distances(graph: Graph, start: str) -> tuple[dict[str, float], dict[str, str]]:
    """Least weight of a way to each place that can be reached, and the place before it there."""
    done: dict[str, float] = {}
    seen, came = {start: 0.0}, {start: start}
    number = count()  # of equal weights the one found first
    queue = [(0.0, next(number), start)] if start in graph else []
    while queue:
        walked, _, place = heappop(queue)
        if place in done:
            continue
        done[place] = walked
        for other, edges in graph[place].items():
            total = walked + min(edge.weight for edge in edges)
            if other not in done and (other not in seen or total < seen[other]):
                seen[other], came[other] = total, place
                heappush(queue, (total, next(number), other))
    return done, came


def _shortest_in(graph: Graph, first: str, last: str, loom: str) -> tuple[Route, ...]:
    """The lightest way that uses the loom, where the lightest of all ways does not."""
    best: tuple[float, tuple[Route, ...]] | None = None
    for bound, edge in sorted(_edges_of(graph, first, last, loom)):
        if best is not None and bound >= best[0]:
            break
        routes = _along(graph, _path_over(graph, first, last, edge))
        weight = fsum(_weight(route, loom) for route in routes)
        if routes and (best is None or weight < best[0]):
            best = (weight, routes)
    if best is None:
        found = f"no way from {quoted(first)} to {quoted(last)} in the loom {quoted(loom)}"
        raise NoWay(found, "a loom that lies between them", is_about_loom=True)
    return best[1]


def _edges_of(
    graph: Graph, first: str, last: str, loom: str
) -> Iterator[tuple[float, tuple[str, str]]]:
    """The edges of a loom that can be reached, each with the least weight of a way over it."""
    from_first, to_last = (_distances(graph, place)[0] for place in (first, last))
    for a, beside in graph.items():
        for b, edges in beside.items():
            if a > b or a not in from_first:
                continue
            least = min(from_first[a] + to_last[b], from_first[b] + to_last[a])
            for edge in edges:
                if edge.route.loom == loom:
                    yield least + edge.weight, (a, b)


def _weight(route: Route, loom: str) -> float:
    return route.length_m * (1.0 if route.loom == loom else _OUTSIDE_WEIGHT)


def _path_over(graph: Graph, first: str, last: str, edge: tuple[str, str]) -> list[str]:
    """
    The lightest path over one edge that passes no place twice; empty if there is none.

    Two paths that share no place lead from the ends of the edge to `first` and `last`: a flow of
    two through a network in which each place lets one through.
    """
    import networkx  # slow to import, and few wires need a flow

    net = networkx.DiGraph()
    for place, beside in graph.items():
        net.add_edge((place, "in"), (place, "out"), capacity=1, weight=0)
        for other, edges in beside.items():
            if other != place:
                steps = round(min(each.weight for each in edges) * _STEPS_PER_M)
                net.add_edge((place, "out"), (other, "in"), capacity=1, weight=steps)
    for end in edge:
        net.add_edge("source", (end, "in"), capacity=1, weight=0)
    for end in (first, last):
        net.add_edge((end, "out"), "sink", capacity=1, weight=0)
    flow = networkx.max_flow_min_cost(net, "source", "sink")
    halves = [_followed(flow, end) for end in edge]
    if {half[-1] for half in halves} != {first, last}:
        return []
    from_first, to_last = sorted(halves, key=lambda half: half[-1] != first)
    return [*from_first[::-1], *to_last]


def _followed(flow: Mapping[object, Mapping[object, int]], place: str) -> list[str]:
    """Places that one unit of flow passes, from `place` on."""
    passed = [place]
    while True:
        carried = [node for node, units in flow[(passed[-1], "out")].items() if units]
        if not carried or not isinstance(carried[0], tuple):
            return passed
        passed.append(carried[0][0])


def _along(graph: Graph, places: list[str]) -> tuple[Route, ...]:
    return tuple(_lightest(graph, a, b) for a, b in pairwise(places))


def _lightest(graph: Graph, start: str, end: str) -> Route:
    """The best of parallel routes; ties by content, so that the order in the file is no matter."""
    return min(graph[start][end], key=lambda edge: (edge.weight, str(edge.route))).route


def _share_before_connector(
    routes: tuple[Route, ...], length_m: float, computed_m: float
) -> float | None:
    """Length from the start to the middle of the first route that passes a connector. [m]"""
    walked = SLACK_PER_END_M
    for route in routes:
        if route.through:
            return (walked + route.length_m / 2) * length_m / computed_m
        walked += route.length_m
    return None


def walking_distances(
    places: Iterable[str], routes: tuple[Route, ...]
) -> Mapping[str, Mapping[str, float]]:
    """Distance along the routes from each place to each other; missing if not joined. [m]"""
    graph = RouteMap(tuple(places), routes)._graph("")
    return {place: _distances(graph, place)[0] for place in graph}
