"""Rules on the ignition: each fires on its mistake and keeps silent on sound wiring."""

import electronic_ignition_mistakes
import ignition_mistakes
from every_case import every_case
from planting import Mistake, planted, rules_of

from upgrade_planner.checks import (
    ignition,
    ignition_coil,
    ignition_discharge,
    ignition_tachometer,
    ignition_trigger,
    polarity,
)
from upgrade_planner.checks.examined import Examined

MISTAKES = [
    mistake
    for mistake in (*ignition_mistakes.MISTAKES, *electronic_ignition_mistakes.MISTAKES)
    if all(code.startswith("IGN-") or code == "PWR-GROUND-SIDE" for code in mistake.codes)
]
RULES = rules_of(ignition, ignition_coil, ignition_tachometer, ignition_trigger, ignition_discharge)
RULES.append(polarity.wrong_ground_side)
SOUND = [
    "van_original_ballast",
    "van_original_resistance",
    "tractor_original",
    "van_upgraded",
    "tractor_upgraded",
    "van_trigger_module",
    "van_full_voltage_points",
    "van_external_module",
    "van_discharge_unit",
    "van_discharge_unit_pick_up",
    "van_coil_pack",
    "tractor_trigger_module",
]


def found_in(configuration):
    examined = Examined(configuration=configuration)
    return [finding for rule in RULES for finding in rule(examined)]


@every_case("name", SOUND)
def test_sound_ignition_raises_nothing(load, name):
    assert found_in(load(name)) == []


def test_blue_cable_of_the_bakery_is_the_only_complaint(load):
    """The found cable bridges the resistance wire; the bypass is not blamed for it."""
    (finding,) = found_in(load("van_as_found"))
    assert finding.code == "IGN-BALLAST-BRIDGED"
    assert {"found-bypass", "ignition-resistance"} <= set(finding.where)


def test_resistance_is_seen_through_a_splice(tmp_path):
    """A splice between resistance wire and unit hides nothing."""
    mistake = Mistake(
        id="spliced",
        words="The new distributor was spliced to the end of the resistance wire.",
        bases=("van_upgraded",),
        as_found="""
[as_found]
change_wires = [
  { id = "ignition-feed", to = "old_joint.joint", size = "20 AWG", conductor = "resistance wire", resistance = "1.35 ohm" },
]
add_wires = [
  { id = "unit-end", circuit = "ignition feed", from = "old_joint.joint", to = "distributor.supply", size = "14 SAE", colour = "RD", insulation = "GXL", length = "0.3 m" },
]

[[as_found.add_component]]
role = "old_joint"
kind = "splice"
name = "Splice"
place = "engine_left"
terminals = [{ name = "joint", label = "", connection = "splice" }]
""",  # noqa: E501
        codes=(),
    )
    findings = found_in(planted(mistake, "van_upgraded", tmp_path))
    starved = [finding for finding in findings if finding.code == "IGN-STARVED"]
    assert starved[0].where == ("distributor", "ignition-feed")
