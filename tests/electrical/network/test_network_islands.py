"""What is joined to the reference, what is not, and what only blocking elements hold."""

import pytest
from attrs import evolve
from every_case import every_case
from hypothesis import given
from pytest import approx
from random_networks import scattered_networks

from upgrade_planner.electrical.network import (
    CurrentSink,
    Diode,
    FloatingSource,
    Lamp,
    LawPiece,
    Network,
    Regulated,
    Resistor,
    Source,
    UnusableElement,
    solve,
)

BATTERY = Source("battery", "plus", "0", 12.6, 0.01, 0.02)
ALTERNATOR = Regulated("alternator", "output", "case", "output", "case", 14.2, 0.01, 55.0)


def network(*elements):
    return Network("0", elements)


class TestUnconnected:
    def test_open_switch_leaves_what_is_behind_it_unconnected(self):
        """The lamp's ground is open too, so that nothing holds it; it is reported, no error."""
        solution = solve(network(BATTERY, Lamp("lamp", "feed", "socket", 21.0, 12.0)))
        assert solution.unconnected == {"feed", "socket"}
        assert set(solution.voltage_v) == {"0", "plus"}
        assert solution.current_a["lamp"] == 0.0
        assert solution.piece["lamp"] is LawPiece.COLD
        assert solution.across_v("feed", "plus") is None

    def test_blocking_diode_is_a_path_all_the_same(self):
        solution = solve(network(BATTERY, Diode("diode", "far", "plus", 0.7, 0.05)))
        assert solution.unconnected == frozenset()

    def test_source_without_reference_is_named_with_its_nodes(self):
        spare = Source("spare battery", "a", "b", 12.6, 0.01, 0.02)
        load = Resistor("load", "b", "c", 1.0)
        with pytest.raises(FloatingSource, match="no path to the reference from b, c, a") as caught:
            network(BATTERY, spare, load)
        assert caught.value.names == ("spare battery",)
        assert caught.value.nodes == ("b", "c", "a")

    def test_generator_without_reference_is_named_unless_it_stands_still(self):
        with pytest.raises(FloatingSource, match="alternator"):
            network(BATTERY, ALTERNATOR)
        standing = network(BATTERY, evolve(ALTERNATOR, limit_a=0.0))
        assert solve(standing).unconnected == {"output", "case"}

    def test_reference_alone_is_a_network(self):
        solution = solve(network())
        assert solution.voltage_v == {"0": 0.0}
        assert solution.residual_a == 0.0

    def test_open_sensing_lead_reads_zero_and_drives_to_the_limit(self):
        generator = Regulated("alternator", "plus", "0", "sense", "0", 14.2, 0.01, 30.0)
        solution = solve(network(BATTERY, generator))
        assert solution.unconnected == {"sense"}
        assert solution.piece["alternator"] is LawPiece.AT_LIMIT
        assert solution.current_a["alternator"] == -30.0

    @given(scattered_networks())
    def test_scattered_parts_have_voltages_if_and_only_if_they_are_joined(self, scattered):
        if scattered is None:
            return
        joined = {"0"}
        for _ in scattered.elements:
            for element in scattered.elements:
                if joined & set(element.ends):
                    joined |= set(element.ends)
        solution = solve(scattered)
        assert set(solution.voltage_v) == joined
        assert solution.unconnected == set(scattered.nodes) - joined


class TestLoose:
    def test_behind_a_blocking_diode_a_meter_reads_zero(self):
        solution = solve(network(BATTERY, Diode("diode", "far", "plus", 0.7, 0.05)))
        assert solution.loose == ("far",)
        assert solution.voltage_v["far"] == approx(0.0, abs=1e-6)

    def test_at_an_open_end_fed_by_a_diode_a_meter_reads_the_feed_less_the_diode(self):
        solution = solve(network(BATTERY, Diode("diode", "plus", "far", 0.7, 0.05)))
        assert solution.loose == ("far",)
        assert solution.voltage_v["far"] == approx(12.6 - 0.7, abs=1e-6)
        assert solution.current_a["diode"] == approx(0.0, abs=1e-9)

    def test_dead_constant_current_load_reads_zero(self):
        """Its law allows any voltage below zero; the meter allows one."""
        sink = CurrentSink("unit", "feed", "0", 5.0, 0.5)
        wire = Resistor("wire", "feed", "contact", 0.02)
        solution = solve(network(BATTERY, sink, wire), guess={"feed": -7.0, "contact": 3.0})
        assert set(solution.loose) == {"feed", "contact"}
        assert solution.voltage_v["contact"] == approx(0.0, abs=1e-6)

    @every_case("guess_v", [None, -15.4, 0.0, 30.0])
    def test_guess_at_the_kink_of_a_blocking_diode_leaves_no_trace(self, guess_v):
        """At the guess of -15.4 V the diode is about to conduct; nothing needs it to."""
        low = Source("low", "0", "n", 14.7, 0.01, 0.02)
        diode = Diode("diode", "n", "far", 0.7, 0.1)
        guess = None if guess_v is None else {"n": -14.7, "far": guess_v}
        solution = solve(network(low, diode), guess)
        assert solution.voltage_v["far"] == approx(0.0, abs=1e-6)

    def test_resistor_to_the_reference_holds_a_node(self):
        leak = Resistor("meter", "far", "0", 1e7)
        diode = Diode("diode", "plus", "far", 0.7, 0.05)
        solution = solve(network(BATTERY, diode, leak))
        assert solution.loose == ()
        assert solution.voltage_v["far"] == approx(11.9, abs=1e-6)


class TestRefusedNetworks:
    def test_two_elements_of_one_name(self):
        with pytest.raises(UnusableElement, match="wire: found 2 elements"):
            network(Resistor("wire", "a", "0", 1.0), Resistor("wire", "b", "0", 1.0))

    def test_element_from_a_node_to_itself(self):
        with pytest.raises(UnusableElement, match="strap: found both ends at a"):
            network(Resistor("strap", "a", "a", 1.0))
