"""Places of least total: against a general solver of flows, and what cannot be placed."""

from collections import defaultdict
from itertools import pairwise
from random import Random

import networkx
import pytest

from upgrade_planner.documents.drawings.tight_tree import TightTree, least_places
from upgrade_planner.documents.drawings.totals import Arc, least_total


def by_flow(arcs):
    """The leftmost places of least total, by the flow of least cost that is their dual."""
    network, demand = networkx.MultiDiGraph(), defaultdict(int)
    for number, arc in enumerate(arcs):
        network.add_edge(arc.first, arc.second, number, weight=-arc.distance)
        demand[arc.second] += arc.weight
        demand[arc.first] -= arc.weight
    networkx.set_node_attributes(network, demand, "demand")
    _, flow = networkx.network_simplex(network)
    bounds = [(arc.first, arc.second, arc.distance) for arc in arcs]
    for number, arc in enumerate(arcs):
        if flow[arc.first][arc.second][number] > 0:
            bounds.append((arc.second, arc.first, -arc.distance))
    places = least_places(bounds)
    return {name: place - min(places.values()) for name, place in places.items()}


def rows_and_pieces(chance):
    """Rows of places between two borders, and pieces that join places of any rows."""
    arcs = [Arc("left", "right", 0, 4)]
    names = []
    for row in range(chance.randint(1, 5)):
        own = [f"{row}.{place}" for place in range(chance.randint(1, 6))]
        arcs += [Arc("left", own[0], 0), Arc(own[-1], "right", chance.randint(0, 9))]
        arcs += [Arc(a, b, chance.randint(0, 9)) for a, b in pairwise(own)]
        names += own
    for number in range(chance.randint(0, 20)):
        weight = chance.randint(1, 40)
        for name in chance.choices(names, k=2):
            arcs.append(Arc(f"piece {number}", name, -chance.randint(0, 9), weight))
    return arcs


@pytest.mark.parametrize("seed", range(100))
def test_places_are_those_of_a_flow_of_least_cost(seed):
    chance = Random(seed)
    arcs = rows_and_pieces(chance)
    other = [Arc(a.first, a.second, a.distance, a.weight and chance.randint(1, 40)) for a in arcs]
    both = {arc.first: arc.weight for arc in other}
    other = [Arc(a.first, a.second, a.distance, a.weight and both[a.first]) for a in other]
    for several in (arcs, other, arcs):  # what was kept of one serves the next
        assert least_total(several) == by_flow(several)


def test_order_of_arcs_does_not_matter():
    arcs = rows_and_pieces(Random(1))
    turned = list(reversed(arcs))
    assert least_total(arcs) == least_total(turned)


@pytest.mark.parametrize(
    ("arcs", "why"),
    [
        ([Arc("a", "b", 1), Arc("b", "a", 0)], "contradict"),
        ([Arc("a", "b", 1), Arc("c", "d", 1)], "do not join"),
        ([Arc("a", "b", 1, -1)], "nothing holds"),
    ],
)
def test_what_cannot_be_placed_is_refused(arcs, why):
    with pytest.raises(ValueError, match=why):
        least_total(arcs)


def test_exchanges_come_to_an_end_by_number_alone(monkeypatch):
    monkeypatch.setattr("upgrade_planner.documents.drawings.tight_tree.PATIENCE", 0)
    for seed in range(20):
        arcs = rows_and_pieces(Random(seed))
        tree = TightTree([(arc.first, arc.second, arc.distance) for arc in arcs])
        tree.pressed([arc.weight for arc in arcs])
