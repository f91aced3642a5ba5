"""The pickup: what a restorer expects of each ready job, and of the pickup as it was found."""

from every_case import every_case
from pair_facts import found
from reviewed import (
    ADD,
    CAP_OFF,
    EXCHANGE,
    KEEP,
    MOVE,
    PART,
    REMOVE,
    RENEW,
    RESIZE,
    assert_parts,
    assert_wires,
    codes_at,
)

from upgrade_planner.checks.findings import Severity

TARGETS = [
    "pickup_guarded",
    "pickup_trigger_module",
    "pickup_upgraded",
    "pickup_ammeter_kept",
    "pickup_gear_starter",
    "pickup_lamp_relays",
]


def test_points_to_integral_coil_and_ammeter_to_voltmeter(load):
    """The ammeter's wires die in the loom; what they fed begins at links; the start stays."""
    assert_wires(
        load,
        "pickup_original",
        "pickup_upgraded",
        {
            CAP_OFF: "ignition-resistance start-bypass regulator-supply ammeter-feed ammeter-main",
            REMOVE: "points-lead field",
            ADD: "ignition-feed sensing sensing-link charge-lamp charge-lamp-supply "
            "lamp-resistance voltmeter-supply main-link main-feed cab-link horn-fuse-feed",
            RESIZE: "charge-output",
            MOVE: "cab-feed horn-feed",
            KEEP: "battery-ground engine-strap frame-strap starter-cable starter-motor-cable "
            "start-signal start-interlock key-feed low-beam horns fuel-sender",
        },
    )
    assert_parts(
        load,
        "pickup_original",
        "pickup_upgraded",
        {
            PART.REMOVE: "ammeter regulator coil",
            PART.REPLACE: "alternator distributor",
            PART.ADD: "voltmeter charge_lamp horn_fuse",
            PART.KEEP: "battery start_relay starter start_interlock radio",
        },
    )


def test_trigger_module_leaves_charging_alone(load):
    """The wire of the points serves the module; field and charging wire stay as they are."""
    assert_wires(
        load,
        "pickup_original",
        "pickup_trigger_module",
        {
            CAP_OFF: "ignition-resistance start-bypass",
            ADD: "ignition-feed module-supply main-link cab-link regulator-feed",
            MOVE: "points-lead cab-feed horn-feed regulator-supply",
            KEEP: "charge-output field start-signal starter-cable",
            RENEW: "ammeter-feed",
            RESIZE: "ammeter-main",
        },
    )
    assert_parts(
        load,
        "pickup_original",
        "pickup_trigger_module",
        {
            PART.REBUILD: "distributor",
            PART.REPLACE: "coil ammeter",
            PART.KEEP: "alternator regulator starter",
        },
    )


def test_links_alone_touch_no_ignition(load):
    """Making safe is making safe: points, resistance wire and bypass are not touched."""
    assert_wires(
        load,
        "pickup_original",
        "pickup_guarded",
        {
            KEEP: "ignition-resistance points-lead charge-output field",
            MOVE: "cab-feed horn-feed regulator-supply start-bypass",
            ADD: "main-link cab-link horn-fuse-feed regulator-feed bypass-fuse-feed",
        },
    )


def test_one_wire_alternator_with_the_ammeter_kept(load):
    """Regulator and field wire go; the ammeter's wires are renewed, nothing thin stays in use."""
    assert_wires(
        load,
        "pickup_original",
        "pickup_ammeter_kept",
        {
            REMOVE: "field points-lead",
            CAP_OFF: "regulator-supply ignition-resistance start-bypass",
            EXCHANGE: "charge-output",
            RENEW: "ammeter-feed",
            RESIZE: "ammeter-main",
            ADD: "output-link main-link ignition-feed",
            MOVE: "cab-feed",
        },
    )
    assert_parts(
        load,
        "pickup_original",
        "pickup_ammeter_kept",
        {PART.REMOVE: "regulator coil", PART.REPLACE: "ammeter alternator distributor"},
    )


def test_gear_starter_makes_the_wing_relay_a_junction(load):
    """One heavy cable moves from stud to stud; the solenoid gets a start wire of its own."""
    assert_wires(
        load,
        "pickup_upgraded",
        "pickup_gear_starter",
        {
            MOVE: "starter-motor-cable",
            RENEW: "start-signal",
            KEEP: "starter-cable main-link main-feed start-interlock ignition-feed charge-output",
        },
    )
    assert_parts(
        load,
        "pickup_upgraded",
        "pickup_gear_starter",
        {PART.REPLACE: "starter", PART.KEEP: "start_relay alternator distributor"},
    )


def test_relays_take_over_lamps_and_fan(load):
    """The old feeds of the lamps work the coils; the wires between the lamps stay."""
    assert_wires(
        load,
        "pickup_upgraded",
        "pickup_lamp_relays",
        {
            MOVE: "low-beam high-beam cab-link",
            KEEP: "low-beam-right high-beam-right head-switch lamp-switch-feed sensing-link",
            ADD: "low-beam-supply high-beam-supply lamp-relay-feed low-beam-relay-ground "
            "fan-fuse-feed fan-feed junction-strap",
        },
    )


def test_sins_of_earlier_owners_come_out(load):
    """No addition of an earlier owner stays, even under the reversible policy; straps come back."""
    assert_wires(
        load,
        "pickup_as_found",
        "pickup_upgraded",
        {
            REMOVE: "found-neutral-bridge found-ammeter-bridge found-work-lamp "
            "found-work-lamp-rear found-fan",
            ADD: "engine-strap frame-strap main-link sensing",
            RESIZE: "charge-output horn-button",
        },
    )
    assert_parts(
        load,
        "pickup_as_found",
        "pickup_upgraded",
        {PART.REMOVE: "found_lamp_switch found_work_lamp found_fan ammeter regulator"},
    )


def test_dangers_of_the_pickup_as_found():
    """Bridged interlock, lost frame strap, glowing charging wire: all three, by name."""
    dangers = codes_at(found("pickup_as_found"), Severity.DANGER)
    assert {"start_interlock", "found-neutral-bridge"} <= dangers["STA-INTERLOCK"]
    assert {"frame", "frame_ground"} <= dangers["GND-NO-PATH"]
    assert "charge-output" in dangers["DROP-HOT"]


def test_what_the_works_left_unguarded():
    """No link in the ammeter's feed, and more through connector and ammeter than they bear."""
    warnings = codes_at(found("pickup_original"), Severity.WARNING)
    assert {"ammeter-feed", "cab-feed", "key-feed", "horn-feed"} <= warnings["PROT-NONE"]
    assert "bulkhead_connector" in warnings["CHG-CAVITY"]
    assert "ammeter" in warnings["CHG-AMMETER"]


@every_case("name", TARGETS)
def test_target_is_guarded(name):
    """In a target no feed is left without link or fuse, and nothing carries more than it bears."""
    codes = {f.code for f in found(name) if f.severity in (Severity.DANGER, Severity.WARNING)}
    guarded = {"PROT-NONE", "PROT-LINK-BIG", "PROT-LATE", "PROT-OUTPUT"}
    assert not codes & (guarded | {"CHG-CAVITY", "CHG-AMMETER", "DROP-HOT"})
