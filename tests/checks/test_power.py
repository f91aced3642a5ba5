"""Rules on power and grounds: each fires on a planted mistake, each keeps silent on good wiring."""

from attrs import evolve
from every_case import every_case
from planting import Mistake, planted, rules_of
from power_mistakes import MISTAKES

from upgrade_planner.checks import examined as examined_module
from upgrade_planner.checks import grounds, polarity, power
from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Severity
from upgrade_planner.electrical.network.unsolvable import NotSolved

RULES = rules_of(power, polarity, grounds)
RULES.remove(polarity.wrong_ground_side)
ALL = [
    "van_upgraded",
    "tractor_upgraded",
    "van_original_resistance",
    "van_original_ballast",
    "tractor_original",
]


def codes(configuration, rules=RULES):
    examined = Examined(configuration=configuration)
    return {finding.code for rule in rules for finding in rule(examined)}


def as_found(text, base, tmp_path):
    mistake = Mistake(id="here", words="", bases=(base,), as_found=text, codes=())
    return planted(mistake, base, tmp_path)


@every_case("name", ALL)
@every_case("rule", RULES)
def test_shipped_configuration_keeps_the_rule_silent(load, rule, name):
    assert codes(load(name), [rule]) == set()


def test_every_rule_fires_somewhere(tmp_path):
    fired = set()
    for mistake in MISTAKES:
        examined = Examined(configuration=planted(mistake, mistake.bases[-1], tmp_path))
        fired |= {rule.__name__ for rule in RULES if list(rule(examined))}
    silent = {rule.__name__ for rule in RULES} - fired
    assert silent <= {"case_without_metal", "not_solved"}  # each has a test of its own below


def test_wiring_without_solution_is_a_danger_that_names_its_parts(load, monkeypatch):
    def unsolvable(configuration):
        raise NotSolved(["alternator"], ["alternator.output"], 12.0)

    monkeypatch.setattr(examined_module, "operating_points", unsolvable)
    (finding,) = power.not_solved(Examined(configuration=load("tractor_original")))
    assert finding.severity is Severity.DANGER
    assert "alternator" in finding.where


def test_lamp_grounded_by_its_case_on_a_place_without_metal(load):
    van = load("van_upgraded")
    places = tuple(evolve(p, metal="") if p.id == "rear_lamps" else p for p in van.places)
    examined = Examined(configuration=evolve(van, places=places))
    found = {name for finding in grounds.case_without_metal(examined) for name in finding.where}
    assert found == {"tail_lamp_left", "tail_lamp_right"}


def test_drain_between_the_two_limits_is_a_caution(tmp_path):
    mistake = next(item for item in MISTAKES if item.id == "clock-on-battery")
    examined = Examined(configuration=planted(mistake, "van_upgraded", tmp_path))
    assert [f.severity for f in power.key_off_drain(examined)] == [Severity.CAUTION]


def test_charge_lamp_in_series_with_the_field_counts_as_grounded(load):
    examined = Examined(configuration=load("van_original_resistance"))
    assert not list(power.load_without_return(examined))


def test_charge_lamp_without_its_wire_has_no_return(tmp_path):
    text = '[as_found]\nremove_wires = ["charge-lamp"]\n'
    examined = Examined(configuration=as_found(text, "van_upgraded", tmp_path))
    assert {f.where[0] for f in power.load_without_return(examined)} == {"charge_lamp"}
