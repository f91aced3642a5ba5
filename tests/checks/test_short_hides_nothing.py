"""Beside a short circuit only its cause is shown, not what follows from it."""

from upgrade_planner.checks.causes import every
from upgrade_planner.checks.checking import check
from upgrade_planner.checks.consequences import HEAT_AND_DROP
from upgrade_planner.configuration.loading import load_configuration

HEAD = (
    '[configuration]\ntitle = "t"\nsummary = "s"\nbased_on = "van_original_ballast"\n[as_found]\n'
)
SHORT = (
    'add_wires = [ { id = "found", circuit = "ground", from = "main_junction.stud", '
    'to = "body_ground.stud", size = "10 SAE", colour = "BK", insulation = "GPT" } ]\n'
)
WORN_GROUNDS = (
    'change_wires = [ { id = "body-ground", size = "18 SAE", length = "9 m" }, '
    '{ id = "engine-strap", size = "18 SAE", length = "9 m" } ]\n'
)


def findings(tmp_path, text):
    path = tmp_path / "broken.toml"
    path.write_text(HEAD + text)
    return check(load_configuration(str(path)))


def test_short_is_named_and_its_consequences_are_not(tmp_path):
    found = findings(tmp_path, SHORT)
    assert found[0].code == "PWR-SHORT"
    assert "found" in found[0].where
    assert not [f.code for f in found if f.code.startswith(HEAT_AND_DROP)]


def test_worn_grounds_are_one_finding_with_every_part_in_it(tmp_path):
    (found,) = [f for f in every(findings(tmp_path, WORN_GROUNDS)) if f.code == "GND-LOADED"]
    assert {"headlamp_left_low", "heater_blower"} <= set(found.where)


def test_consequences_are_shown_where_there_is_no_short(tmp_path):
    codes = {f.code for f in every(findings(tmp_path, WORN_GROUNDS))}
    assert any(code.startswith(HEAT_AND_DROP) for code in codes)
