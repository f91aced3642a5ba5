"""Rules on sizes, drops, fuses and links: each fires, each keeps silent; numbers behind them."""

import pytest
from every_case import every_case
from pair_facts import found
from planting import Mistake, planted, rules_of
from protection_mistakes import MISTAKES
from told_findings import told

from upgrade_planner.checks import drops, links, protection, warmth
from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Severity
from upgrade_planner.electrical.branches import Guard
from upgrade_planner.electrical.feed_ways import FeedWays
from upgrade_planner.electrical.short_circuit import fault_at, feeds

RULES = rules_of(drops, protection, links)
RULES.remove(drops.below_regulation_size)
GOOD = ["van_upgraded", "tractor_upgraded"]


def as_found(text, base, tmp_path):
    mistake = Mistake(id="here", words="", bases=(base,), as_found=text, codes=())
    return planted(mistake, base, tmp_path)


def feed_of(configuration, wire_id):
    return next(feed for feed in feeds(configuration) if feed.wire.id == wire_id)


@every_case("name", GOOD)
@every_case("rule", RULES)
def test_upgraded_configuration_keeps_the_rule_silent(load, rule, name):
    assert not list(rule(Examined(configuration=load(name))))


@every_case("name", GOOD)
def test_upgraded_configuration_raises_nothing_above_a_note(name):
    assert {finding.severity for finding in found(name)} <= {Severity.NOTE}


@every_case("name", ["van_original_resistance", "van_original_ballast", "tractor_original"])
def test_as_built_configuration_raises_no_danger(name):
    assert Severity.DANGER not in {finding.severity for finding in found(name)}


def test_far_too_hot_wire_is_a_danger(load):
    found = list(warmth.hot_wire(Examined(configuration=load("van_as_found"))))
    worst = next(f for f in found if f.where == ("charge-output",))
    assert worst.severity is Severity.DANGER
    assert "Fit" in told(worst).remedy


def test_fuse_between_strict_and_loose_limit_is_a_caution(tmp_path):
    text = """[as_found]
change_component = [{ role = "lamp_fuse", ratings = { rated_current = "20 A" } }]
"""
    examined = Examined(configuration=as_found(text, "tractor_upgraded", tmp_path))
    assert [f.severity for f in protection.fuse_too_big(examined)] == [Severity.CAUTION]


def test_fuse_in_the_charge_wire_must_bear_the_output(tmp_path):
    text = """[as_found]
change_wires = [{ id = "charge-output", to = "found_fuse.out" }]
add_wires = [
  { id = "found-piece", circuit = "charge output", from = "found_fuse.in", to = "main_junction.stud", size = "6 SAE", colour = "RD", insulation = "GXL", length = "0.15 m" },
]
[[as_found.add_component]]
role = "found_fuse"
kind = "fuse"
name = "Fuse in the charge wire, found"
place = "bulkhead_engine_side"
terminals = [
  { name = "in", label = "", connection = "stud M6" },
  { name = "out", label = "", connection = "stud M6" },
]
ratings = { rated_current = "60 A" }
"""  # noqa: E501
    examined = Examined(configuration=as_found(text, "van_upgraded", tmp_path))
    assert [f.where for f in protection.output_above_fuse(examined)] == [("found_fuse",)]


class TestFeeds:
    def test_guard_is_the_nearest_device_of_the_only_way(self, load):
        van = load("van_upgraded")
        assert feed_of(van, "low-beam").guard.name == "fuse_box:head"
        assert feed_of(van, "start-signal").guard.name == "wire link"
        assert feed_of(van, "charge-output").guard.name == "wire battery-link"

    def test_way_beside_a_fuse_takes_its_guard_away(self, tmp_path):
        mistake = next(item for item in MISTAKES if item.id == "fuse-bridged")
        van = planted(mistake, "van_upgraded", tmp_path)
        assert feed_of(van, "head-fused").guard.name == "wire link"

    def test_unguarded_length_counts_from_the_cranking_cable(self, load):
        tractor = load("tractor_original")
        run = tractor.runs["ammeter-feed"].length_m
        assert feed_of(tractor, "ammeter-feed").unguarded_m == pytest.approx(run)

    def test_wire_behind_a_resistance_wire_is_limited_by_it(self, load):
        feed = feed_of(load("van_upgraded"), "charge-lamp")
        assert feed.last_guard.guard is Guard.LOAD
        assert feed.last_guard.limit_a == pytest.approx(12.6 / 10, rel=0.01)

    def test_returns_are_no_feeds(self, load):
        fed = {feed.wire.id for feed in feeds(load("van_upgraded"))}
        assert not fed & {"battery-ground", "body-ground", "heater-ground", "engine-strap"}

    def test_a_short_makes_live_and_ground_one(self, tmp_path):
        text = """[as_found]
add_wires = [
  { id = "found", circuit = "ground", from = "main_junction.stud", to = "body_ground.stud", size = "14 SAE", colour = "BK", insulation = "PVC", length = "0.3 m" },
]
"""  # noqa: E501
        assert FeedWays(as_found(text, "van_upgraded", tmp_path)).is_shorted


class TestFault:
    def test_current_is_the_voltage_over_the_resistances_by_hand(self, load):
        """
        Starter cable: EMF over battery, cable, fault, and the ground paths in parallel; the bare
        sum of battery, cable and fault bounds it from above.
        """
        van = load("van_upgraded")
        feed = feed_of(van, "starter-cable")
        cable_ohm = next(b.ohms for b in feed.ways.branches if b.name == "wire starter-cable")
        bound_a = 12.6 / (0.010 + cable_ohm + 1e-3)
        assert 0.8 * bound_a < fault_at(feed, {}).current_a < bound_a

    def test_far_fault_drives_less_than_a_near_one(self, load):
        van = load("van_upgraded")
        near, far = (fault_at(feed_of(van, name), {}) for name in ("low-beam", "low-beam-right"))
        assert far.current_a < near.current_a

    def test_smaller_device_opens_first(self, load):
        fault = fault_at(feed_of(load("van_upgraded"), "side-lamps"), {})
        assert fault.device.name == "fuse_box:side"
        assert fault.most_s < fault.stands.time_s
