"""The saloon: positive ground kept or turned, dynamo kept or not, pull switch to key start."""

from every_case import every_case
from pair_facts import found, planned
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

from upgrade_planner.checks.checking import check
from upgrade_planner.checks.findings import Severity
from upgrade_planner.documents.words.reasons import reason_words
from upgrade_planner.planning.operations import Phase

TARGETS = [
    "saloon_fuses",
    "saloon_trigger_positive",
    "saloon_negative_dynamo",
    "saloon_negative_alternator",
    "saloon_control_box_kept",
]
TURNED = "starter-cable battery-ground ignition-feed points-lead"
"""Wires that change ends when the ground changes over: battery cables and coil leads."""


def test_negative_ground_with_alternator(load):
    """Battery cables and coil leads change over; what the dynamo needed goes."""
    assert_wires(
        load,
        "saloon_original",
        "saloon_negative_alternator",
        {
            MOVE: f"{TURNED} fuse-block-feed key-feed lamp-feed fuel-pump-feed side-lamps",
            CAP_OFF: "field dynamo-output",
            REMOVE: "regulator-ground",
            RENEW: "charge-lamp",
            EXCHANGE: "charge-output main-feed charge-lamp-supply",
            ADD: "main-link block-link module-supply voltmeter-supply",
            KEEP: "engine-strap starter-motor-cable start-signal horns wiper radio low-beam",
        },
    )
    assert_parts(
        load,
        "saloon_original",
        "saloon_negative_alternator",
        {
            PART.REMOVE: "dynamo regulator",
            PART.ADD: "alternator voltmeter",
            PART.REBUILD: "distributor",
            PART.REPLACE: "radio",
            PART.CONVERT: "battery",
            PART.KEEP: "coil wiper_motor heater_blower fuel_pump horn_left semaphore_left starter",
        },
    )


def test_negative_ground_with_the_dynamo_kept(load):
    """No wire of the dynamo is touched: it is polarised again and charges the other way."""
    assert_wires(
        load,
        "saloon_original",
        "saloon_negative_dynamo",
        {
            MOVE: TURNED,
            KEEP: "dynamo-output charge-output field regulator-ground charge-lamp start-signal",
            ADD: "main-link feed-fuses-feed dash-fuses-feed side-fuse-feed",
        },
    )
    assert_parts(
        load,
        "saloon_original",
        "saloon_negative_dynamo",
        {
            PART.CONVERT: "battery",
            PART.REPLACE: "radio",
            PART.KEEP: "dynamo regulator coil distributor wiper_motor fuel_pump",
        },
    )


def test_dynamo_is_polarised_again():
    """Its iron remembers the old polarity: the sheet says so, and has the step before the run."""
    plan = planned("saloon_original", "saloon_negative_dynamo")
    (dynamo,) = [c for c in plan.comparison.parts if c.role == "dynamo"]
    assert "polarise" in reason_words(dynamo.reasons, "metric").lower()
    (step,) = [o for o in plan.operations if o.id.startswith("procedure:polarise")]
    assert step.id == "procedure:polarise-b"  # by the field lead, never by circuit A's jumper
    assert step.phase < Phase.RUN_ENGINE


def test_dynamo_that_nobody_touched_is_not_polarised():
    """Ground and charging stay as they are: no touching of leads without need."""
    plan = planned("saloon_original", "saloon_trigger_positive")
    assert not [o for o in plan.operations if o.id.startswith("procedure:polarise")]


def test_positive_ground_kept_with_a_module_made_for_it(load):
    """Nothing at the battery changes; the wire of the points serves the module."""
    assert_wires(
        load,
        "saloon_original",
        "saloon_trigger_positive",
        {
            KEEP: "starter-cable battery-ground engine-strap dynamo-output charge-output field "
            "start-signal",
            MOVE: "points-lead ignition-feed",
            ADD: "module-supply main-link",
        },
    )
    assert_parts(
        load,
        "saloon_original",
        "saloon_trigger_positive",
        {PART.KEEP: "battery dynamo regulator coil radio", PART.REBUILD: "distributor"},
    )


