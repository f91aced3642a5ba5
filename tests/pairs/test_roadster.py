"""The roadster: two batteries to one, ground turned round, tachometer, fuel pump."""

import pytest
from every_case import every_case
from pair_facts import assert_fates, codes, found, part_fates, points, serious, sized, wire_fates

from upgrade_planner.configuration.model import TerminalRef

ORIGINAL = "roadster_original"
TARGETS = (
    "roadster_boot_battery",
    "roadster_alternator",
    "roadster_trigger",
    "roadster_pump_cut_off",
)
AS_BUILT = {"STA-INTERLOCK", "FUEL-RUNS"}
"""Such cars never had an interlock, nor a pump that stops with the engine; who wants them orders
the job that brings them."""


@every_case("name", TARGETS)
def test_targets_have_no_more_than_the_car_was_built_with(name):
    assert serious(name) <= AS_BUILT


def test_the_whole_job_leaves_nothing():
    assert serious("roadster_trigger") == set()


def test_pump_cut_off_cures_the_pump():
    assert "FUEL-RUNS" in codes(ORIGINAL)
    assert "FUEL-RUNS" not in codes("roadster_pump_cut_off")


def test_as_built_lamps_and_ignition_have_no_fuse():
    (unguarded,) = [f for f in found(ORIGINAL) if f.code == "PROT-NONE"]
    assert {"head-switch", "low-beam", "ignition-feed", "fuel-pump-feed"} <= set(unguarded.where)


def test_two_batteries_make_twelve_volts():
    assert 12.0 < points(ORIGINAL)["off"].battery_v < 12.7
    assert {b.role for b in sized(ORIGINAL).components if b.kind == "battery"} == {
        "battery",
        "battery_second",
    }


def test_one_battery_in_the_boot():
    after = "roadster_boot_battery"
    assert_fates(
        part_fates(ORIGINAL, after),
        {
            "battery": "replace",
            "battery_second": "remove",
            "rear_ground": "relocate",
            "dynamo": "keep",
            "series_tachometer": "keep",
        },
    )
    assert_fates(
        wire_fates(ORIGINAL, after),
        {
            "battery-link": "remove",
            "starter-cable": "resize",
            "engine-strap": "resize",
            "starter-motor-cable": "resize",
            "dynamo-output": "keep",
            "side-lamps": "move",
            "side-fuse-in": "add",
            "main-link": "add",
        },
    )


def test_longer_cable_loses_no_more_because_it_is_heavier():
    before, after = sized(ORIGINAL), sized("roadster_boot_battery")
    assert after.runs["starter-cable"].length_m > before.runs["starter-cable"].length_m + 0.5

    def lost(name):
        point = points(name)["cranking"]
        return point.battery_v - point.live_v(TerminalRef("starter", "battery"))

    assert lost("roadster_boot_battery") < lost(ORIGINAL) + 0.05


def test_alternator_turns_the_ground_round():
    after = "roadster_alternator"
    assert sized(after).vehicle.ground == "negative"
    assert_fates(
        part_fates(ORIGINAL, after),
        {
            "battery": "convert",
            "battery_second": "convert",
            "alternator": "add",
            "dynamo": "remove",
            "regulator": "remove",
            "series_tachometer": "replace",
            "fuel_pump": "replace",
            "heater_blower": "keep",
            "wiper_motor": "keep",
            "headlamp_left_low": "keep",
            "distributor": "keep",
        },
    )
    assert_fates(
        wire_fates(ORIGINAL, after),
        {
            "battery-ground": "move",
            "starter-cable": "move",
            "points-lead": "move",
            "dynamo-output": "cap off",
            "field": "cap off",
            "regulator-ground": "remove",
            "charge-lamp": "add cap off",
            "high-beam": "keep",
            "engine-strap": "keep",
        },
    )


def test_trigger_module_wants_another_tachometer():
    after = "roadster_trigger"
    assert_fates(
        part_fates(ORIGINAL, after),
        {
            "series_tachometer": "remove",
            "tachometer": "add",
            "distributor": "rebuild",
            "coil": "keep",
            "start_interlock": "add",
        },
    )
    assert_fates(
        wire_fates(ORIGINAL, after),
        {
            "tachometer-feed": "remove",
            "tachometer": "add",
            "module-supply": "add",
            "tachometer-supply": "move",
        },
    )


@every_case("name", ["roadster_original", "roadster_alternator"])
def test_all_coil_current_passes_the_tachometer(name):
    point = points(name)["key_on"]
    coil = abs(point.wire_current_a("ignition-feed"))
    assert coil > 3
    assert abs(point.wire_current_a("tachometer-feed")) == pytest.approx(coil, abs=0.01)


def test_cut_off_keeps_pump_current_out_of_the_tachometer():
    """The relay's coil is fed from the key switch, not from behind the tachometer."""
    point = points("roadster_pump_cut_off")["idling"]
    assert abs(point.element_current_a("fuel_pump:supply")) > 1
    through = abs(point.wire_current_a("tachometer-feed"))
    assert through == pytest.approx(abs(point.wire_current_a("ignition-feed")), abs=0.01)


def test_pump_runs_with_the_key_as_built_and_with_the_engine_after():
    def runs(name, state):
        return abs(points(name)[state].element_current_a("fuel_pump:supply")) > 1

    assert runs(ORIGINAL, "key_on")
    assert not runs("roadster_pump_cut_off", "key_on")
    assert runs("roadster_pump_cut_off", "cranking")
    assert runs("roadster_pump_cut_off", "idling")
