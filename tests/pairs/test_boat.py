"""The launch: insulated return, isolator, blower, main fuse."""

from every_case import every_case
from pair_facts import assert_fates, codes, found, part_fates, points, serious, sized, wire_fates

from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.model import Joint, TerminalRef
from upgrade_planner.electrical.operating_points import operating_points

ORIGINAL = "launch_original"
TARGETS = ("launch_trigger", "launch_alternator", "launch_complete")
ALL = (ORIGINAL, *TARGETS)


@every_case("name", TARGETS)
def test_targets_are_clean(name):
    assert serious(name) == set()


def test_as_built_the_main_feed_has_no_fuse():
    (unguarded,) = [f for f in found(ORIGINAL) if f.code == "PROT-NONE"]
    assert {"ammeter-feed", "panel-feed", "ignition-feed"} <= set(unguarded.where)
    assert "PROT-NONE" not in codes("launch_trigger")


@every_case("name", ALL)
def test_only_the_engine_is_metal(name):
    configuration = sized(name)
    assert {place.metal for place in configuration.places} == {"", "engine"}
    for part in configuration.components:
        if any(t.connection.joint is Joint.CASE for t in part.terminals):
            assert configuration.place_by_id[part.place].metal == "engine", part.role


@every_case("name", ALL)
def test_every_load_has_its_return_wire_beside_its_feed(name):
    configuration = sized(name)
    loads = [p for p in configuration.components if p.kind in ("lamp", "load", "motor")]
    loads = [p for p in loads if p.role != "charge_lamp"]
    assert len(loads) == 7
    for part in loads:
        (back,) = configuration.wires_at[TerminalRef(part.role, "return")][:1]
        assert back.circuit == "ground"
        feed = configuration.wires_at[TerminalRef(part.role, "supply")]
        assert back.size.area_mm2 >= min(wire.size.area_mm2 for wire in feed)


@every_case("name", ALL)
def test_no_wire_below_sixteen_and_marine_insulation_throughout(name):
    for wire in sized(name).wires:
        assert wire.size.area_mm2 > 1.15
        assert wire.insulation.rated_c >= 105


@every_case("name", ALL)
def test_blower_runs_before_and_during_the_start(name):
    for state in ("key_on", "cranking", "idling"):
        assert abs(points(name)[state].element_current_a("bilge_blower:supply")) > 3


def test_bilge_pump_works_with_the_battery_switch_off(tmp_path):
    file = tmp_path / "moored.toml"
    file.write_text(
        '[configuration]\ntitle = "Moored"\nsummary = "x"\nbased_on = "launch_original"\n'
        '[states.off]\nbattery_switch = "off"\nfloat_switch = "up"\n',
        encoding="utf-8",
    )
    state = operating_points(load_configuration(str(file)))["off"]
    assert abs(state.element_current_a("bilge_pump:supply")) > 3
    assert (state.live_v(TerminalRef("main_junction", "stud")) or 0.0) < 0.01


def test_trigger_leaves_the_dynamo():
    assert_fates(
        part_fates(ORIGINAL, "launch_trigger"),
        {
            "distributor": "rebuild",
            "coil": "keep",
            "dynamo": "keep",
            "main_fuse": "add",
            "ammeter": "keep",
        },
    )
    assert_fates(
        wire_fates(ORIGINAL, "launch_trigger"),
        {
            "points-lead": "move",
            "module-supply": "add",
            "ammeter-feed": "move",
            "main-fuse-feed": "add",
            "key-feed": "move",
            "dynamo-output": "keep",
            "bilge-pump": "keep",
            "blower": "keep",
        },
    )


@every_case("after", ["launch_alternator", "launch_complete"])
def test_alternator_brings_lamp_and_wider_ammeter(after):
    assert_fates(
        part_fates(ORIGINAL, after),
        {
            "alternator": "add",
            "dynamo": "remove",
            "regulator": "remove",
            "ammeter": "replace",
            "charge_lamp": "add",
            "battery_switch": "keep",
        },
    )
    assert_fates(
        wire_fates(ORIGINAL, after),
        {
            "dynamo-output": "remove",
            "field": "remove",
            "regulator-ground": "remove",
            "charge-output": "add remove",
            "charge-lamp": "add",
            "ammeter-main": "resize",
            "engine-bar": "keep",
            "helm-return": "keep",
        },
    )


def test_night_passage_is_paid_for_by_the_alternator():
    assert points("launch_alternator")["loaded"].battery_v > 13.5
