"""Marks of terminals and colours of wires in all that is shipped: of a standard, or our own."""

import re
import tomllib

import pytest
from places import ROOT

GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("### Marks and colours")[2]
FILES = sorted((ROOT / "profiles").glob("*/*.toml")) + sorted((ROOT / "tests/profiles").glob("*"))
WAY = re.compile(r"\d+|.+ \(\d+\)")


def words_of_the_guide(title):
    """The words of a list in the guide."""
    return set(re.search(rf"^- {title}: (.*)$", GUIDE, re.MULTILINE).group(1).split())


def tables(value):
    """Every table in the data of a file, at any depth."""
    if isinstance(value, dict):
        yield value
    for inner in value.values() if isinstance(value, dict) else value:
        if isinstance(inner, dict | list):
            yield from tables(inner)


def marks_of(path):
    """Kind of part and mark of every terminal of a file."""
    for table in tables(tomllib.loads(path.read_text(encoding="utf-8"))):
        for terminal in table.get("terminals", []):
            yield table.get("kind"), terminal["label"]


def is_designation(mark, designations):
    """Whether each half is of the standard, with at most one letter of its own behind it."""
    return all(
        half in designations or (half[:-1] in designations and half[:-1].isdigit())
        for half in mark.split("/")
    )


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_marks_are_of_the_standard_or_plain_words(path):
    designations = words_of_the_guide("designations")
    words = words_of_the_guide("functions") | words_of_the_guide(
        "metal by which a part is grounded"
    )
    strange = {
        mark
        for kind, mark in marks_of(path)
        if not (
            set(mark.split()) <= words
            or is_designation(mark, designations)
            or (kind == "fuse_box" and WAY.fullmatch(mark))
        )
    }
    assert not strange