def test_control_box_kept_as_a_junction(load):
    """The thick wire goes over the box; the dynamo's wires die in the loom."""
    assert_wires(
        load,
        "saloon_original",
        "saloon_control_box_kept",
        {
            ADD: "box-main main-link block-link",
            EXCHANGE: "charge-output",
            CAP_OFF: "dynamo-output field",
            MOVE: TURNED,
        },
    )
    assert_parts(
        load,
        "saloon_original",
        "saloon_control_box_kept",
        {
            PART.REBUILD: "regulator",
            PART.REPLACE: "radio",
            PART.REMOVE: "dynamo",
            PART.KEEP: "distributor coil",
        },
    )


def test_fuses_alone(load):
    """Old wires serve again behind the new fuses; none is replaced but the radio's feed."""
    assert_wires(
        load,
        "saloon_original",
        "saloon_fuses",
        {
            MOVE: "main-feed key-feed lamp-feed side-lamps tail-lamps panel-lamps heater-feed "
            "fuel-pump-feed ignition-feed charge-lamp-supply interior-lamp",
            KEEP: "points-lead starter-cable battery-ground dynamo-output field fuse-block-feed "
            "auxiliary-feed",
            EXCHANGE: "radio-fuse-feed",
            ADD: "main-link feed-fuses-feed dash-fuses-feed side-fuse-feed",
        },
    )


def test_pull_switch_to_key_start(load):
    """Both heavy cables end at the solenoid switch now; the key gets its start wire."""
    assert_wires(
        load,
        "saloon_early",
        "saloon_fuses",
        {MOVE: "starter-cable starter-motor-cable", ADD: "start-signal", KEEP: "battery-ground"},
    )
    assert_parts(
        load,
        "saloon_early",
        "saloon_fuses",
        {PART.REMOVE: "start_switch", PART.ADD: "start_relay", PART.KEEP: "starter"},
    )


def test_what_two_fuses_leave_unguarded():
    """Lamps, key and charging without a fuse; the two fuses too big for thin wires."""
    warnings = codes_at(found("saloon_original"), Severity.WARNING)
    assert {"main-feed", "lamp-feed", "key-feed", "low-beam"} <= warnings["PROT-NONE"]
    assert {"fuse_block:horn", "fuse_block:auxiliary"} <= warnings["PROT-FUSE-BIG"]


def test_saloon_as_found_is_put_right(load):
    """The owners' additions come out; the renewed wrong wires at the coil do not serve again."""
    assert_wires(
        load,
        "saloon_as_found",
        "saloon_negative_alternator",
        {
            REMOVE: "found-spot-feed found-spot",
            RESIZE: "low-beam",
            MOVE: "starter-cable battery-ground",
            EXCHANGE: "points-lead ignition-feed",
        },
    )
    assert_parts(
        load,
        "saloon_as_found",
        "saloon_negative_alternator",
        {PART.ADJUST: "fuse_block", PART.REMOVE: "found_spot_lamps dynamo regulator"},
    )


def test_dangers_of_the_saloon_as_found():
    """A radio for the other polarity, a control box without its ground; coil leads reversed."""
    findings = found("saloon_as_found")
    dangers = codes_at(findings, Severity.DANGER)
    assert "radio" in dangers["PWR-GROUND-SIDE"]
    assert "regulator" in dangers["CHG-BOX-GROUND"]
    assert "coil" in codes_at(findings, Severity.CAUTION)["IGN-POLARITY"]
    warnings = codes_at(findings, Severity.WARNING)
    assert {"found-spot-feed", "found-spot"} <= warnings["PROT-NONE"]


def test_common_module_would_die_in_this_car(load, tmp_path):
    """The module made for negative ground, fitted with the positive post grounded: danger."""
    made = tmp_path / "wrong_module.toml"
    made.write_text(
        '[configuration]\ntitle = "Wrong module"\nsummary = "As bought."\n'
        'based_on = "saloon_trigger_positive"\n'
        '[overrides.distributor]\npolarity = "negative ground only"\n',
        encoding="utf-8",
    )
    findings = check(load(str(made)))
    dangers = {f.code for f in findings if f.severity is Severity.DANGER}
    assert dangers
    assert any("distributor" in f.where for f in findings if f.severity is Severity.DANGER)


@every_case("name", TARGETS)
def test_target_is_guarded(name):
    """In a target every feed has a fuse or link that fits it."""
    codes = {f.code for f in found(name) if f.severity is not Severity.NOTE}
    assert not codes & {"PROT-NONE", "PROT-FUSE-BIG", "PROT-LINK-BIG", "PROT-LATE", "DROP-HOT"}
