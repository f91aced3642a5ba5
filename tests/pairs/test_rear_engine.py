"""The small rear-engined car: alternator for dynamo, trigger module, relays for start and lamps."""

from every_case import every_case
from pair_facts import found
from reviewed import (
    ADD,
    EXCHANGE,
    KEEP,
    MOVE,
    PART,
    REMOVE,
    RENEW,
    assert_parts,
    assert_wires,
    codes_at,
)

from upgrade_planner.checks.findings import Severity

TARGETS = [
    "rear_start_relay",
    "rear_trigger_module",
    "rear_alternator",
    "rear_upgraded",
    "rear_lamp_relays",
]


def test_dynamo_to_alternator(load):
    """Wire 61 moves from the regulator to D+; the wires between dynamo and regulator come out."""
    table = {
        MOVE: "charge-lamp start-signal front-feed key-feed lamp-feed",
        REMOVE: "dynamo-output field",
        EXCHANGE: "charge-output",
        ADD: "output-link front-link start-relay-feed solenoid-feed",
        KEEP: "ignition-feed points-lead starter-cable battery-ground engine-strap "
        "charge-lamp-supply low-beam",
    }
    assert_wires(load, "rear_original", "rear_alternator", table)
    assert_parts(
        load,
        "rear_original",
        "rear_alternator",
        {
            PART.REMOVE: "dynamo regulator",
            PART.ADD: "alternator start_relay start_fuse",
            PART.KEEP: "distributor coil battery charge_lamp starter",
        },
    )


def test_trigger_module_with_the_dynamo_kept(load):
    """The points' wire serves the module; only the end of the charging wire moves, to a link."""
    assert_wires(
        load,
        "rear_original",
        "rear_trigger_module",
        {
            MOVE: "points-lead charge-output start-signal",
            ADD: "module-supply output-link",
            KEEP: "ignition-feed dynamo-output field charge-lamp",
        },
    )
    assert_parts(
        load,
        "rear_original",
        "rear_trigger_module",
        {PART.REBUILD: "distributor", PART.KEEP: "coil dynamo regulator"},
    )


def test_start_relay_uses_the_old_start_wire(load):
    """The long thin wire ends at the relay's coil; thick wires go from stud to solenoid."""
    assert_wires(
        load,
        "rear_original",
        "rear_start_relay",
        {
            MOVE: "start-signal front-feed key-feed lamp-feed charge-output",
            ADD: "start-fuse-feed start-relay-feed solenoid-feed start-relay-ground front-link",
            KEEP: "ignition-feed points-lead dynamo-output field starter-cable",
        },
    )


@every_case("after", ["rear_lamp_relays", "rear_upgraded"])
def test_lamp_relays_stand_beside_the_battery(load, after):
    """The fused lamp feeds work the coils; the relays are fed from the battery in front."""
    assert_wires(
        load,
        "rear_original",
        after,
        {
            MOVE: "low-beam high-beam",
            KEEP: "low-beam-right high-beam-right low-beam-fuse high-beam-fuse head-switch",
            ADD: "lamp-relay-feed low-beam-supply high-beam-supply",
        },
    )
    target = load(after)
    feed = target.wire_by_id["lamp-relay-feed"]
    assert {target.place_of(ref).id for ref in feed.ends} == {"front_boot"}


def test_small_car_as_found_is_put_right(load):
    """Button and fog lamps come out, the strap comes back, the bell wire does not serve again."""
    assert_wires(
        load,
        "rear_as_found",
        "rear_upgraded",
        {
            REMOVE: "found-button found-button-feed found-fog found-fog-feed",
            ADD: "engine-strap solenoid-feed start-relay-feed",
            RENEW: "start-signal",
            MOVE: "charge-lamp key-feed",
        },
    )
    assert_parts(
        load,
        "rear_as_found",
        "rear_upgraded",
        {PART.ADJUST: "fuse_box", PART.REMOVE: "found_button found_fog_lamps dynamo"},
    )


def test_dangers_of_the_small_car_as_found():
    """The engine has no way home; nothing guards button and fog lamps."""
    findings = found("rear_as_found")
    dangers = codes_at(findings, Severity.DANGER)
    assert "engine" in dangers["GND-NO-PATH"]
    assert "found-button-feed" in dangers["PROT-NONE"]
    warnings = codes_at(findings, Severity.WARNING)
    assert "found-fog-feed" in warnings["PROT-NONE"]
    assert "fuse_box:wiper" in warnings["PROT-FUSE-BIG"]


def test_start_relay_relieves_the_key(load):
    """What the key passes while cranking falls to a third and less."""
    from upgrade_planner.electrical.operating_points import operating_points

    def start_wire_a(name):
        points = operating_points(load(name))
        return abs(points["cranking"].wire_current_a("start-signal"))

    assert start_wire_a("rear_start_relay") < start_wire_a("rear_original") / 3


def test_what_the_works_left_unguarded():
    """Front feed, key and charging wire have neither fuse nor link."""
    warnings = codes_at(found("rear_original"), Severity.WARNING)
    assert {"front-feed", "key-feed", "charge-output"} <= warnings["PROT-NONE"]


@every_case("name", TARGETS)
def test_target_is_guarded(name):
    """In a target every feed has a fuse or link, and the starter is found by its start signal."""
    codes = {f.code for f in found(name) if f.severity in (Severity.DANGER, Severity.WARNING)}
    assert not codes & {"PROT-NONE", "PROT-LINK-BIG", "PROT-LATE", "DROP-HOT", "PROT-OUTPUT"}
    assert "STA-NO-SIGNAL" not in codes
