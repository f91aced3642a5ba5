"""`start`: from nothing to papers in one dialogue, left and taken up again."""

import pytest

from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.library.questions import questions

TRACTOR = {
    "name": "Blue tractor",
    "body": "tractor",
    "engine": "straight four",
    "voltage": "12",
    "ground": "-",
    "charging": "alternator",
    "ignition": "points with ballast resistor",
    "starting": "don't know",
    "battery_to_starter": "about 1,4 m",
}
WISH = ("", "", "ignition", "integral", "")
"""Voltage and ground as they are; one slot; no more."""


def lines(*rows):
    return "\n".join(rows) + "\n"


def described():
    asked = [question for question in questions() if question.key != "field_circuit"]
    return (*(TRACTOR.get(question.key, "") for question in asked), "1")


@pytest.fixture
def start(run, tmp_path):
    def call(*rows):
        (tmp_path / "answers.txt").write_text(lines(*rows), encoding="utf-8")
        return run("start", "--answers", "answers.txt", "--html", cwd=tmp_path)

    return call


def test_from_nothing_to_three_papers_in_two_sittings(start, tmp_path):
    done = start(*described())  # the answers end there: broken off
    assert done.returncode == 2
    assert "call it again to go on" in done.stderr
    assert {path.name for path in tmp_path.iterdir()} == {"answers.txt", "my_car.toml"}
    done = start("n", *WISH)
    assert done.returncode == 0, done.stderr
    assert "my_car.toml is there: going on from it." in done.stdout
    written = ("my_target.toml", "sheet.html", "kit.html", "quotation.html")
    assert all(name in done.stdout for name in written)
    assert all((tmp_path / name).exists() for name in written)
    car, target = load_sized(str(tmp_path / "my_car.toml"), str(tmp_path / "my_target.toml"))
    assert target.systems["ignition"] == "integral_coil_distributor"
    assert target.runs["starter-cable"].length_m == car.runs["starter-cable"].length_m == 1.4


def test_without_a_command_and_a_terminal_the_help_is_shown(run, tmp_path):
    done = run(cwd=tmp_path)
    assert "start" in done.stdout
    assert done.returncode == 2
