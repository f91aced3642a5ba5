"""A lamp terminal that only a diode follows still stands at the machine's voltage."""

import pytest
from attrs import evolve
from every_case import every_case

from upgrade_planner.electrical.network.varying import Variations
from upgrade_planner.electrical.operating_points import operating_point
from upgrade_planner.electrical.states import IDLING, LOADED
from upgrade_planner.readings.points import ReadingPoint, placed

LAMP_TERMINAL = ReadingPoint(
    id="lamp-terminal-running",
    state="idling",
    live_side=("alternator.lamp",),
    ground_side=("battery.grounded",),
)

GROUND_PATH = ReadingPoint(
    id="alternator-ground-path",
    state="loaded",
    live_side=("battery.grounded",),
    ground_side=("alternator.case",),
)


def reading(configuration):
    at = placed(LAMP_TERMINAL, configuration)
    return at.value_v(operating_point(configuration, IDLING).solution)


def test_reading_is_that_of_the_machine_with_and_without_a_diode(load):
    with_diode, without = load("van_discharge_unit"), load("van_upgraded")
    assert 13.9 < reading(without) < 14.5
    assert abs(reading(with_diode) - reading(without)) < 0.1


@every_case("stray_v", [-1e-13, 0.0, 1e-13])
def test_rounding_at_the_set_point_does_not_decide_whether_a_machine_feeds_the_meter(load, stray_v):
    configuration = load("rear_alternator")
    at = placed(GROUND_PATH, configuration)
    variations = Variations(operating_point(configuration, LOADED).solution)
    machine = variations.element("alternator:lamp terminal")
    found = variations.solved({"alternator:case on engine": None})
    assert "alternator.case" in found.loose
    held_v = found.voltage_v["alternator.lamp"] - machine.set_point_v
    volts = {**found.voltage_v, "alternator.case": held_v + stray_v}
    assert at.value_v(evolve(found, voltage_v=volts)) == pytest.approx(-held_v, abs=1e-6)


def test_a_machine_held_off_far_above_its_set_point_does_not_feed_the_meter(load):
    configuration = load("rear_alternator")
    at = placed(GROUND_PATH, configuration)
    variations = Variations(operating_point(configuration, LOADED).solution)
    found = variations.solved({"alternator:case on engine": None})
    volts = {**found.voltage_v, "alternator.case": -3.0}
    assert at.value_v(evolve(found, voltage_v=volts)) == 0.0
