"""One fault at a time: which reading it moves, and who is named for it."""

import pytest
from every_case import every_case
from pair_facts import planned
from shipped_pairs import SHIPPED_PAIRS

from upgrade_planner.electrical.network.condensed import Watched
from upgrade_planner.readings import defects
from upgrade_planner.readings.defects import BAD_CABLE_JOINT_OHM, defects_of, moves
from upgrade_planner.readings.points import placed
from upgrade_planner.readings.predicting import points_for, predicted
from upgrade_planner.readings.suspecting import suspects
from upgrade_planner.readings.watching import seen_by

CONFIGURATIONS = sorted({name for pair in SHIPPED_PAIRS for name in pair})


def examined(readings, configuration):
    """Ranges and values under faults."""
    points = points_for(readings, configuration)
    return predicted(readings, configuration, points), moves(readings, configuration, points)


def value_under(moved, name, wire, *, is_open):
    """The only value of a reading under one fault of a wire."""
    found = [
        value
        for fault, value in moved[name].items()
        if fault.wire == wire and (fault.added_ohm is None) == is_open
    ]
    assert len(found) == 1
    return found[0]


class TestOpenFeed:
    @pytest.fixture
    def seen(self, load, reading):
        supply = reading("key_on", "distributor.supply", "metal.engine")
        return examined([supply], load("van_upgraded"))

    def test_takes_the_supply_to_zero(self, seen):
        assert value_under(seen[1], "reading", "ignition-feed", is_open=True) == pytest.approx(
            0, abs=0.01
        )

    def test_is_named(self, seen):
        named = suspects("reading", *seen, most=10)
        assert "ignition-feed" in {s.wire for s in named if s.direction == "low" and s.is_open}


class TestEngineGround:
    @pytest.fixture
    def seen(self, load, reading):
        drop = reading("cranking", "starter.case", "battery.grounded")
        return examined([drop], load("van_upgraded"))

    def test_more_resistance_raises_the_drop(self, seen):
        ranges, moved = seen
        raised_v = value_under(moved, "reading", "battery-ground", is_open=False)
        assert raised_v > ranges["reading"].high_v
        # 139 A through the cable, 5 mΩ more
        assert raised_v - ranges["reading"].nominal_v < 160 * BAD_CABLE_JOINT_OHM

    def test_is_named_high(self, seen):
        named = suspects("reading", *seen)
        assert "battery-ground" in {s.wire for s in named if s.direction == "high" and s.is_joint}


def test_a_fault_that_stops_the_cranking_is_no_cranking_reading(load, reading):
    battery = reading("cranking", "battery.live", "battery.grounded")
    _, moved = examined([battery], load("van_upgraded"))
    assert not any(f.wire == "starter-cable" and f.added_ohm is None for f in moved["reading"])


def test_open_sensing_wire_shows_at_its_own_terminal(load, reading):
    drop = reading("loaded", "main_junction.stud", "alternator.sense")
    named = suspects("reading", *examined([drop], load("van_upgraded")))
    assert {s.direction for s in named} == {"high"}
    assert "sensing" in {s.wire for s in named}


def test_machine_without_ground_delivers_nothing(load, reading):
    battery = reading("loaded", "battery.live", "battery.grounded")
    _, moved = examined([battery], load("van_upgraded"))
    lost = [
        v for f, v in moved["reading"].items() if f.part == "alternator" and f.added_ohm is None
    ]
    assert lost
    assert lost[0] < 12.6


@every_case("name", CONFIGURATIONS)
def test_every_wire_is_broken_once_and_worsened_once(load, name, reading):
    battery = reading("cranking", "battery.live", "battery.grounded")
    faults = defects_of(load(name), points_for([battery], load(name)))
    wires = [fault.wire for fault in faults if fault.wire]
    assert sorted(wires) == sorted([wire.id for wire in load(name).wires] * 2)


def test_suspects_lie_outside_the_range_on_their_side(pair):
    for expectation in pair.expected.values():
        expected = expectation.after.expected
        for suspect in expectation.suspects:
            if suspect.direction == "low":
                assert suspect.moved_to_v < expected.low_v
            else:
                assert suspect.moved_to_v > expected.high_v


def test_at_most_two_suspects_each_way(pair):
    for expectation in pair.expected.values():
        ways = [suspect.direction for suspect in expectation.suspects]
        assert ways.count("low") <= 2
        assert ways.count("high") <= 2


def test_rounding_in_a_starter_at_rest_hides_no_defect():
    """While the engine runs, a broken charge wire is the first to look at for too little charge."""
    expected = planned("saloon_original", "saloon_negative_alternator").expected
    suspected = expected["charging-idling"].suspects
    assert next(one.wire for one in suspected if one.direction == "low") == "charge-output"
    grounds = [one.part for one in expected["lamp-terminal-running"].suspects]
    assert grounds[0] == "alternator"


def test_suspects_are_the_same_on_positive_ground(load, mirror, reading):
    supply = reading("loaded", "distributor.supply", "metal.engine")
    here = suspects("reading", *examined([supply], load("van_upgraded")))
    there = suspects("reading", *examined([supply], mirror(load("van_upgraded"))))
    assert [(s.direction, s.wire, s.part) for s in here] == [
        (s.direction, s.wire, s.part) for s in there
    ]
    assert placed(supply, load("van_upgraded")) is not None


def seen_with_all_nodes(readings, point):
    """An operating point in which nothing is left out and nothing put into a row."""
    seen = Watched(point.solution, point.solution.network.nodes)
    seen.nodes = seen_by(readings, point).nodes
    return seen


@pytest.mark.parametrize(
    "names",
    [
        ("van_original_resistance", "van_upgraded"),
        ("saloon_original", "saloon_negative_alternator"),
    ],
)
def test_defects_in_a_row_are_one_to_what_is_watched(monkeypatch, names):
    """Each solved for itself, in a network with all nodes, they move every reading as far."""
    plan = planned(*names)
    readings, wiring = (
        [expected.point for expected in plan.expected.values()],
        plan.comparison.after,
    )
    points = points_for(readings, wiring)
    shared = moves(readings, wiring, points)
    monkeypatch.setattr(defects, "seen_by", seen_with_all_nodes)
    monkeypatch.setattr(defects, "_moves_in", defects._moves_in.__wrapped__)  # nothing kept
    alone = moves(readings, wiring, points)
    assert shared.keys() == alone.keys()
    for name, values in alone.items():
        assert list(shared[name]) == list(values)
        assert shared[name] == pytest.approx(values, abs=1e-6)
