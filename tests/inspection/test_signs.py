"""Signs of earlier alterations: each fires where it must, and is silent elsewhere."""

import pytest
from attrs import evolve
from every_case import every_case

from upgrade_planner.configuration.equipment import RULES
from upgrade_planner.configuration.model import Component, Conductor
from upgrade_planner.configuration.registry import circuits, kinds
from upgrade_planner.inspection.form_cautions import caution_entries, cautions
from upgrade_planner.inspection.signs import sign_entries, signs

RESISTANCE, LINK = Conductor.RESISTANCE, Conductor.LINK


@pytest.fixture
def holding(load):
    """A configuration that holds nothing but the parts and wires named."""
    van = load("van_original_resistance")

    def make(parts=(), wires=(), ground="negative", voltage=12.0):
        components = tuple(
            Component(role=role, kind=kind, name=role, place="behind_dash", terminals=())
            for role, kind in parts
        )
        made = tuple(
            evolve(van.wires[number], circuit=circuit, conductor=conductor)
            for number, (circuit, conductor) in enumerate(wires)
        )
        vehicle = evolve(van.vehicle, ground=ground, voltage_v=voltage)
        return evolve(van, components=components, wires=made, vehicle=vehicle)

    return make


def part(role, kind):
    return {"parts": [(role, kind)]}


def wire(circuit, conductor=Conductor.COPPER):
    return {"wires": [(circuit, conductor)]}


CASES = {
    "resistance-bypassed": (
        [wire("ignition feed", RESISTANCE), part("ballast", "resistor")],
        [wire("charge lamp", RESISTANCE), wire("ignition feed"), part("heater", "resistor")],
    ),
    "resistance-replaced": (
        [wire("ignition feed", RESISTANCE)],
        [wire("charge lamp", RESISTANCE), part("ballast", "resistor")],
    ),
    "start-bypass-altered": ([wire("start bypass")], [wire("start signal")]),
    "regulator-inside-fitted": (
        [part("regulator", "regulator_electromechanical"), part("box", "regulator_transistor")],
        [part("alternator", "alternator_internal_regulator")],
    ),
    "regulator-adjusted": (
        [part("control_box", "regulator_electromechanical")],
        [part("alternator", "alternator_internal_regulator"), part("r", "regulator_transistor")],
    ),
    "brushes-loose": (
        [part("dynamo", "dynamo")],
        [part("alternator", "alternator_internal_regulator")],
    ),
    "box-of-other-machine": (
        [part("alternator", "alternator_internal_regulator"), part("dynamo", "dynamo")],
        [part("alternator", "alternator_external_regulator")],
    ),
    "link-replaced": ([wire("main feed", LINK)], [wire("main feed")]),
    "ammeter-bridged": ([part("ammeter", "ammeter")], [part("voltmeter", "voltmeter")]),
    "second-charge-wire": ([wire("charge output")], [wire("charge lamp")]),
    "dynamo-replaced": (
        [part("dynamo", "dynamo")],
        [part("alternator", "alternator_external_regulator")],
    ),
    "cutout-forced": (
        [part("dynamo", "dynamo"), part("cut_out", "cut_out")],
        [part("regulator", "regulator_electromechanical")],
    ),
    "battery-turned": ([{"ground": "positive"}], [{"ground": "negative"}]),
    "six-volts-raised": ([{"voltage": 6.0}], [{"voltage": 12.0}, {"voltage": 24.0}]),
    "relay-bridged": (
        [part("lamp_relay", "relay"), part("start_relay", "starter_relay")],
        [part("starter", "starter")],
    ),
    "interlock-bridged": ([part("start_interlock", "switch")], [part("lamp_switch", "switch")]),
    "second-start-button": ([wire("start signal")], [wire("start bypass")]),
    "fuses-too-large": (
        [part("fuse_box", "fuse_box"), part("lamp_fuse", "fuse")],
        [part("breaker", "breaker")],
    ),
    "breaker-replaced": ([part("lamp_breaker", "breaker")], [part("lamp_fuse", "fuse")]),
    "connector-browned": (
        [part("bulkhead_connector", "connector")],
        [part("main_junction", "junction")],
    ),
    "charge-lamp-other": ([part("charge_lamp", "lamp")], [part("work_lamp", "lamp")]),
    "lamp-resistance-gone": (
        [wire("charge lamp", RESISTANCE)],
        [wire("charge lamp"), wire("ignition feed", RESISTANCE)],
    ),
    "tachometer-spliced": (
        [part("tachometer", "tachometer"), part("tachometer", "tachometer_current_sensing")],
        [part("fuel_gauge", "gauge")],
    ),
    "key-switch-crowded": (
        [part("ignition_switch", "key_switch")],
        [part("lamp_switch", "switch")],
    ),
    "trigger-under-cap": (
        [part("distributor", "points_distributor")],
        [part("distributor", "integral_coil_distributor")],
    ),
    "coil-of-other-sort": (
        [part("coil", "coil")],
        [part("distributor", "integral_coil_distributor")],
    ),
    "unit-behind-resistance": (
        [
            part("distributor", "integral_coil_distributor"),
            part("module", "ignition_module"),
            part("unit", "capacitor_discharge_unit"),
            part("d", "trigger_distributor"),
            part("controller", "ignition_controller"),
        ],
        [part("distributor", "points_distributor")],
    ),
    "sensing-short": (
        [part("alternator", "alternator_internal_regulator")],
        [part("alternator", "alternator_external_regulator")],
    ),
    "ground-strap-missing": ([wire("ground"), wire("battery cable")], [wire("starter cable")]),
    "junction-crowded": ([part("main_junction", "junction")], [part("link_joint", "splice")]),
    "lamps-added": ([wire("lamps")], [wire("charge lamp")]),
    "fuel-pump-always-on": ([wire("fuel")], [wire("gauges")]),
}


