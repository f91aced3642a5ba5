"""Rules on starter and solenoid: each fires on its mistake and keeps silent on sound wiring."""

from every_case import every_case
from planting import planted, rules_of
from starting_mistakes import MISTAKES

from upgrade_planner.checks import (
    back_feeding,
    grounds,
    rated_voltage,
    starting,
    starting_kinds,
)
from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Severity

SUBJECTS = (starting, starting_kinds, rated_voltage)
RULES = rules_of(*SUBJECTS)
RULES += [back_feeding.solenoid_fed, grounds.metal_without_battery, grounds.cranking_return]
SOUND = [
    "van_original_ballast",
    "van_original_resistance",
    "tractor_original",
    "van_upgraded",
    "tractor_upgraded",
]


def found_in(configuration):
    examined = Examined(configuration=configuration)
    return [finding for rule in RULES for finding in rule(examined)]


@every_case("name", SOUND)
def test_sound_starting_raises_nothing(load, name):
    assert found_in(load(name)) == []


def test_engaged_starter_is_held_by_what_could_not_pull_it_in(tmp_path):
    """Both windings drop the back-feed to little; once pulled in, hold-in alone gets enough."""
    mistake = next(m for m in MISTAKES if m.id == "bypass-on-solenoid")
    examined = Examined(configuration=planted(mistake, "van_original_ballast", tmp_path))
    (finding,) = back_feeding.solenoid_fed(examined)
    assert finding.severity is Severity.DANGER
    ref = next(w for w in examined.configuration.wires if w.id == "start-bypass").start
    resting = examined.points["key_on"].live_v(ref)
    assert resting is not None
    assert resting < back_feeding.SOLENOID_HOLDS_V


def test_a_starter_without_the_ground_cable_is_told_by_its_own_rule_too(tmp_path):
    mistake = next(m for m in MISTAKES if m.id == "ground-cable-gone")
    examined = Examined(configuration=planted(mistake, "tractor_original", tmp_path))
    (finding,) = starting.starter_not_grounded(examined)
    assert (finding.code, finding.where) == ("STA-GROUND", ("starter",))
