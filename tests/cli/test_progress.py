"""Every command tells a person at a terminal what takes its time, and nobody else."""

import io

import pytest
from readme_profiles import PUMP, write_profiles

from upgrade_planner.cli.application import app
from upgrade_planner.cli.parameters import Progress

ANSWERS = 'ignition = "points_ballast"\n'
DAY = ("--date", "2026-03-02")
PAIR = ("van_original_ballast", "van_upgraded")

BASED = '[configuration]\ntitle = "Mine"\nsummary = "Mine."\nbased_on = "{base}"\n'

CALLS = {
    "worksheet": (*PAIR, "-o", "out.json"),
    "compare": PAIR,
    "drawings": (*PUMP, "-o", "out.html"),
    "kit": (*PAIR, "-o", "out.csv"),
    "quote": (*PAIR, "-o", "out.json"),
    "check": ("van_upgraded",),
    "readings": ("van_upgraded",),
    "survey": ("van_upgraded", "-o", "out.csv"),
    "record": ("van_upgraded", "form.json", "-o", "out.toml"),
    "list": ("--ignition", "ballast"),
    "show": ("van_upgraded",),
    "shop": ("-o", "shop"),
    "start": ("--answers", "no_form.txt", "--html"),
    "target": ("van_original_ballast", "--charging", "alternator_internal_din", "-o", "out.toml"),
    "describe": ("--answers", "answers.toml", "-o", "out.toml"),
    "invoice": ("q.json", "--number", "R-1", "-o", "out.json", "--date", "2026-03-20"),
}
"""What each command is called with; a command that is missing fails the first test."""

FIRST = {
    "invoice": (
        ("quote", *PAIR, "--number", "7", "--customer", "A. B.", "-o", "q.json", *DAY),
        ("accept", "q.json", *DAY),
    )
}
"""What is done before it."""

AT_ONCE = {"accept"}
"""It writes a few words into a file."""


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "form.json").write_text("{}")
    (tmp_path / "answers.toml").write_text(ANSWERS)
    (tmp_path / "no_form.txt").write_text("n\n")
    for name, base in zip(("my_car", "my_target"), PUMP, strict=True):
        (tmp_path / f"{name}.toml").write_text(BASED.format(base=base))
    return write_profiles(tmp_path)


class OnTerminal(io.StringIO):
    def isatty(self):
        return True


def test_each_command_is_called_here():
    named = {one.name or one.callback.__name__ for one in app.registered_commands}
    assert named == set(CALLS) | AT_ONCE


@pytest.mark.parametrize("command", CALLS)
def test_wait_explains_itself_on_a_terminal_only(command, run, folder, monkeypatch):
    said = []
    for before in FIRST.get(command, ()):
        assert run(*before, cwd=folder).returncode == 0
    monkeypatch.setattr(Progress, "say", lambda self, text: said.append(text))
    done = run(command, *CALLS[command], cwd=folder)
    assert done.returncode in (0, 1), done.stderr
    assert said
    assert done.stderr == ""


def test_line_is_wiped_at_the_end(monkeypatch):
    screen = OnTerminal()
    monkeypatch.setattr("sys.stderr", screen)
    monkeypatch.setenv("TERM", "xterm")
    with Progress() as progress:
        progress.say("computing all states")
    *_, last = screen.getvalue().split("computing all states …")
    assert "computing all states …" in screen.getvalue()
    assert "\x1b[2K" in last


def test_terminal_that_cannot_wipe_gets_nothing(monkeypatch):
    screen = OnTerminal()
    monkeypatch.setattr("sys.stderr", screen)
    monkeypatch.setenv("TERM", "dumb")
    with Progress() as progress:
        progress.say("computing all states")
    assert screen.getvalue() == ""


def test_pipe_gets_nothing(monkeypatch):
    pipe = io.StringIO()
    monkeypatch.setattr("sys.stderr", pipe)
    with Progress() as progress:
        progress.say("computing all states")
    assert pipe.getvalue() == ""
