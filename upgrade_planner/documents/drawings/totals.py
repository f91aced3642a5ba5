"""
The least total of weighted distances, exactly: the one program behind all placing.

Unknown places x; for each arc (a, b): x(b) - x(a) is at least its distance, and the sum of
weight times (x(b) - x(a)) over all arcs is as small as can be. Its dual is a flow of least cost,
which the network simplex of networkx solves in whole numbers; the places are the potentials.
Source: R. K. Ahuja, T. L. Magnanti, J. B. Orlin, Network Flows (1993), chapter 9 (from memory).
"""

from collections import defaultdict
from collections.abc import Sequence

import networkx

from upgrade_planner.attributes import frozen


@frozen
class Arc:
    """From `first` to `second` there is at least `distance`; each unit costs `weight`."""

    first: str
    second: str
    distance: int
    weight: int = 0


def least_total(arcs: Sequence[Arc]) -> dict[str, int]:
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
    network = networkx.MultiDiGraph()
    demand: dict[str, int] = defaultdict(int)
    for arc in arcs:
        network.add_edge(arc.first, arc.second, weight=-arc.distance)
        demand[arc.second] += arc.weight
        demand[arc.first] -= arc.weight
    networkx.set_node_attributes(network, demand, "demand")
    _, flow = networkx.network_simplex(network)
    bounds = []
    for first, second, key, data in network.edges(keys=True, data=True):
        bounds.append((first, second, -data["weight"]))
        if flow[first][second][key] > 0:
            bounds.append((second, first, data["weight"]))
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
