"""Lists and profiles on the screen in American or British words; commands stay as typed."""

import re
from functools import cache

from every_case import every_case

from upgrade_planner.documents.terminal.spoken import said
from upgrade_planner.jobs import target
from upgrade_planner.jobs.target import Wish, choices

QUESTIONS = (
    (),
    ("--pairs",),
    ("--systems",),
    ("--from", "saloon_original"),
)


@every_case("question", QUESTIONS)
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


def test_questions_and_proposals_speak_as_they_are_asked_to(run, tmp_path):
    (tmp_path / "answers.txt").write_text("voltage = 12\ncharging = dynamo\n", encoding="utf-8")
    call = ("describe", "--answers", "answers.txt", "-o", "my.toml", "--replace")
    assert "dynamo" in run(*call, cwd=tmp_path).stdout
    shown = run(*call, "--english", "us", cwd=tmp_path).stdout
    assert "generator" in shown
    assert not re.search(r"(?<![\w.-])dynamo(?![\w.-])", shown)


def test_a_dialogue_asks_in_the_english_wanted(run, tmp_path):
    asked = run("describe", "--english", "uk", cwd=tmp_path, text="\n" * 7).stdout
    assert "Which battery post is earthed?" in asked


def test_choices_of_a_target_speak_as_the_trade_of_the_car_or_as_asked_to(
    run, tmp_path, monkeypatch
):
    found = cache(lambda slot: tuple(choices("saloon_original", slot, Wish(), tmp_path)))
    monkeypatch.setattr(target, "choices", lambda car, slot, *_: found(slot))  # tried once
    call = ("target", "saloon_original", "--charging", "?")
    assert "dynamo with control box" in run(*call, cwd=tmp_path).stdout.lower()
    shown = run(*call, "--english", "us", cwd=tmp_path).stdout.lower()
    assert "generator with control box" in shown
    assert "(dynamo_control_box)" in shown


def test_what_came_of_a_form_speaks_as_asked_to(run, tmp_path):
    run("survey", "saloon_original", "-o", "form.csv", cwd=tmp_path)
    call = ("record", "saloon_original", "form.csv", "-o", "x.toml", "--replace", "--english")
    assert " dynamo," in run(*call, "uk", cwd=tmp_path).stdout
    assert " generator," in run(*call, "us", cwd=tmp_path).stdout
