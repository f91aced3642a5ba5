"""The recipe of the contributor guide for a new component kind, followed to the letter."""

import json
import os
import shutil
import subprocess
import sys

import pytest
from as_data import data_of
from places import ROOT
from recipes import blocks_of_recipe

BASE = "van_upgraded"

CONFIGURATION = f"""
[configuration]
title = "The upgraded van with a shunt in its main feed"
summary = "For a meter on the dash."
based_on = "{BASE}"

[changes]
change_wires = [{{ id = "main-feed", to = "shunt.in" }}]

[[changes.add_wires]]
id = "shunt-feed"
circuit = "main feed"
from = "shunt.out"
to = "distribution.stud"
size = "8 SAE"
colour = "RD"
insulation = "GXL"
length = "0.3 m"
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """A copy of the program with the kind of the recipe, and a configuration that uses it."""
    folder = tmp_path_factory.mktemp("recipe")
    for name in ("upgrade_planner", "profiles", "templates"):
        shutil.copytree(ROOT / name, folder / name)
    kind, part = blocks_of_recipe("A component kind")
    kinds = folder / "upgrade_planner/configuration/data/kinds.toml"
    kinds.write_text(kinds.read_text(encoding="utf-8") + "\n" + kind, encoding="utf-8")
    (folder / "shunted.toml").write_text(CONFIGURATION + "\n" + part, encoding="utf-8")
    return folder


CALLS = {
    "base": ("check", BASE, "--json"),
    "new": ("check", "shunted.toml", "--json"),
    "compared": ("compare", BASE, "shunted.toml"),
    "planned": ("worksheet", BASE, "shunted.toml", "--date", "2026-01-02", "-o", "plan.json"),
}

ALL = """
import contextlib, io, json, sys
from upgrade_planner import cli
printed = {}
for name, sys.argv[1:] in json.loads(sys.argv.pop()).items():
    with contextlib.redirect_stdout(io.StringIO()) as out:
        try:
            cli.main()
        except SystemExit as ended:
            assert ended.code in (None, 0, 1), ended.code
    printed[name] = out.getvalue()
print(json.dumps(printed))
"""


@pytest.fixture(scope="module")
def printed(folder):
    """What the copy prints, in one process."""
    run = subprocess.run(
        [sys.executable, "-c", ALL, json.dumps(CALLS)],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(folder), "COLUMNS": "200"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    return json.loads(run.stdout)


def test_check_says_nothing_of_the_new_kind(printed):
    """
    No false danger, no warning that the part did not earn: the findings are those of its base.
    """
    base, new = (
        sorted((finding["code"], finding["severity"]) for finding in data_of(told)["findings"])
        for told in (printed["base"], printed["new"])
    )
    assert new == base


def test_compare_fits_it_and_moves_one_end_of_the_feed(printed):
    lines = [line.split() for line in printed["compared"].splitlines()]
    told = {(words[1], words[0]) for words in lines if len(words) > 1}
    assert {("shunt", "ADD"), ("shunt-feed", "ADD"), ("main-feed", "MOVE")} <= told


@pytest.mark.usefixtures("printed")
def test_work_sheet_plans_it(folder):
    """
    The feed stays whole behind it: the shunt is fitted, its two wires are joined, and no reading
    expects a gap there.
    """
    plan = data_of((folder / "plan.json").read_text(encoding="utf-8"))
    lines = [step["line"] for step in plan["steps"]]
    assert "Connect wire shunt-feed to shunt.out." in lines
    before, after = (
        {reading["id"]: reading[side] for reading in plan["readings"]}
        for side in ("before", "after")
    )
    for name, expected in after.items():
        if expected is not None and before[name] is not None:
            assert abs(expected["nominal_v"] - before[name]["nominal_v"]) < 0.1, name
