"""Rules on dynamos, relays, pumps, isolators, rated voltages: silent where all is well."""

import pair_facts
from every_case import every_case
from told_findings import told

from upgrade_planner.checks import (
    charging,
    charging_output,
    dynamos,
    excitation,
    fuel_pumps,
    isolators,
    rated_voltage,
    relays,
    starting,
    starting_kinds,
)
from upgrade_planner.checks.checking import RULES
from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Severity
from upgrade_planner.configuration.loading import load_configuration

MODULES = (dynamos, excitation, fuel_pumps, isolators, rated_voltage, relays, starting_kinds)
RULES_HERE = [rule for rule in RULES if rule.__module__ in {m.__name__ for m in MODULES}]
GOOD = (
    "tractor_dynamo",
    "tractor_isolator",
    "van_electric_fan",
    "van_fuel_pump",
    "van_headlamp_relays",
    "van_isolator",
    "van_upgraded",
    "van_voltmeter",
    "pickup_upgraded",
    "pickup_gear_starter",
    "saloon_fuses",
    "truck_fan_and_pump",
    "rear_start_relay",
)

BASE = '[configuration]\ntitle = "t"\nsummary = "s"\nbased_on = "{base}"\n\n'


def changed(text, base, folder):
    path = folder / "changed.toml"
    path.write_text(BASE.format(base=base) + text)
    return load_configuration(str(path))


VAN = """[configuration]
title = "t"
summary = "s"
vehicle = "carrier_van"

[systems]
ignition = "points_full_voltage"
charging = "{charging}"
starting = "{starting}"
{more}
"""


def van(folder, charging="alternator_internal_din", starting="solenoid_on_starter_plain", more=""):
    path = folder / "van.toml"
    path.write_text(VAN.format(charging=charging, starting=starting, more=more))
    return Examined(configuration=load_configuration(str(path)))


def found(rule, examined):
    return [(finding.code, finding.severity) for finding in rule(examined)]


def test_every_rule_is_run():
    own = {
        function
        for module in MODULES
        for name, function in vars(module).items()
        if getattr(function, "__module__", "") == module.__name__
        and getattr(function, "__annotations__", {}).get("examined") is Examined
        and "Iterator[" in str(function.__annotations__.get("return"))
        and not name.startswith("_")
    }
    assert own - set(RULES) == set()


@every_case("name", GOOD)
def test_rules_are_silent_where_all_is_well(load, name):
    examined = Examined(configuration=load(name))
    found = [finding for rule in RULES_HERE for finding in rule(examined)]
    grave = (Severity.DANGER, Severity.WARNING)
    assert [(f.code, f.where) for f in found if f.severity in grave] == []


@every_case(("emf", "severity"), [("6.3 V", Severity.WARNING), ("25.2 V", Severity.DANGER)])
def test_a_battery_of_double_voltage_is_worse_than_one_of_half(tmp_path, emf, severity):
    configuration = changed(f'[overrides.battery]\nemf = "{emf}"\n', "van_upgraded", tmp_path)
    found = list(rated_voltage.battery_of_other_voltage(Examined(configuration=configuration)))
    assert [finding.severity for finding in found] == [severity]


def test_a_starter_of_half_the_voltage_may_stay(tmp_path):
    text = '[overrides.starter]\nrated_voltage = "6 V"\n'
    configuration = changed(text, "van_upgraded", tmp_path)
    (finding,) = rated_voltage.made_for_less(Examined(configuration=configuration))
    assert finding.severity is Severity.CAUTION
    assert "short bursts" in told(finding).remedy


def test_a_dropping_resistor_before_a_gauge_is_seen(tmp_path):
    rating = '[overrides.fuel_gauge]\nrated_voltage = "6 V"\n'
    resistor = """
[changes]
change_wires = [{ id = "fuel-gauge-supply", to = "dropper.in" }, { id = "temperature-supply", from = "tachometer.supply" }]
add_wires = [{ id = "dropped", circuit = "gauges", from = "dropper.out", to = "fuel_gauge.supply", size = "18 SAE", colour = "GN", insulation = "GPT", length = "0.3 m" }]
[[changes.add_component]]
role = "dropper"
kind = "resistor"
name = "Dropping resistor of the gauge"
place = "behind_dash"
terminals = [
  { name = "in", label = "1", connection = "blade 6.3 mm" },
  { name = "out", label = "2", connection = "blade 6.3 mm" },
]
ratings = { resistance = "100 ohm" }
"""  # noqa: E501
    for text, codes in ((rating, ["RATED-VOLTAGE"]), (rating + resistor, [])):
        examined = Examined(configuration=changed(text, "van_upgraded", tmp_path))
        assert [finding.code for finding in rated_voltage.made_for_less(examined)] == codes


