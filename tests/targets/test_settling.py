"""A wish brings no danger and no warning that the car has not, and keeps what is the owner's."""

from pathlib import Path

import pytest
from wished import car_file, wished

from upgrade_planner.checks.findings import Severity
from upgrade_planner.targets import settling
from upgrade_planner.targets.settling import brought_findings, grave

PROFILES = Path(__file__).parents[1] / "profiles"

ACCEPTED = (
    ("saloon_original", {"ignition": "trigger_module_full_voltage"}),
    ("saloon_fuses", {"starting": "solenoid_on_starter"}),
    ("truck_straps_renewed", {"starting": "solenoid_on_starter"}),
    ("van_original_resistance", {"charging": "alternator_internal_regulator"}),
    ("tractor_original", {"charging": "alternator_one_wire"}),
    ("pickup_upgraded", {"cooling": "fan_relay"}),
    ("tractor_original", {"starting": "relay_on_wing"}),  # what hung on the starter's stud
    ("rear_upgraded", {"starting": "solenoid_on_starter"}),  # a relay out of use
    ("truck_original", {"ignition": "discharge_unit_pick_up"}),  # trigger leads in another loom
    ("van_coil_pack", {"ignition": "discharge_unit_points"}),  # a diode in the lamp wire
    ("launch_original", {"ignition": "discharge_unit_pick_up"}),  # behind the battery switch
    ("launch_complete", {"charging": "alternator_external_regulator"}),  # a stud of thick wires
)
"""Wishes of the kind that people have, each with another cure; the table of all that ships is gone
through by `tests/benchmarks/targets.py`."""


@pytest.mark.parametrize(("car", "systems"), ACCEPTED, ids=str)
def test_a_wish_brings_no_danger_or_warning_that_the_car_has_not(car, systems):
    made, there = wished(car, systems)
    assert brought_findings(made.configuration, there) == () == made.left
    assert {slot: made.configuration.systems[slot] for slot in systems} == systems


def test_a_thin_feed_gets_a_fuse_and_no_cable_that_its_blade_cannot_take():
    made, _ = wished("van_trigger_module", {"fuel": "fuel_pump_direct"})
    assert made.left == ()
    assert "fuel_pump_feed_fuse" in made.configuration.component_by_role


def test_what_hung_on_the_stud_of_the_starter_is_asked():
    made, _ = wished("tractor_dynamo", {"starting": "mechanical_start_switch"})
    assert made.left == ()
    assert "fed-elsewhere" in {question.code for question in made.target.questions}
    assert str(made.configuration.wire_by_id["ammeter-feed"].start) == "start_switch.battery"


def test_of_two_batteries_the_grounded_post_is_taken():
    made, _ = wished("roadster_trigger", {"ignition": "discharge_unit_pick_up"})
    assert {finding.code for finding in made.left} == {"IGN-LEADS"}
    assert made.configuration.wire_by_id["unit-return"].end.role == "battery_second"


LIKE = 'circuit = "accessory", size = "16 SAE", colour = "YE", insulation = "PVC", length = "1 m"'


def test_what_hung_on_a_coil_that_goes_is_fed_from_where_that_was_fed():
    pump = """
[as_found]
add_wires = [
  { id = "pump", from = "coil.positive", to = "added_pump.supply", LIKE },
]
[[as_found.add_component]]
role = "added_pump"
kind = "motor"
name = "Fuel pump"
place = "inner_wing_left"
terminals = [
  { name = "supply", label = "+", connection = "blade 6.3 mm" },
  { name = "case", label = "-", connection = "case" },
]
ratings = { running_current = "3 A", rated_voltage = "12 V" }
"""
    with car_file("van_original_ballast", pump.replace("LIKE", LIKE)) as car:
        made, _ = wished(car, {"ignition": "integral_coil_distributor"})
    again = made.configuration.wire_by_id["pump-again"]
    assert again.start.role not in ("coil", "distributor")
    assert "PWR-NO-FEED" not in {finding.code for finding in made.left}


def test_a_fault_that_the_car_has_with_all_that_makes_it_grave_is_not_brought():
    with car_file("saloon_as_found", '[as_found]\nremove_wires = ["radio-fuse-feed"]\n') as car:
        made, _ = wished(car, {"charging": "alternator_external_plain"})
    assert made.left == ()


