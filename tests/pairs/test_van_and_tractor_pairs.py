"""Second jobs on the upgraded van, and the jobs of the fifties tractor."""

from every_case import every_case
from pair_facts import (
    assert_fates,
    codes,
    found,
    lost_v,
    part_fates,
    points,
    serious,
    sized,
    wire_fates,
)

from upgrade_planner.configuration.model import TerminalRef

UPGRADED = "van_upgraded"
SECOND_JOBS = (
    "van_headlamp_relays",
    "van_electric_fan",
    "van_fuel_pump",
    "van_isolator",
    "van_voltmeter",
)


@every_case("name", [*SECOND_JOBS, "tractor_isolator", "tractor_trigger_module"])
def test_targets_are_clean(name):
    assert serious(name) == set()


@every_case("after", SECOND_JOBS)
def test_second_jobs_leave_ignition_and_charging_alone(after):
    assert_fates(
        part_fates(UPGRADED, after),
        {"distributor": "keep", "alternator": "keep", "starter": "keep", "battery": "keep"},
    )
    assert_fates(
        wire_fates(UPGRADED, after),
        {
            "ignition-feed": "keep",
            "charge-output": "keep",
            "charge-lamp": "keep",
            "main-feed": "keep",
            "starter-cable": "keep",
        },
    )


def test_headlamp_relays_move_two_wires_and_light_the_lamps_better():
    after = "van_headlamp_relays"
    assert_fates(
        wire_fates(UPGRADED, after),
        {
            "low-beam": "move",
            "high-beam": "move",
            "head-fused": "keep",
            "low-beam-right": "keep",
            "low-beam-supply": "add",
            "stud-strap": "add",
            "sensing-link": "move",
        },
    )
    way = ("main_junction.stud", "headlamp_right_low.supply")
    assert lost_v(after, *way) < 2 / 3 * lost_v(UPGRADED, *way)


def test_main_junction_takes_four_rings_and_no_more():
    for after in SECOND_JOBS:
        assert len(sized(after).wires_at[TerminalRef("main_junction", "stud")]) <= 4


def test_isolator_has_both_wires_of_the_grounded_post_behind_it():
    after = "van_isolator"
    assert_fates(
        wire_fates(UPGRADED, after),
        {"battery-ground": "add remove", "body-ground": "move", "isolator-cable": "add"},
    )
    wires = sized(after).wires_at[TerminalRef("battery", "negative")]
    assert [wire.id for wire in wires] == ["isolator-cable"]


def test_pump_stops_with_the_engine():
    def runs(state):
        return abs(points("van_fuel_pump")[state].element_current_a("fuel_pump:supply")) > 1

    assert [s for s in points("van_fuel_pump") if runs(s)] == ["cranking", "idling", "loaded"]


def test_fan_runs_hot_and_only_hot():
    def amps(state):
        return abs(points("van_electric_fan")[state].element_current_a("fan:supply"))

    assert amps("loaded") > 8
    assert amps("idling") < 0.1


def test_voltmeter_is_two_thin_wires():
    changed = {n: f for n, f in wire_fates(UPGRADED, "van_voltmeter").items() if f != "keep"}
    assert changed == {"voltmeter-supply": "add", "voltmeter-ground": "add"}
    assert part_fates(UPGRADED, "van_voltmeter")["voltmeter"] == "add"


def test_tractor_dynamo_to_alternator():
    before, after = "tractor_dynamo", "tractor_upgraded"
    assert "PROT-NONE" in codes(before)
    assert_fates(
        part_fates(before, after),
        {
            "dynamo": "remove",
            "regulator": "remove",
            "alternator": "add",
            "coil": "remove",
            "distributor": "replace",
            "front_lamp_left": "keep",
            "horn": "keep",
        },
    )
    assert_fates(
        wire_fates(before, after),
        {
            "dynamo-output": "remove",
            "field": "remove",
            "regulator-ground": "remove",
            "charge-output": "add remove",
            "sensing": "add",
            "points-lead": "remove",
            "ammeter-main": "resize",
            "work-lamp": "keep",
            "front-lamps": "keep",
            "horn": "keep",
        },
    )


def test_two_fuses_share_the_lamps_of_the_tractor():
    """A short in the work lamp leaves the front lamps, and the other way round."""
    configuration = sized("tractor_original")
    behind = {
        role: {
            wire.other_end(TerminalRef(role, "out")).role
            for wire in configuration.wires_at[TerminalRef(role, "out")]
        }
        for role in ("lamp_fuse", "front_fuse")
    }
    assert behind == {
        "lamp_fuse": {"lamp_switch"},
        "front_fuse": {"front_lamp_switch", "horn_button"},
    }


def test_tractor_isolator():
    changed = {
        n: f for n, f in wire_fates("tractor_upgraded", "tractor_isolator").items() if f != "keep"
    }
    assert changed == {"battery-ground": "add remove", "isolator-cable": "add"}
    assert any(f.code == "ISO-RUNNING" for f in found("tractor_isolator"))