def test_a_coil_of_six_volts_behind_its_ballast_is_right(tmp_path):
    text = '[overrides.coil]\nrated_voltage = "6 V"\n'
    behind = Examined(configuration=changed(text, "van_original_ballast", tmp_path))
    assert list(rated_voltage.made_for_less(behind)) == []
    past = text + '[as_found]\nchange_wires = [{ id = "coil-feed", from = "ballast.in" }]\n'
    without = Examined(configuration=changed(past, "van_original_ballast", tmp_path))
    assert [f.code for f in rated_voltage.made_for_less(without)] == ["RATED-VOLTAGE"]


def test_a_missing_interlock_is_less_than_a_bridged_one(load, tmp_path):
    (without,) = starting.interlock_missing(Examined(configuration=load("saloon_fuses")))
    assert without.severity is Severity.CAUTION
    bridge = """[as_found]
change_wires = [{ id = "start-signal", from = "ignition_switch.start" }]
"""
    bridged = changed(bridge, "van_upgraded", tmp_path)
    (finding,) = starting.interlock_missing(Examined(configuration=bridged))
    assert finding.severity is Severity.DANGER


def test_interlock_is_judged_at_the_coil_of_a_relay_before_the_solenoid(load):
    (finding,) = starting.interlock_missing(Examined(configuration=load("rear_start_relay")))
    assert "start-signal" in finding.where


@every_case("name", ["tractor_dynamo", "van_headlamp_relays", "van_fuel_pump"])
def test_findings_have_words_for_what_why_and_remedy(name):
    for finding in pair_facts.found(name):
        assert told(finding).what
        assert told(finding).remedy
        assert finding.source


PAST_THE_CRASH_SWITCH = """
[as_found]
change_wires = [{ id = "fuel-pump-coil", from = "fuel_pump_coil_fuse.out" }]
remove_wires = ["inertia-feed"]
remove_components = ["inertia_switch"]
"""


@every_case(
    ("fuel", "more", "expected"),
    [
        ("fuel_pump_oil_pressure", "", []),
        ("fuel_pump_relay", "", [("FUEL-RUNS", Severity.NOTE)]),
        ("fuel_pump_relay", PAST_THE_CRASH_SWITCH, [("FUEL-RUNS", Severity.CAUTION)]),
    ],
)
def test_a_pump_that_runs_with_the_engine_stopped(tmp_path, fuel, more, expected):
    examined = van(tmp_path, more=f'fuel = "{fuel}"\n{more}')
    assert found(fuel_pumps.runs_with_engine_stopped, examined) == expected


@every_case(
    ("state", "runs"), [("off", False), ("key_on", False), ("cranking", True), ("loaded", True)]
)
def test_a_pump_by_oil_pressure_runs_only_with_the_engine(tmp_path, state, runs):
    point = van(tmp_path, more='fuel = "fuel_pump_oil_pressure"').points[state]
    (pump,) = fuel_pumps.pumps(point.configuration)
    assert (fuel_pumps.pump_current_a(pump, point) > 1.0) == runs


def test_an_unregulated_dynamo_boils_a_full_battery_and_a_box_does_not(tmp_path):
    for system, expected in (("dynamo_third_brush", 1), ("dynamo_control_box", 0)):
        assert len(found(dynamos.unregulated, van(tmp_path, system))) == expected, system


def test_a_one_wire_machine_says_when_it_charges(tmp_path):
    rule = excitation.excites_itself_late
    assert found(rule, van(tmp_path, "alternator_one_wire")) == [("CHG-CUT-IN", Severity.NOTE)]
    assert found(rule, van(tmp_path)) == []


def test_a_charge_lamp_without_a_terminal_to_go_to(tmp_path):
    rule = excitation.lamp_joined_to_nothing
    one_wire = van(tmp_path, "alternator_one_wire")
    assert found(rule, one_wire) == [("CHG-LAMP-LOOSE", Severity.CAUTION)]
    for system in ("alternator_internal_din", "dynamo_control_box", "dynamo_cut_out"):
        assert found(rule, van(tmp_path, system)) == [], system


def test_a_start_switch_worked_by_hand_is_noted(tmp_path):
    rule = starting_kinds.mechanical_switch
    by_hand = van(tmp_path, starting="mechanical_start_switch")
    assert found(rule, by_hand) == [("STA-BY-HAND", Severity.NOTE)]
    assert found(rule, van(tmp_path, starting="relay_on_wing")) == []


def test_a_relay_out_of_work_is_a_junction_and_no_fault(load):
    examined = Examined(configuration=load("pickup_gear_starter"))
    assert found(starting.no_start_signal, examined) == []
    assert found(relays.coil_never_fed, examined) == []


ISOLATOR_IN_THE_LIVE_CABLE = """
[as_found]
change_wires = [
  { id = "battery-ground", from = "battery.grounded" },
  { id = "isolator-cable", from = "battery.live" },
  { id = "body-ground", from = "battery.grounded" },
  { id = "starter-cable", from = "isolator.out" },
]
"""


