"""Lists and profiles on the screen in American or British words; commands stay as typed."""

import pytest

from upgrade_planner.documents.terminal.spoken import said

QUESTIONS = (
    (),
    ("--pairs",),
    ("--systems",),
    ("--from", "saloon_original"),
)


@pytest.mark.parametrize("question", QUESTIONS, ids=" ".join)
def test_a_list_speaks_as_it_is_asked_to(run, tmp_path, question):
    shown = run("list", *question, "--english", "us", cwd=tmp_path).stdout
    lines = [line.partition("upgrade-planner ")[0] for line in shown.splitlines()]
    assert any("generator" in line.lower() for line in lines)
    assert not [line for line in lines if " dynamo " in line]


def test_without_being_asked_upgrades_speak_as_the_trade_of_the_vehicle(run, tmp_path):
    assert "dynamo" in run("list", "--from", "saloon_original", cwd=tmp_path).stdout


def test_a_profile_is_shown_as_asked_for(run, tmp_path):
    shown = run("show", "van_upgraded", "--english", "uk", cwd=tmp_path).stdout
    assert "Engine earth" in shown
    assert "Engine ground" not in shown


def test_a_command_stays_as_it_is_typed():
    line = "A dynamo: upgrade-planner list --charging dynamo"
    assert said(line, "us") == "A generator: upgrade-planner list --charging dynamo"
