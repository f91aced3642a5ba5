"""What a wish lacks is written in: each pair was refused once, for the reason that is told."""

import pytest
from every_case import every_case
from wished import wished

from upgrade_planner.checks.findings import Finding, Remedy, Severity, at_parts, at_wires
from upgrade_planner.configuration.loading import load_system
from upgrade_planner.targets.cures import cures
from upgrade_planner.targets.guards import Bench
from upgrade_planner.targets.settling import brought_findings

WRITTEN_IN = (
    ("tractor_isolator", "alternator_one_wire", "larger-link", "link"),
    ("truck_straps_renewed", "lamp_and_ammeter", "thicker-behind-link", "ammeter-main"),
    ("van_original_ballast", "points_full_voltage", "lamp-diode", "lamp_diode"),
    ("launch_complete", "voltmeter_only", "exciting-resistor", "exciting_resistor"),
    ("launch_complete", "dynamo_cut_out", "own-ground", "cut-out-ground-wire"),
    ("pickup_guarded", "solenoid_on_starter_plain", "bypass-diode", "bypass_diode"),
    ("rear_trigger_module", "alternator_internal_regulator", "stud-full", "sensing-link"),
)


def put_in(car, system):
    """The settled target of a car with another system, and the car."""
    return wished(car, {load_system(system)[1].system.slot: system})


@pytest.mark.parametrize(("car", "system", "why", "name"), WRITTEN_IN)
def test_what_a_system_lacks_is_written_in_with_its_reason(car, system, why, name):
    made, there = put_in(car, system)
    assert made.left == () == brought_findings(made.configuration, there)
    lines = [line for table in made.target.lines().values() for line in table.values()]
    assert why in {reason for line in lines if line.name == name for reason in line.whys}


def test_trigger_leads_get_a_loom_of_their_own_and_not_that_of_the_cables():
    made, _ = put_in("van_electric_fan", "discharge_unit_pick_up")
    wires = made.configuration.wire_by_id
    assert made.left == ()
    assert {wires[name].loom for name in ("pick-up-plus", "pick-up-minus")} == {"trigger clips"}


def test_what_is_too_much_for_a_cavity_passes_no_connector(load):
    car = load("pickup_ammeter_kept")
    finding = Finding(
        code="CHG-CAVITY",
        severity=Severity.WARNING,
        subjects=at_parts(("alternator",)),
        remedy=Remedy("lead-past-connector", {"wires": at_wires(("ammeter-main",))}),
        source="",
    )
    tried = cures(finding, Bench(configuration=car, car=car, chosen=frozenset()))
    looms = {edit.values["route"] for cure in tried for edit in cure if edit.name == "ammeter-main"}
    assert "bulkhead grommet" in looms
    assert "bulkhead loom" not in looms


@every_case(
    ("car", "system"),
    [
        ("pickup_guarded", "voltmeter_only"),  # its file adds a main link, and so does the system
        ("launch_trigger", "discharge_unit_points"),  # a fuse of the ignition
        ("rear_start_relay", "relay_on_wing"),  # a start relay with other terminals
        ("roadster_trigger", "solenoid_on_starter"),  # a feed led to the relay that goes
    ],
)
def test_what_the_car_added_gives_way_to_what_the_system_brings(car, system):
    made, _ = put_in(car, system)
    assert made.configuration.systems[load_system(system)[1].system.slot] == system
    ends = [(wire.circuit, frozenset(wire.ends)) for wire in made.configuration.wires]
    assert len(set(ends)) == len(ends)  # nothing is fed twice
