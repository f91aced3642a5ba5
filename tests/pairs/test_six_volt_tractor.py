"""The forties tractor: what a restorer expects of each ready job on it."""

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
from upgrade_planner.electrical.drop_limits import limit_for

ORIGINAL = "six_volt_tractor_original"
TWELVE = ("six_volt_tractor_twelve", "six_volt_tractor_twelve_electronic")
TARGETS = (
    "six_volt_tractor_rewired",
    "six_volt_tractor_trigger",
    "six_volt_tractor_control_box",
    *TWELVE,
    "six_volt_tractor_twelve_positive",
)


def test_the_original_has_what_such_tractors_have():
    configuration = sized(ORIGINAL)
    assert (configuration.vehicle.voltage_v, configuration.vehicle.ground) == (6.0, "positive")
    assert {"PROT-NONE", "STA-BY-HAND", "CHG-UNREGULATED"} <= codes(ORIGINAL)
    unguarded = next(f for f in found(ORIGINAL) if f.code == "PROT-NONE")
    assert unguarded.where[0] == "ammeter-feed"
    assert {"key-feed", "ignition-feed", "charge-output"} <= set(unguarded.where)


@every_case("name", TARGETS)
def test_targets_are_clean_but_still_start_in_gear(name):
    assert serious(name) == set()
    assert "STA-BY-HAND" in codes(name)


@every_case("name", TARGETS)
def test_no_cotton_or_rubber_stays(name):
    kinds = {wire.insulation.name for wire in sized(name).wires}
    assert not kinds & {"COTTON", "RUBBER"}


def test_new_loom_changes_wires_and_no_machine():
    fates = part_fates(ORIGINAL, "six_volt_tractor_rewired")
    changed = {role: fate for role, fate in fates.items() if fate != "keep"}
    assert changed == {"key_fuse": "add", "link_joint": "add", "lamp_fuse": "adjust"}
    assert "keep" not in wire_fates(ORIGINAL, "six_volt_tractor_rewired").values()


def test_trigger_for_positive_ground_leaves_coil_and_dynamo():
    after = "six_volt_tractor_trigger"
    assert_fates(
        part_fates(ORIGINAL, after),
        {"distributor": "rebuild", "coil": "keep", "dynamo": "keep", "battery": "keep"},
    )
    assert_fates(
        wire_fates(ORIGINAL, after),
        {"module-supply": "add", "points-lead": "add remove", "ignition-feed": "renew"},
    )
    distributor = sized(after).component("distributor")
    assert distributor.ratings["polarity"] == "positive ground only"


def test_control_box_takes_the_place_of_cut_out_and_field_fuse():
    after = "six_volt_tractor_control_box"
    assert_fates(
        part_fates(ORIGINAL, after),
        {"cut_out": "remove", "field_fuse": "remove", "regulator": "add", "dynamo": "replace"},
    )
    assert_fates(
        wire_fates(ORIGINAL, after),
        {"field-ground": "remove", "regulator-ground": "add", "headlamps": "renew"},
    )
    assert "CHG-UNREGULATED" not in codes(after)


@every_case("after", TWELVE)
def test_twelve_volts_negative_ground(after):
    assert (sized(after).vehicle.voltage_v, sized(after).vehicle.ground) == (12.0, "negative")
    assert_fates(
        part_fates(ORIGINAL, after),
        {
            "battery": "replace",
            "coil": "replace",
            "ammeter": "replace",
            "alternator": "add",
            "dynamo": "remove",
            "cut_out": "remove",
            "field_fuse": "remove",
            "headlamp_left": "replace",
            "headlamp_right": "replace",
            "tail_lamp": "replace",
            "gauge_dropper": "add",
            "fuel_gauge": "keep",
            "fuel_sender": "keep",
            "starter": "keep",
            "start_switch": "keep",
            "ignition_switch": "keep",
        },
    )
    assert_fates(
        wire_fates(ORIGINAL, after),
        {
            "field": "remove",
            "field-ground": "remove",
            "dynamo-output": "remove",
            "output-link": "add",
            "charge-output": "add remove",
            "link": "add",
            "gauge-dropper-feed": "add",
            "battery-ground": "add remove",
            "starter-cable": "add remove",
            "starter-motor-cable": "renew",
            "points-lead": "add remove",
            "headlamps": "renew",
            "tail-lamp": "renew",
        },
    )


def test_points_stay_or_go():
    plain, electronic = TWELVE
    assert part_fates(ORIGINAL, plain)["distributor"] == "keep"
    assert part_fates(ORIGINAL, electronic)["distributor"] == "rebuild"


def test_twelve_volts_with_positive_ground_leaves_the_posts_where_they_are():
    after = "six_volt_tractor_twelve_positive"
    assert (sized(after).vehicle.voltage_v, sized(after).vehicle.ground) == (12.0, "positive")
    assert_fates(
        part_fates(ORIGINAL, after),
        {"dynamo": "replace", "regulator": "add", "cut_out": "remove", "ammeter": "keep"},
    )
    assert_fates(
        wire_fates(ORIGINAL, after),
        {"battery-ground": "renew", "starter-cable": "renew", "points-lead": "renew"},
    )


@every_case("name", [*TWELVE, "six_volt_tractor_twelve_positive"])
def test_dropping_resistor_gives_the_gauge_its_six_volts(name):
    volts = points(name)["loaded"].live_v(TerminalRef("fuel_gauge", "supply"))
    assert 6.0 < volts < 7.5


def test_six_volt_cables_are_heavy_because_they_must_be():
    """They lose less than they may; cables of half the copper would lose more than that."""
    lost = lost_v(ORIGINAL, "battery.negative", "starter.battery", "cranking")
    current = abs(points(ORIGINAL)["cranking"].wire_current_a("starter-cable"))
    limit = limit_for("starter cable", current, 6.0).limit_v
    assert lost < limit < 2 * lost