def test_an_isolator_in_the_live_cable_is_noted_and_what_passes_it_by_is_named(tmp_path):
    configuration = changed(ISOLATOR_IN_THE_LIVE_CABLE, "van_isolator", tmp_path)
    codes = {f.code: f for f in isolators.bypassed(Examined(configuration=configuration))}
    assert set(codes) == {"ISO-LIVE-SIDE", "ISO-BYPASSED"}
    assert "battery-link" in codes["ISO-BYPASSED"].where


def test_an_isolator_away_from_the_battery_is_found(tmp_path):
    text = """[as_found]
change_wires = [
  { id = "battery-ground", from = "battery.grounded" },
  { id = "body-ground", from = "battery.grounded" },
  { id = "isolator-cable", from = "engine_ground.stud" },
]
"""
    examined = Examined(configuration=changed(text, "van_isolator", tmp_path))
    assert found(isolators.bypassed, examined) == [("ISO-PLACE", Severity.WARNING)]


def test_an_ammeter_that_the_charge_passes_by_is_noted(load, tmp_path):
    rule = charging_output.ammeter_passed_by
    assert found(rule, Examined(configuration=load("tractor_upgraded"))) == []
    text = '[changes]\nchange_wires = [{ id = "charge-output", to = "starter.battery" }]\n'
    past = Examined(configuration=changed(text, "tractor_upgraded", tmp_path))
    assert found(rule, past) == [("CHG-AMMETER-BLIND", Severity.NOTE)]


def test_a_transistor_regulator_is_a_regulator_to_every_rule(tmp_path):
    good = van(tmp_path, "alternator_transistor_regulator")
    rules = (charging.machine_without_regulator, charging.machine_not_grounded)
    assert [found(rule, good) for rule in rules] == [[], []]
    no_ground = '\n[as_found]\nremove_wires = ["regulator-ground"]\n'
    bad = van(tmp_path, "alternator_transistor_regulator", more=no_ground)
    assert found(charging.machine_not_grounded, bad) == [("CHG-GROUND", Severity.WARNING)]


def test_a_lamp_bridged_at_a_transistor_regulator_is_found(tmp_path):
    bridge = """
[as_found]
add_wires = [{ id = "bridge", circuit = "charge lamp", from = "ignition_switch.ignition", to = "charge_lamp.return", size = "16 SAE", colour = "BN", insulation = "GPT" }]
"""  # noqa: E501
    bad = van(tmp_path, "alternator_transistor_regulator", more=bridge)
    assert found(excitation.lamp_bridged, bad) == [("CHG-LAMP-BRIDGED", Severity.WARNING)]
    assert found(excitation.lamp_bridged, van(tmp_path, "alternator_transistor_regulator")) == []


def test_a_cut_out_without_ground_never_closes(load, tmp_path):
    rule = dynamos.cut_out_not_grounded
    good = load("six_volt_tractor_original")
    assert found(rule, Examined(configuration=good)) == []
    terminals = """[[as_found.change_component]]
role = "cut_out"
terminals = [
  { name = "armature", label = "D+", connection = "screw M5" },
  { name = "supply", label = "B+", connection = "screw M5" },
  { name = "ground", label = "31", connection = "screw M5" },
]
"""
    bad = changed(terminals, "six_volt_tractor_original", tmp_path)
    assert found(rule, Examined(configuration=bad)) == [("CHG-CUT-OUT-GROUND", Severity.WARNING)]


@every_case(("scale", "severity"), [("40 A", Severity.WARNING), ("30 A", Severity.DANGER)])
def test_an_ammeter_far_too_small_is_a_danger(tmp_path, scale, severity):
    text = f'[overrides.ammeter]\nrange = "{scale}"\n'
    examined = Examined(configuration=changed(text, "tractor_upgraded", tmp_path))
    wanted = [("CHG-AMMETER", severity)]
    assert found(charging_output.output_above_ratings, examined) == wanted


def test_a_part_of_the_right_voltage_is_not_blamed_for_a_wrong_set_point(tmp_path):
    text = '[overrides.alternator]\nset_point = "18 V"\n'
    examined = Examined(configuration=changed(text, "van_upgraded", tmp_path))
    assert examined.points["loaded"].battery_v > 17.0
    assert found(rated_voltage.made_for_less, examined) == []


def test_a_solenoid_behind_a_relay_has_its_signal(load, tmp_path):
    rule = starting.no_start_signal
    assert found(rule, Examined(configuration=load("rear_start_relay"))) == []
    text = '[as_found]\nremove_wires = ["start-relay-ground"]\n'
    without = changed(text, "rear_start_relay", tmp_path)
    assert found(rule, Examined(configuration=without)) == [("STA-NO-SIGNAL", Severity.WARNING)]


def test_a_control_box_without_ground_is_told_once(tmp_path):
    text = '[as_found]\nremove_wires = ["regulator-ground"]\n'
    examined = Examined(configuration=changed(text, "tractor_dynamo", tmp_path))
    assert found(charging.machine_not_grounded, examined) == []
    assert found(dynamos.box_not_grounded, examined) == [("CHG-BOX-GROUND", Severity.WARNING)]
