"""
The way each wire takes: shortest path between the places of its ends, slack added.

Slack follows from re-termination practice; measured lengths win over computed ones.
"""

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise

import networkx
from attrs import define, field

from upgrade_planner.configuration.model import Route, Run

SLACK_PER_END_M = 0.15
"""
Spare length at each end: to reach the terminal and to cut and re-terminate twice. [m]

Source: two spare re-terminations, FAA AC 43.13-1B Change 1; the length is our assumption.
"""

_FOREIGN_LOOM_PENALTY_M = 1e6


class NoWay(ValueError):
    """No route leads from one place to the other."""


@define
class RouteMap:
    """All routes of a vehicle, asked for the way between two places."""

    places: tuple[str, ...]
    routes: tuple[Route, ...]
    _graphs: dict[str, networkx.MultiGraph] = field(factory=dict, init=False)

    def run(self, start: str, end: str, *, loom: str = "", measured_m: float | None = None) -> Run:
        """
        The run of a wire from place `start` to place `end`.

        Args:
            start: Place id of the wire's start.
            end: Place id of the wire's end.
            loom: Loom it must use at least once, or "".
            measured_m: Length measured on the vehicle, which wins. [m]

        Raises:
            NoWay: the places are not joined by routes, or none of them lies in `loom`.
        """
        routes = self._path(start, end, loom)
        computed = sum(route.length_m for route in routes) + 2 * SLACK_PER_END_M
        length = measured_m if measured_m is not None else computed
        return Run(
            length_m=length,
            measured=measured_m is not None,
            routes=routes,
            before_connector_m=_share_before_connector(routes, length, computed),
        )

    def _path(self, start: str, end: str, loom: str) -> tuple[Route, ...]:
        if start == end:
            return ()
        if loom not in self._graphs:
            self._graphs[loom] = self._graph(loom)
        graph = self._graphs[loom]
        first, last = sorted((start, end))  # the same way whichever end is named first
        try:
            nodes = networkx.dijkstra_path(graph, first, last, weight="weight")
        except (networkx.NetworkXNoPath, networkx.NodeNotFound) as error:
            raise NoWay(f"no route from '{start}' to '{end}'") from error
        routes = tuple(_lightest(graph, a, b) for a, b in pairwise(nodes))
        if start != first:
            routes = routes[::-1]
        if loom and not any(route.loom == loom for route in routes):
            raise NoWay(f"no way from '{start}' to '{end}' in the loom '{loom}'")
        return routes

    def _graph(self, loom: str) -> networkx.MultiGraph:
        graph = networkx.MultiGraph()
        graph.add_nodes_from(sorted(self.places))
        for route in sorted(self.routes, key=str):  # equal lengths: file order must not decide
            foreign = bool(loom) and route.loom != loom
            weight = route.length_m + (_FOREIGN_LOOM_PENALTY_M if foreign else 0.0)
            graph.add_edge(route.start, route.end, weight=weight, route=route)
        return graph


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
