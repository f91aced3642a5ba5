"""
The least total of weighted distances, exactly: the one program behind all placing.

Unknown places x; for each arc (a, b): x(b) - x(a) is at least its distance, and the sum of
weight times (x(b) - x(a)) over all arcs is as small as can be. Its dual is a flow of least cost,
which the network simplex of networkx solves in whole numbers; the places are the potentials.
Source: R. K. Ahuja, T. L. Magnanti, J. B. Orlin, Network Flows (1993), chapter 9 (from memory).
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache

import networkx

from upgrade_planner.attributes import frozen

KEPT = 64
"""Totals that are kept: what is tried for one picture comes to the same order again and again."""


@frozen
class Arc:
    """From `first` to `second` there is at least `distance`; each unit costs `weight`."""

    first: str
    second: str
    distance: int
    weight: int = 0


def least_total(arcs: Iterable[Arc]) -> Mapping[str, int]:
    """
    The places of least total, the leftmost at 0.

    Args:
        arcs: They must join all places, and the weights must keep each place from running away.

    Raises:
        networkx.NetworkXException: the distances contradict each other, or nothing holds a place.

    Example:
        >>> least_total([Arc("a", "b", 2, 1), Arc("a", "c", 5, 1), Arc("b", "c", 1, 3)])
        {'a': 0, 'b': 4, 'c': 5}
    """
    return _least_total(tuple(arcs))


@lru_cache(maxsize=KEPT)
def _least_total(arcs: tuple[Arc, ...]) -> Mapping[str, int]:
    network = networkx.MultiDiGraph()
    demand: dict[str, int] = defaultdict(int)
    for number, arc in enumerate(arcs):
        network.add_edge(arc.first, arc.second, number, weight=-arc.distance)
        demand[arc.second] += arc.weight
        demand[arc.first] -= arc.weight
    networkx.set_node_attributes(network, demand, "demand")
    _, flow = networkx.network_simplex(network)
    bounds = []
    for number, arc in enumerate(arcs):
        bounds.append((arc.first, arc.second, arc.distance))
        if flow[arc.first][arc.second][number] > 0:
            bounds.append((arc.second, arc.first, -arc.distance))
    return _potentials(dict.fromkeys(network, 0), bounds)


def _potentials(places: dict[str, int], bounds: Sequence[tuple[str, str, int]]) -> dict[str, int]:
    """The longest way to each place; arcs that carry a flow are tight, so they count both ways."""
    for _ in range(len(places) + 5):
        moved = False
        for first, second, distance in bounds:
            if places[first] + distance > places[second]:
                places[second] = places[first] + distance
                moved = True
        if not moved:
            break
    least = min(places.values(), default=0)
    return {name: place - least for name, place in places.items()}
