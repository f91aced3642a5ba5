"""Rules on alternator, regulator, charge lamp and back-feed: each fires, each keeps silent."""

from attrs import evolve
from charging_mistakes import MISTAKES
from every_case import every_case
from planting import Mistake, planted, rules_of
from told_findings import told

from upgrade_planner.checks import (
    back_feeding,
    charging,
    charging_output,
    dynamos,
    excitation,
    ignition,
    rated_voltage,
)
from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Severity

SUBJECTS = (charging, charging_output, dynamos, excitation, rated_voltage)
RULES = rules_of(*SUBJECTS)
RULES += [back_feeding.runs_on, back_feeding.field_drains]
GOOD = ["van_upgraded", "tractor_upgraded"]


def found_in(configuration):
    examined = Examined(configuration=configuration)
    return [finding for rule in RULES for finding in rule(examined)]


def as_found(text, base, tmp_path):
    mistake = Mistake(id="here", words="", bases=(base,), as_found=text, codes=())
    return planted(mistake, base, tmp_path)


@every_case("name", GOOD)
def test_good_configuration_raises_nothing_above_a_note(load, name):
    assert {f.severity for f in found_in(load(name))} <= {Severity.NOTE}


@every_case("name", ["van_original_ballast", "tractor_original"])
def test_relay_regulator_with_its_resistance_is_right(load, name):
    codes = {finding.code for finding in found_in(load(name))}
    assert codes <= {"CHG-OUTPUT-DROP", "CHG-BALANCE-IDLE"}


def test_sensing_at_own_output_tells_volts_at_the_battery(tmp_path):
    """With the loads on, the battery gets less by what output wire and stud lose."""
    mistake = next(m for m in MISTAKES if m.id == "sensing-at-output")
    configuration = planted(mistake, "van_upgraded", tmp_path)
    (finding,) = charging.sensing_at_own_output(Examined(configuration=configuration))
    assert "The battery gets 1" in told(finding).what
    assert "sensing at the junction" in told(finding).what


def test_diode_is_tried_and_stops_the_engine(tmp_path):
    mistake = next(m for m in MISTAKES if m.id == "lamp-bypassed")
    configuration = planted(mistake, "van_upgraded", tmp_path)
    (finding,) = back_feeding.runs_on(Examined(configuration=configuration))
    assert finding.severity is Severity.DANGER
    assert "the engine stops" in told(finding).remedy


def test_feed_that_is_live_with_the_engine_stopped_is_not_called_run_on(tmp_path):
    """The output is joined to the ignition: a rule of the ignition names that."""
    text = """
[as_found]
add_wires = [
  { id = "found", circuit = "accessory", from = "alternator.output", to = "charge_lamp.supply", size = "14 SAE", colour = "RD", insulation = "PVC", conductor = "resistance wire", resistance = "0.5 ohm" },
]
"""  # noqa: E501
    configuration = as_found(text, "van_upgraded", tmp_path)
    examined = Examined(configuration=configuration)
    assert not list(back_feeding.runs_on(examined))
    assert list(ignition.feed_live_with_key_off(examined))


def test_unit_of_small_current_runs_on_through_the_lamp(tmp_path):
    """The shipped lamp circuit keeps a unit of 1.2 A alive that needs 5 V, as reports say."""
    text = """
[as_found]
[[as_found.change_component]]
role = "distributor"
ratings = { maximum_current = "1.2 A", minimum_supply = "5 V" }
"""
    configuration = as_found(text, "tractor_upgraded", tmp_path)
    (finding,) = back_feeding.runs_on(Examined(configuration=configuration))
    assert (finding.code, finding.severity) == ("CHG-RUN-ON", Severity.DANGER)


def test_set_point_window_scales_to_six_volts(load):
    configuration = load("van_upgraded")
    six = evolve(configuration, vehicle=evolve(configuration.vehicle, voltage_v=6.0))
    (finding,) = charging.set_point_wrong(Examined(configuration=six))
    assert "6.8 to 7.5 V" in told(finding).what or "6.7 to 7.5 V" in told(finding).what


def test_dynamo_gets_the_note_of_its_field_circuit(tmp_path):
    text = """
[as_found]
remove_wires = ["field-relay", "charge-output"]
add_wires = [
  { id = "dynamo-output", circuit = "charge output", from = "alternator.armature", to = "regulator.armature", size = "6 mm²", colour = "RD", insulation = "PVC" },
]

[[as_found.change_component]]
role = "alternator"
kind = "dynamo"
name = "Dynamo"
terminals = [
  { name = "armature", label = "D+", connection = "stud M5" },
  { name = "field", label = "DF", connection = "stud M4" },
  { name = "case", label = "frame", connection = "case" },
]
ratings = { rated_output = "20 A", field_circuit = "A" }

[[as_found.change_component]]
role = "regulator"
terminals = [
  { name = "supply", label = "B+", connection = "blade 6.3 mm" },
  { name = "field", label = "DF", connection = "blade 6.3 mm" },
  { name = "armature", label = "D+", connection = "stud M5" },
  { name = "lamp", label = "61", connection = "blade 6.3 mm" },
  { name = "ground", label = "31", connection = "screw M5" },
]
"""  # noqa: E501
    configuration = as_found(text, "tractor_original", tmp_path)
    examined = Examined(configuration=configuration)
    (finding,) = charging.dynamo_polarising(examined)
    assert finding.severity is Severity.NOTE
    assert "from B+ (battery side) to D+ (dynamo side)" in told(finding).remedy
    assert not list(charging_output.output_not_joined(examined))
    assert not list(charging.machine_without_regulator(examined))
