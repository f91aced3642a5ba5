"""A small job has the tests of what it touches, and what guards people always."""

import pytest

from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.planning.operations import Procedure
from upgrade_planner.planning.plan import plan_upgrade

TRIGGER = """[configuration]
title = "t"
summary = "s"
based_on = "saloon_original"

[systems]
ignition = "trigger_module_full_voltage"
"""
GUARDS = {
    "everything-off",
    "hold-dead",
    "compare-vehicle",
    "hold-no-short",
    "polarity",
    "test-lamp",
    "hold-test-lamp",
    "hold-before-cranking",
    "hold-stop",
    "heat",
}


@pytest.fixture(scope="module")
def small(tmp_path_factory):
    path = tmp_path_factory.mktemp("own") / "after.toml"
    path.write_text(TRIGGER, encoding="utf-8")
    return plan_upgrade(load_configuration("saloon_original"), load_configuration(str(path)))


def steps(plan):
    return {op.code for op in plan.operations if isinstance(op, Procedure)}


def test_another_ignition_asks_for_no_test_of_charging_and_starting(small):
    gone = {"crank", "ignition-off", "ignition-on", "cut-out-opens", "control-box-ground"}
    assert not gone & steps(small)
    assert {reading.group for reading in small.readings} == {"key-on", "running"}
    gone = {"dynamo-voltage", "output-drop", "starter-live-path", "body-ground-loaded"}
    assert not gone & {reading.id for reading in small.readings}
    assert "dynamo-field" not in {hazard.id for hazard in small.hazards}


def test_what_guards_people_stands_on_every_sheet(small):
    assert steps(small) >= GUARDS
    assert {"key-off-coasting", "key-off-ignition", "unit-supply", "junction-key-on"} <= {
        reading.id for reading in small.readings
    }
    assert {"battery-gas", "battery-short", "petrol", "exhaust", "engine-starts"} <= {
        hazard.id for hazard in small.hazards
    }


def test_the_starter_is_tried_where_a_wire_comes_to_its_stud(tmp_path):
    path = tmp_path / "after.toml"
    wire = (
        '[changes]\nadd_wires = [{ id = "more", circuit = "accessory", from = "starter.battery", '
        'to = "fuse_block.battery_supply", size = "4 mm²", colour = "OG", insulation = "PVC", '
        'length = "1 m" }]\n'
    )
    path.write_text(TRIGGER + wire, encoding="utf-8")
    plan = plan_upgrade(load_configuration("saloon_original"), load_configuration(str(path)))
    assert "crank" in steps(plan)
    assert "starter-live-path" in {reading.id for reading in plan.readings}
    assert "cut-out-opens" not in steps(plan)
