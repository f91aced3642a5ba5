"""Templates that are compiled once."""

import sys
from pathlib import Path

import pytest
from jinja2 import Environment, FileSystemLoader

from upgrade_planner.documents.shared.compiled import CompiledTemplates


@pytest.fixture
def said(tmp_path, monkeypatch):
    """What a template says, and how often one was compiled since."""
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    compiled = []

    class Counting(Environment):
        def compile(self, *arguments, **settings):
            compiled.append(arguments)
            return super().compile(*arguments, **settings)

    def say(text=None, settings=Path(__file__)):
        if text is not None:
            (tmp_path / "page").write_text(text)
        kept = CompiledTemplates(tmp_path / "kept", settings)
        made = Counting(loader=FileSystemLoader(tmp_path), bytecode_cache=kept)
        return made.get_template("page").render(), len(compiled)

    return say


def test_next_command_compiles_nothing(said):
    assert said("one") == ("one", 1)
    assert said() == ("one", 1)


def test_changed_template_is_compiled_anew(said):
    assert said("one") == ("one", 1)
    assert said("two") == ("two", 2)


def test_other_settings_compile_anew(said, tmp_path):
    other = tmp_path / "settings.py"
    other.write_text("trim = True")
    assert said("one") == ("one", 1)
    assert said(settings=other) == ("one", 2)


def test_spoilt_file_is_compiled_anew(said, tmp_path):
    assert said("one") == ("one", 1)
    (kept,) = (tmp_path / "kept").iterdir()
    kept.write_bytes(kept.read_bytes()[:-5])
    assert said() == ("one", 2)


def test_folder_that_cannot_be_written_is_no_fault(said, tmp_path):
    (tmp_path / "kept").write_text("a file where the folder should be")
    assert said("one") == ("one", 1)
    assert said() == ("one", 2)


def test_interpreter_that_writes_nothing_writes_no_template(said, tmp_path, monkeypatch):
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    assert said("one") == ("one", 1)
    assert not (tmp_path / "kept").exists()
