"""Every help: it lists all, fits a screen of 80 columns, and its examples work when copied."""

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import in_process
from every_case import every_case
from places import ROOT
from typer.main import get_command

from upgrade_planner.cli import app
from upgrade_planner.cli.application import GROUPS
from upgrade_planner.documents.shared import pdf

COMMANDS = get_command(app).commands
GROUPED = [name for _, names in GROUPS for name in names]
ORDER = ("shop", *(name for name in GROUPED if name not in ("shop", "start")))
"""A sequence in which each command finds what those before it wrote; `start` asks at a terminal."""


def examples(name):
    said = " ".join(COMMANDS[name].help.split())
    return re.findall(r"Example: (upgrade-planner .*?)(?= Example:| [A-Z][a-z]+ [^.]*\.|$)", said)


def test_every_command_is_in_a_group():
    assert sorted(GROUPED) == sorted(COMMANDS)
    assert len(set(GROUPED)) == len(GROUPED)


def test_every_command_has_a_row_in_the_table_of_readme():
    rows = re.findall(r"^\| `([a-z]+)", (ROOT / "README.md").read_text("utf-8"), re.MULTILINE)
    assert set(COMMANDS) <= set(rows)


@every_case("flag", ["-h", "--help"])
def test_groups_stand_in_order_and_no_line_is_cut(run, tmp_path, flag):
    said = run(flag, cwd=tmp_path, COLUMNS="80").stdout
    places = [said.index(f"\n{title}:\n") for title, _ in GROUPS]
    assert places == sorted(places)
    assert "..." not in said.partition("[OPTIONS]")[2].replace("COMMAND [ARGS]...", "")


@every_case("name", COMMANDS)
def test_help_of_a_command(run, tmp_path, name):
    said = run(name, "-h", cwd=tmp_path, COLUMNS="80").stdout
    assert max(map(len, said.splitlines())) <= 80
    assert "Example:" in said
    assert not re.search(r"<\w+|\{\w+|\\\[", said), "a name of the program's own types"


def test_examples_work_in_an_empty_folder(run, tmp_path, monkeypatch):
    """All but the engine for PDFs, which tests of papers ask for their pages."""
    monkeypatch.setattr(pdf, "worksheet_pdf", lambda *_, **__: b"%PDF")
    for name in ORDER:
        assert examples(name), name
        for line in examples(name):
            if name == "describe" and "--questions" not in line:
                continue  # asks at a terminal
            if name == "record":
                run("survey", "van_original_resistance", "-o", "form.csv", cwd=tmp_path)
            if name == "accept" and not (tmp_path / "my_shop/offers").exists():
                with_offers(run, tmp_path)
            _, *words = shlex.split(line)
            done = run(*words, cwd=tmp_path)
            assert done.returncode in (0, 1), f"{line}: {done.stderr}"


def with_offers(run, folder):
    """A shop with the offers that the examples name."""
    run("shop", "-o", "my_shop", cwd=folder)
    wanted = ("--shop", "my_shop", "--customer", "B. Person", "-o", "q.json")
    pair = ("van_original_ballast", "van_upgraded")
    run("quote", *pair, *wanted, "--number", "2026-041", cwd=folder)
    other = ("--or", "van_discharge_unit", "--number", "2026-042")
    run("quote", *pair, *wanted, *other, cwd=folder)


@every_case("name", COMMANDS)
def test_a_command_alone_is_the_same_as_among_all(name):
    alone = get_command(app.for_command(name)).commands
    assert list(alone) == [name]
    assert alone[name].help == COMMANDS[name].help
    assert [one.opts for one in alone[name].params] == [one.opts for one in COMMANDS[name].params]


def test_a_word_that_is_no_command_is_answered_with_one_like_it(run, tmp_path):
    done = run("chek", "van_upgraded", cwd=tmp_path)
    assert done.returncode == 2
    assert "No such command 'chek'. Did you mean 'check'?" in done.stderr


def test_no_command_is_left_out_of_the_sequence():
    assert set(ORDER) | {"start"} == set(COMMANDS)


@every_case(
    ("typed", "wanted"),
    [
        ("wor", {"worksheet"}),
        ("check van_u", {"van_upgraded"}),
        ("compare van_as_found van_u", {"van_upgraded"}),
        ("worksheet van_as_found van_upgraded --paper ", {"A4", "Letter"}),
        ("show --kind alternator_i", {"alternator_internal_regulator"}),
        ("show --schema veh", {"vehicle"}),
        ("list --fits wing", {"wing_relay_pickup"}),
        ("target van_as_found --lighting headlamp_rel", {"headlamp_relays"}),
        ("target van_as_found --charging headlamp_rel", set()),
    ],
)
def test_a_shell_completes_names(monkeypatch, tmp_path, typed, wanted):
    monkeypatch.setattr("__main__.__package__", None)  # else the program is called as pytest is
    done = in_process.run(cwd=tmp_path, **asked_by_a_shell(typed))
    assert set(done.stdout.split()) == wanted, done.stderr


def test_a_shell_asks_the_program_itself(tmp_path):
    done = subprocess.run(
        [Path(sys.executable).with_name("upgrade-planner")],
        cwd=tmp_path,
        env={**os.environ, **asked_by_a_shell("check van_u")},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.stdout.split() == ["van_upgraded"], done.stderr


def asked_by_a_shell(typed):
    return {
        "_UPGRADE_PLANNER_COMPLETE": "complete_bash",
        "COMP_WORDS": f"upgrade-planner {typed}",
        "COMP_CWORD": str(len(typed.split(" "))),
    }