def test_what_cannot_be_cured_is_left_and_named():
    made, _ = wished("saloon_fuses", {"cooling": "fan_relay"})
    assert {finding.code for finding in made.left} == {"CHG-BALANCE"}  # the dynamo is too small


def test_no_target_is_judged_twice_and_what_leaves_less_is_gone_on_from(monkeypatch):
    judged = []

    def judge(target, car, load):
        made = judge_for_good(target, car, load)
        judged.append((len(made.left), target))
        return made

    judge_for_good = settling._judged
    monkeypatch.setattr(settling, "_judged", judge)
    wished("launch_complete", {"charging": "alternator_external_regulator"})
    assert len(judged) > 4
    best_left, best = judged[0]
    for number, (left, target) in enumerate(judged):
        assert all(target != before for _, before in judged[:number])
        assert target.edits[: len(best.edits)] == best.edits
        if left < best_left:
            best_left, best = left, target


class TestConversion:
    @pytest.fixture(scope="class")
    @staticmethod
    def tractor():
        systems = {"charging": "alternator_one_wire", "ignition": "trigger_module_full_voltage"}
        wish = {"voltage_v": 12.0, "ground": "negative", "output_a": 42.0}
        return wished(str(PROFILES / "tractor_with_work_lamp.toml"), systems, **wish)

    def test_six_volts_become_twelve_without_a_new_danger_or_warning(self, tractor):
        made, _ = tractor
        assert made.left == ()
        assert not [f for f in grave(made.configuration) if f.severity is Severity.DANGER]
        vehicle = made.configuration.vehicle
        assert (vehicle.voltage_v, vehicle.ground) == (12.0, "negative")

    def test_battery_bulbs_gauge_and_ammeter_are_exchanged(self, tractor):
        part = tractor[0].configuration.component
        assert part("battery").ratings["emf"] == pytest.approx(12.6)
        assert part("battery").ratings["capacity"] == pytest.approx(45)
        lamps = ("headlamp_left", "headlamp_right", "tail_lamp", "fuel_gauge", "work_lamp")
        assert {part(role).ratings["rated_voltage"] for role in lamps} == {12.0}
        assert part("work_lamp").ratings["power"] == 35.0
        assert part("ammeter").ratings["range"] >= 42.0
        assert part("alternator").ratings["rated_output"] == 42.0

    def test_the_owners_lamp_and_measured_cable_stay(self, tractor):
        made, _ = tractor
        assert {"work-lamp", "work-lamp-feed"} <= set(made.configuration.wire_by_id)
        assert made.configuration.runs["starter-cable"].length_m == pytest.approx(2.1)

    def test_the_starter_is_a_question_with_both_answers(self, tractor):
        assert "starter-kept" in {question.code for question in tractor[0].target.questions}


class TestGround:
    def test_the_module_comes_in_the_version_for_the_ground_of_the_car(self):
        made, _ = wished("saloon_original", {"ignition": "trigger_module_full_voltage"})
        part = made.configuration.component("distributor")
        assert part.ratings["polarity"] == "positive ground only"
        assert {t.label for t in part.terminals} >= {"feed lead", "coil lead"}
        assert "positive ground" in part.rebuilt_with

    def test_the_module_of_the_first_year_is_exchanged_when_the_ground_changes_over(self):
        """Module now, alternator and negative ground next year: the second stage asks for both."""
        lines = """
[systems]
ignition = "trigger_module_full_voltage"
[overrides.distributor]
polarity = "positive ground only"
"""
        with car_file("saloon_original", lines) as now:
            systems = {"charging": "alternator_internal_din"}
            made, there = wished(now, systems, ground="negative")
        assert made.left == ()
        part = made.configuration.component
        assert part("distributor").ratings["polarity"] == "negative ground only"
        assert part("radio").ratings["polarity"] == "negative ground only"
        feed = made.configuration.wire_by_id["ignition-feed"]
        assert str(feed.end) == "coil.positive"
        assert feed.size == there.wire_by_id["ignition-feed"].size
