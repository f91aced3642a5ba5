"""Declarations of libraries that are parsed once."""

import sys

import cffi
import pytest

from upgrade_planner.documents.shared.declared import Declared

CLOCK = "struct moment { int day; }; long labs(long);"


@pytest.fixture
def declared(tmp_path, monkeypatch):
    """What declares, and how often something was parsed since."""
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    parsed = []

    def declare(text=CLOCK):
        made = Declared(lambda: parsed.append(text) or cffi.FFI(), tmp_path / "kept")
        made.cdef(text)
        return made, len(parsed)

    return declare


@pytest.mark.parametrize("times", [1, 2], ids=["parsed", "kept"])
def test_declares_as_the_library_does(declared, times):
    for _ in range(times):
        made, parsed = declared()
    assert parsed == 1
    moment = made.new("struct moment *", {"day": 3})
    assert (moment.day, made.sizeof("struct moment")) == (3, 4)
    assert made.dlopen(None).labs(-5) == 5
    assert made.cast("void *", 0) == made.NULL


def test_other_declarations_are_parsed_anew(declared):
    assert declared()[1] == 1
    assert declared("long labs(long);")[1] == 2


def test_spoilt_file_is_parsed_anew(declared, tmp_path):
    declared()
    (kept,) = (tmp_path / "kept").iterdir()
    kept.write_bytes(kept.read_bytes()[:-50])
    assert declared()[1] == 2
    assert declared()[1] == 2


def test_folder_that_cannot_be_written_is_no_fault(declared, tmp_path):
    (tmp_path / "kept").write_text("a file where the folder should be")
    assert [declared()[1] for _ in range(2)] == [1, 2]


def test_interpreter_that_writes_nothing_keeps_nothing(declared, tmp_path, monkeypatch):
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    assert [declared()[1] for _ in range(2)] == [1, 2]
    assert not (tmp_path / "kept").exists()
