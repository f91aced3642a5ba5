"""Dead shorts: each is solved in the part of the wiring that its current can reach."""

import pytest

from upgrade_planner.electrical import short_circuit
from upgrade_planner.electrical.circuit import wire_name
from upgrade_planner.electrical.models.context import metal_node, node_of
from upgrade_planner.electrical.network import Network, Resistor, solve
from upgrade_planner.electrical.short_circuit import FAULT_OHM, fault_at, feeds
from upgrade_planner.electrical.sizing import load_sized

ALIKE_A = 1e-6


def in_whole_wiring(feed):
    """Currents of the fault with every element in the network."""
    ways, needed = feed.ways, {branch.name for branch in feed.way}
    closed = [contact for contact in ways.contacts if contact.name in needed]
    metal = metal_node(ways.configuration.place_of(feed.far).metal)
    back = metal if metal in ways.grounded else ways.reference
    fault = Resistor("fault", node_of(feed.far), back, FAULT_OHM)
    return solve(Network(ways.reference, (*ways.elements, *closed, fault))).current_a


@pytest.mark.parametrize("name", ["van_upgraded", "roadster_original"])
def test_currents_are_those_of_the_whole_wiring(name):
    (configuration,) = load_sized(name)
    for feed in feeds(configuration):
        whole_a = abs(in_whole_wiring(feed)[wire_name(feed.wire.id)])
        assert fault_at(feed, {}).current_a == pytest.approx(whole_a, abs=ALIKE_A)


def test_networks_of_shorts_are_less_than_half_of_the_wiring(monkeypatch):
    (configuration,) = load_sized("van_upgraded")
    sizes = []

    def counted(network):
        sizes.append(len(network.elements))
        return solve(network)

    short_circuit.currents.cache_clear()
    monkeypatch.setattr(short_circuit, "solve", counted)
    found = [fault_at(feed, {}) for feed in feeds(configuration)]
    assert len(sizes) == len(found)
    assert sum(sizes) / len(sizes) < 0.5 * len(found[0].feed.ways.elements)
