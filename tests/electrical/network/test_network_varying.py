"""Networks that differ from a solved one in few elements."""

import pytest
from attrs import evolve
from hypothesis import assume, given
from hypothesis import strategies as st
from random_networks import grounded_networks
from varied_networks import differences, in_full

from upgrade_planner.electrical.network import (
    CurrentSink,
    Lamp,
    Network,
    NotSolved,
    PowerSink,
    Resistor,
    Source,
    solve,
    varying,
)
from upgrade_planner.electrical.network.condensed import Watched
from upgrade_planner.electrical.network.varying import Variations
from upgrade_planner.electrical.operating_points import operating_points
from upgrade_planner.electrical.sizing import load_sized

BATTERY = Source("battery", "live", "ground", 12.6, 0.01, 0.02)
FEED = Resistor("feed", "live", "lamp", 0.02)
LAMP = Lamp("lamp", "lamp", "ground", 55.0, 12.0)
UNIT = CurrentSink("unit", "lamp", "ground", 3.0, 6.0)


def varied(*elements):
    return Variations(solve(Network("ground", (BATTERY, FEED, *elements))))


@pytest.mark.parametrize("name", ["tractor_upgraded", "six_volt_tractor_original"])
def test_near_and_full_solution_agree(name):
    """An alternator that senses afar; a dynamo, and loads that hang loose."""
    assert list(differences(name)) == []


def test_bad_joint_takes_no_full_solution(monkeypatch):
    variations = varied(LAMP, UNIT)
    monkeypatch.setattr(varying, "solution_of", None)
    found = variations.solved({"feed": Resistor("feed", "live", "lamp", 0.12)})
    assert found.voltage_v["lamp"] < variations.base.voltage_v["lamp"] - 0.5
    assert found.residual_a < 1e-6


def test_open_feed_leaves_the_lamp_dark_without_full_solution(monkeypatch):
    variations = varied(LAMP, UNIT)
    monkeypatch.setattr(varying, "solution_of", None)
    found = variations.solved({"feed": None})
    assert found.voltage_v["lamp"] == pytest.approx(0.0, abs=1e-6)
    assert "feed" not in found.current_a


def test_falling_laws_are_solved_in_full():
    variations = varied(PowerSink("heater", "lamp", "ground", 100.0, 12.0, 6.0))
    assert variations.near({"feed": Resistor("feed", "live", "lamp", 0.12)}) is None


def test_element_that_alone_holds_a_node_is_taken_out_in_full():
    variations = varied(LAMP, Resistor("spur", "lamp", "end", 0.02))
    assert variations.near({"spur": None}) is None
    assert "end" not in variations.solved({"spur": None}).voltage_v


def test_source_that_loses_its_way_stands_still():
    second = Source("second", "far", "far ground", 12.6, 0.01, 0.02)
    spur = Resistor("spur", "lamp", "far", 0.02)
    found = varied(LAMP, second, spur).solved({"spur": None})
    assert "second" not in found.current_a


def test_solution_that_does_not_balance_is_never_taken():
    # the starter hangs in the air: from the base 130 A were found in it, and 510 A nowhere
    (found_car,) = load_sized("saloon_as_found")
    variations = Variations(operating_points(found_car)["cranking"].solution)
    opened = {"starter:case on engine": None}
    near = variations.near(opened)
    assert near is None or near.residual_a < 1e-6
    found = variations.solved(opened)
    assert found.residual_a < 1e-6
    assert found.sum_a(["starter"]) == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("name", ["van_upgraded", "pickup_upgraded", "tractor_upgraded"])
def test_machine_that_has_lost_all_that_took_its_current_has_no_solution(name, monkeypatch):
    """Told without a search, which ends the same but takes long."""
    (configuration,) = load_sized(name)
    variations = Variations(operating_points(configuration)["idling"].solution)
    opened = {"wire charge-output": None}
    assert in_full(variations.base, opened) is None
    searched = variations.searched
    monkeypatch.setattr(
        variations, "searched", lambda changed: len(changed) > 1 and searched(changed)
    )
    assert variations.solved(opened) is None


def test_what_hangs_on_loose_nodes_is_loose_with_them():
    # lamp and diode behind the fuse that is taken out: all of it hangs on a diode that blocks
    (launch,) = load_sized("launch_complete")
    variations = Variations(operating_points(launch)["key_on"].solution)
    opened = {"indicator_fuse": None}
    found, full = variations.solved(opened), in_full(variations.base, opened)
    assert set(found.loose) == set(full.loose)
    assert {"charge_lamp.supply", "charge_lamp.return"} <= set(found.loose)


class TestCondensed:
    SPUR = Resistor("spur", "lamp", "end", 0.02)
    SECOND = Resistor("second", "joint", "lamp", 0.03)

    def seen(self, *nodes, names=()):
        feed = Resistor("feed", "live", "joint", 0.02)
        network = Network("ground", (BATTERY, feed, self.SECOND, self.SPUR, LAMP, UNIT))
        return Watched(solve(network), nodes, names)

    def test_resistances_in_a_row_are_one(self):
        assert {e.name for e in self.seen().network.elements} == {"battery", "feed", "lamp", "unit"}
        assert self.seen().seen_as("second") == self.seen().seen_as("feed") == "feed"

    def test_what_carries_nothing_is_left_out_unless_it_is_looked_at(self):
        assert self.seen().seen_as("spur") == ""
        assert self.seen("end").seen_as("spur") == "spur"

    def test_element_whose_current_matters_stays(self):
        assert self.seen(names=["second"]).seen_as("second") == "second"

    def test_change_of_what_is_left_out_is_not_felt(self):
        seen = self.seen()
        assert seen.solved({"spur": None}) is seen.base

    def test_voltages_are_those_of_the_whole_network(self):
        seen = self.seen("lamp")
        bad = {"second": evolve(self.SECOND, resistance_ohm=0.13)}
        full = Variations(seen.base).solved(bad)
        assert seen.solved(bad).voltage_v["lamp"] == pytest.approx(full.voltage_v["lamp"], abs=1e-9)
        assert seen.solved({"second": None}).voltage_v["lamp"] == pytest.approx(0.0, abs=1e-6)

    @given(grounded_networks(most_remote=1), st.data())
    def test_any_resistor_may_be_taken_out_or_be_bad(self, network, data):
        try:
            base = solve(network)
        except NotSolved:
            assume(False)
        resistors = [e for e in network.elements if isinstance(e, Resistor)]
        assume(resistors)
        one = data.draw(st.sampled_from(resistors))
        nodes = data.draw(st.sets(st.sampled_from(network.nodes)))
        seen, whole = Watched(base, nodes), Variations(base)
        for after in (None, evolve(one, resistance_ohm=one.resistance_ohm + 0.1)):
            found, full = seen.solved({one.name: after}), whole.solved({one.name: after})
            assert (found is None) == (full is None)
            for node in nodes if found is not None else ():
                assert (node in found.voltage_v) == (node in full.voltage_v)
                assert (node in found.loose) == (node in full.loose)
                if node in found.voltage_v and node not in found.loose:
                    volts = full.voltage_v[node]
                    assert found.voltage_v[node] == pytest.approx(volts, abs=1e-6)