def fired(configuration):
    return {sign.id for sign in signs(configuration)}


def test_every_entry_is_tested_here():
    assert set(CASES) == {entry["id"] for entry in sign_entries()}


@every_case("entry", sign_entries())
def test_every_alternative_is_tested_and_of_a_known_kind_or_circuit(entry):
    must, _ = CASES[entry["id"]]
    assert len(must) == len(entry["when"])
    for tests in entry["when"]:
        assert tests.get("kind", "coil") in kinds()
        assert tests.get("circuit", "lamps") in circuits()


@every_case(
    ("name", "content"),
    [(name, content) for name, (must, _) in CASES.items() for content in must],
)
def test_fires_where_it_must(holding, name, content):
    assert name in fired(holding(**content))


@every_case(
    ("name", "content"),
    [(name, content) for name, (_, silent) in CASES.items() for content in silent],
)
def test_is_silent_where_it_has_no_business(holding, name, content):
    assert name not in fired(holding(**content))


@every_case("name", CASES)
def test_is_silent_in_an_empty_vehicle(holding, name):
    assert name not in fired(holding())


def test_says_what_brought_it_up(load):
    by_id = {sign.id: sign for sign in signs(load("van_original_resistance"))}
    assert by_id["resistance-bypassed"].where == ("ignition-resistance",)
    assert by_id["link-replaced"].where == ("link",)
    assert by_id["ground-strap-missing"].where[0] in load("van_original_resistance").wire_by_id


@every_case("entry", sign_entries())
def test_every_entry_names_its_source(entry):
    assert entry["source"] == "common practice"
    assert entry["look"].endswith(".")


@every_case("entry", caution_entries())
def test_every_caution_names_its_source_and_known_states(entry):
    assert entry["source"]
    assert set(entry.get("when", ())) <= {"off", "key_on", "cranking", "dead", *RULES}


def test_boats_are_warned_of_their_bilge(load):
    from upgrade_planner.inspection.walk import inspection

    boat, van = (
        {c["id"] for c in cautions(inspection(load(name)))}
        for name in ("launch_original", "van_original_resistance")
    )
    assert boat - van == {"bilge-vapour"}


def test_cautions_follow_what_is_measured(load):
    from upgrade_planner.inspection.walk import inspection

    points = {c["id"] for c in cautions(inspection(load("van_original_resistance")))}
    unit = {c["id"] for c in cautions(inspection(load("van_upgraded")))}
    assert "coil-heats" in points
    assert "coil-heats" not in unit, "nothing is measured with the key on there"
    assert {"battery-gas", "live-studs", "cranking"} <= points & unit
