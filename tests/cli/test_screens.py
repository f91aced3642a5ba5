"""Screens: golden files in 80 columns, and what holds for every width."""

import re

import pytest
from every_case import every_case
from screens_shown import FOLDER, SCREENS, shown

COPIED = re.compile(r"upgrade-planner \w+")


@pytest.mark.parametrize("name", SCREENS)
def test_screen_is_as_it_was_looked_at(run, tmp_path, name):
    """After a change that is meant: `python -m tests.screens`, and look at the differences."""
    golden = (FOLDER / f"{name}.txt").read_text(encoding="utf-8")
    assert shown(run, name, tmp_path) == golden


@every_case("columns", [60, 120])
@every_case("name", ["compare", "check", "list", "show"])
def test_lines_break_between_words_in_any_width(run, tmp_path, name, columns):
    text = shown(run, name, tmp_path, columns)
    for line in text.splitlines():
        assert line == line.rstrip()
        assert len(line) <= columns or COPIED.search(line), line
    wide = set(shown(run, name, tmp_path, 1000).split())
    assert set(text.split()) <= wide, "a word was broken"


def test_golden_files_are_of_these_screens():
    assert {path.stem for path in FOLDER.iterdir()} == set(SCREENS)
