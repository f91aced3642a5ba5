"""
The way each wire takes: shortest path between the places of its ends, slack added.

Slack follows from re-termination practice; measured lengths win over computed ones.
"""

from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from itertools import pairwise
from math import fsum

import networkx
from attrs import define, field

from upgrade_planner.configuration.files.faults import one_of, quoted
from upgrade_planner.configuration.model import Route, Run

SLACK_PER_END_M = 0.15
"""
Spare length at each end: to reach the terminal and to cut and re-terminate twice. [m]

Source: two spare re-terminations, FAA AC 43.13-1B Change 1; the length is our assumption.
"""

_OUTSIDE_WEIGHT = 1e5
"""What a metre outside the wanted loom counts for, so that all of the loom is used first."""

_STEPS_PER_M = 1e6  # whole numbers, for networkx finds exact flows only with them


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
    _graphs: dict[str, networkx.MultiGraph] = field(factory=dict, init=False)

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
        if loom not in self._graphs:
            self._graphs[loom] = self._graph(loom)
        graph = self._graphs[loom]
        first, last = sorted((start, end))  # the same way whichever end is named first
        routes = _shortest(graph, first, last)
        if loom and not _uses(routes, loom):
            routes = _shortest_in(graph, first, last, loom)
        return routes if start == first else routes[::-1]

    def _graph(self, loom: str) -> networkx.MultiGraph:
        graph = networkx.MultiGraph()
        graph.add_nodes_from(sorted(self.places))
        for route in sorted(self.routes, key=str):  # equal lengths: file order must not decide
            is_outside = bool(loom) and route.loom != loom
            weight = route.length_m * (_OUTSIDE_WEIGHT if is_outside else 1.0)
            graph.add_edge(route.start, route.end, weight=weight, route=route)
        return graph


def _no_routes_at(place: str, loom: str) -> tuple[Route, ...]:
    if loom:
        found = f"both ends at {quoted(place)}, outside the loom {quoted(loom)}"
        raise NoWay(found, "no `route`", is_about_loom=True)
    return ()


def _uses(routes: tuple[Route, ...], loom: str) -> bool:
    return any(route.loom == loom for route in routes)


def _shortest(graph: networkx.MultiGraph, first: str, last: str) -> tuple[Route, ...]:
    try:
        nodes = networkx.dijkstra_path(graph, first, last, weight="weight")
    except (networkx.NetworkXNoPath, networkx.NodeNotFound) as error:
        found = f"no route from {quoted(first)} to {quoted(last)}"
        raise NoWay(found, "a [[route]] that joins them") from error
    return _along(graph, nodes)


def _shortest_in(graph: networkx.MultiGraph, first: str, last: str, loom: str) -> tuple[Route, ...]:
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
    graph: networkx.MultiGraph, first: str, last: str, loom: str
) -> Iterator[tuple[float, tuple[str, str]]]:
    """The edges of a loom that can be reached, each with the least weight of a way over it."""
    from_first = networkx.single_source_dijkstra_path_length(graph, first, weight="weight")
    to_last = networkx.single_source_dijkstra_path_length(graph, last, weight="weight")
    for a, b, data in graph.edges(data=True):
        if data["route"].loom == loom and a in from_first:
            least = min(from_first[a] + to_last[b], from_first[b] + to_last[a])
            yield least + data["weight"], (a, b)


def _weight(route: Route, loom: str) -> float:
    return route.length_m * (1.0 if route.loom == loom else _OUTSIDE_WEIGHT)


def _path_over(
    graph: networkx.MultiGraph, first: str, last: str, edge: tuple[str, str]
) -> list[str]:
    """
    The lightest path over one edge that passes no place twice; empty if there is none.

    Two paths that share no place lead from the ends of the edge to `first` and `last`: a flow of
    two through a network in which each place lets one through.
    """
    net = networkx.DiGraph()
    for place in graph:
        net.add_edge((place, "in"), (place, "out"), capacity=1, weight=0)
    for a, b in {(a, b) for a, b in graph.edges() if a != b}:
        steps = round(min(e["weight"] for e in graph[a][b].values()) * _STEPS_PER_M)
        net.add_edge((a, "out"), (b, "in"), capacity=1, weight=steps)
        net.add_edge((b, "out"), (a, "in"), capacity=1, weight=steps)
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


def _along(graph: networkx.MultiGraph, places: list[str]) -> tuple[Route, ...]:
    return tuple(_lightest(graph, a, b) for a, b in pairwise(places))


def _lightest(graph: networkx.MultiGraph, start: str, end: str) -> Route:
    """The best of parallel routes; ties by content, so that the order in the file is no matter."""
    edges = graph[start][end].values()
    best = min(edges, key=lambda edge: (edge["weight"], str(edge["route"])))
    route: Route = best["route"]
    return route


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
    return dict(_all_distances(graph))


def _all_distances(graph: networkx.MultiGraph) -> Iterator[tuple[str, Mapping[str, float]]]:
    yield from networkx.all_pairs_dijkstra_path_length(graph, weight="weight")
