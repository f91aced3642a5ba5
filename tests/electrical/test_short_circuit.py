"""Dead shorts: each is solved in the part of the wiring that its current can reach."""

import pytest

from upgrade_planner.configuration.kinds import Family
from upgrade_planner.electrical import shorts
from upgrade_planner.electrical.branches import Guard
from upgrade_planner.electrical.circuit import wire_name
from upgrade_planner.electrical.models.context import metal_node, node_of
from upgrade_planner.electrical.network import Network, Resistor, solve
from upgrade_planner.electrical.network.solving import solution_of
from upgrade_planner.electrical.short_circuit import ends_surely, fault_at, feeds
from upgrade_planner.electrical.shorts import FAULT_OHM
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

    def counted(equations):
        sizes.append(len(equations.network.elements))
        return solution_of(equations)

    shorts.network_of_shorts.cache_clear()
    monkeypatch.setattr(shorts, "solution_of", counted)
    found = [fault_at(feed, {}) for feed in feeds(configuration)]
    assert len(sizes) == len({(id(f.feed.shorts), node_of(f.feed.far)) for f in found})
    assert sum(sizes) / len(sizes) < 0.5 * len(found[0].feed.ways.elements)


def test_one_network_serves_the_shorts_that_the_same_contacts_feed():
    (configuration,) = load_sized("van_upgraded")
    shorts.network_of_shorts.cache_clear()
    found = [fault_at(feed, {}) for feed in feeds(configuration)]
    assert shorts.network_of_shorts.cache_info().misses < 0.6 * len(found)


@pytest.mark.parametrize("name", ["van_upgraded", "saloon_as_found", "tractor_original"])
def test_what_is_surely_ended_in_time_is_so_by_the_balance_of_heat_too(name):
    (configuration,) = load_sized(name)
    found = [fault_at(feed, {}) for feed in feeds(configuration)]
    ended = [fault for fault in found if fault.is_surely_ended]
    assert ended
    assert all(fault.most_s <= fault.stands.time_s for fault in ended)


@pytest.mark.parametrize(
    "name", ["van_upgraded", "van_as_found", "launch_complete", "pickup_guarded", "rear_upgraded"]
)
def test_what_ends_in_time_by_bounds_does_so_when_it_is_solved(name):
    (configuration,) = load_sized(name)
    told = [feed for feed in feeds(configuration) if ends_surely(feed, {})]
    faults = [fault_at(feed, {}) for feed in told]
    assert faults
    assert all(fault.is_surely_ended for fault in faults)
    for feed, fault in zip(told, faults, strict=True):
        least_a = feed.shorts.least_a([*(b.name for b in feed.way), wire_name(feed.wire.id)])
        assert 0 < least_a <= fault.current_a + feed.shorts.drawn_a + ALIKE_A


def test_few_shorts_are_left_to_be_solved():
    (configuration,) = load_sized("van_upgraded")
    guarded = [feed for feed in feeds(configuration) if feed.guard]
    assert sum(ends_surely(feed, {}) for feed in guarded) > 0.5 * len(guarded)


@pytest.mark.parametrize("name", ["roadster_boot_battery", "van_original_resistance"])
def test_nothing_is_sure_of_two_batteries_or_behind_a_resistance(name):
    (configuration,) = load_sized(name)
    for feed in feeds(configuration):
        two = len(configuration.parts_of(Family.BATTERY)) > 1
        if two or any(branch.guard is Guard.LOAD for branch in feed.way):
            assert not ends_surely(feed, {})
