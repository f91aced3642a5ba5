"""What README shows works: its profiles load, its example does what the text says."""

import re
import shlex

import in_process
import own_process
import pytest
from places import ROOT
from readme_profiles import README, write_profiles
from typer.testing import CliRunner

from upgrade_planner.checks.checking import check
from upgrade_planner.checks.findings import Severity
from upgrade_planner.cli import app
from upgrade_planner.comparison.comparing import compare
from upgrade_planner.comparison.part_changes import PartTakenOut
from upgrade_planner.comparison.wire_changes import Disposition, IntoTarget
from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.documents.shared import pdf


@pytest.fixture
def examples(tmp_path):
    """The profiles of README as files."""
    return write_profiles(tmp_path)


def test_every_configuration_of_readme_loads(examples):
    configurations = [p for p in examples.glob("*.toml") if "[configuration]" in p.read_text()]
    assert len(configurations) == 4
    for path in configurations:
        load_configuration(str(path))


def test_the_system_of_the_example_does_what_the_text_says(examples):
    mine = load_configuration(str(examples / "my_tractor.toml"))
    comparison = compare(load_configuration("tractor_original"), mine)
    gone = {c.before.id for c in comparison.wires if not isinstance(c, IntoTarget)}
    assert gone == {"ignition-feed", "coil-feed", "start-bypass", "points-lead"}
    assert isinstance(comparison.part_by_role["ballast"], PartTakenOut)


def test_the_small_vehicle_of_readme_is_whole_and_sound(examples):
    now, then = (load_configuration(str(examples / f"pump_{n}.toml")) for n in ("now", "to_be"))
    assert len(now.wires) == 10
    grave = (Severity.DANGER, Severity.WARNING)
    assert not [f for one in (now, then) for f in check(one) if f.severity in grave]
    fates = {c.disposition for c in compare(now, then).wires}
    assert fates == {Disposition.KEEP, Disposition.ADD, Disposition.MOVE}


def test_the_main_path_of_readme_works_literally(run, tmp_path):
    (path,) = re.findall(r"```sh\n(upgrade-planner describe.*?)```", README, re.DOTALL)
    answers = 'name = "Mine"\nbody = "farm tractor"\nvoltage = 12\nground = "-"\n'
    (tmp_path / "answers.toml").write_text(answers + 'battery_to_starter = "1.4 m"\n', "utf-8")
    for command in path.splitlines():
        done = run(*shlex.split(command)[1:], cwd=tmp_path)
        assert done.returncode in (0, 1), f"{command}: {done.stderr}"
    names = ("my_car", "my_real_car", "my_target")
    assert all((tmp_path / f"{name}.toml").exists() for name in names)
    assert "Mine" in (tmp_path / "sheet.html").read_text(encoding="utf-8")


CONSOLE = re.findall(r"```console\n\$ (upgrade-planner .*?)\n(.*?)```", README, re.DOTALL)
LEFT_OUT = "…"
AS_A_PERSON_STARTS_IT = "compare"
"""The command of the tour that takes the least time in a process of its own."""


@pytest.mark.parametrize(("command", "told"), CONSOLE, ids=[one.split()[1] for one, _ in CONSOLE])
def test_the_tour_prints_what_readme_shows(monkeypatch, tmp_path, command, told):
    monkeypatch.setattr(pdf, "worksheet_pdf", lambda *_, **__: b"%PDF")  # what is said is the same
    _, name, *words = shlex.split(command)
    start = own_process.run if name == AS_A_PERSON_STARTS_IT else in_process.run
    done = start(name, *words, cwd=tmp_path, COLUMNS="80")
    assert done.returncode in (0, 1), done.stderr
    printed, place = done.stdout.replace("\xa0", " "), 0
    for piece in told.split(f"{LEFT_OUT}\n"):
        assert piece in printed[place:], piece
        place = printed.index(piece, place) + len(piece)


def test_the_tour_has_four_commands():
    assert len(CONSOLE) == 4


def test_readme_is_short_before_the_grammar_and_has_no_long_line():
    front, _, _ = README.partition("## Describing your own vehicle")
    assert len(front.split()) <= 2400
    prose = re.sub(r"```.*?```", "", README, flags=re.DOTALL).splitlines()
    assert not [line for line in prose if len(line) > 300 and not line.startswith("|")]


def test_places_of_readme_exist():
    places = {
        re.sub(r"[^\w -]", "", title.lower()).replace(" ", "-")
        for title in re.findall(r"^##+ (.*)$", README, re.MULTILINE)
    }
    for target in re.findall(r"\]\(([^)]+)\)", README):
        assert (ROOT / target).exists() or target.removeprefix("#") in places, target


def test_commands_of_readme_are_known():
    names = set(
        re.findall(
            r"^\| `(\w+)[ `]", README.split("## Commands")[1].split("## From")[0], re.MULTILINE
        )
    )
    shown = CliRunner().invoke(app, ["--help"]).output
    listed = set(re.findall(r"^  (\w+)  ", shown, re.MULTILINE))
    assert names == listed


def test_vehicles_of_readme_are_those_that_ship():
    section = README.split("## What is in the library")[1].split("\n## ")[0]
    assert set(re.findall(r"^\| `(\w+)` ", section, re.MULTILINE)) == set(
        shipped_profiles("vehicle")
    )
