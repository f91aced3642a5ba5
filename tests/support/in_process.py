"""
The command line in this process: what one call read of the shipped profiles, the next has at hand.

A test that is about processes (bytes under another hash seed, imports, pipes, terminals) starts one
of its own, with `own_process`.
"""

import io
import sys
import warnings
from contextlib import redirect_stderr, redirect_stdout
from functools import cache

import pytest
from attrs import frozen

from upgrade_planner import cli
from upgrade_planner.library import collected as library
from upgrade_planner.library import proposing

NAMES = (
    "tractor_original",
    "tractor_upgraded",
    "van_as_found",
    "van_original_ballast",
    "van_original_resistance",
    "van_upgraded",
)

ENVIRONMENT = {
    "COLUMNS": "120",
    "SOURCE_DATE_EPOCH": "1772323200",
    "XDG_CONFIG_HOME": "/nowhere",
}
"""Lines long enough not to be broken in the middle of what a test looks for; a fixed date; no
settings of the person who runs the tests."""

_load_library = library.load_library


@cache
def few() -> library.Library:
    return _load_library(names=NAMES)


def load_few(say=lambda _: None, names=None):
    """Stands in for `load_library`: reads once, knows only a few configurations."""
    say("reading a few profiles")
    shipped = [one for one in few().shipped if names is None or one.name in names]
    return library.Library(shipped=tuple(shipped))


_trial = proposing.trial
_tried = {}


def tried_once(vehicle, systems, overrides):
    """Stands in for `trial` of proposals: the same systems are put into a vehicle once."""
    key = vehicle, str(sorted(systems.items())), str(sorted(overrides.items()))
    if key not in _tried:
        _tried[key] = _trial(vehicle, systems, overrides)
    return _tried[key]


@frozen
class Done:
    returncode: int
    stdout: str
    stderr: str


def run(*arguments, cwd, text="", **environment):
    """
    One call of the program: exit code, output, errors.

    Args:
        arguments: What is typed after the program's name.
        cwd: Folder it is called in.
        text: What is typed while it runs.
        environment: Variables, above those of `ENVIRONMENT`.
    """
    out, err = io.StringIO(), io.StringIO()
    with pytest.MonkeyPatch.context() as patch, warnings.catch_warnings():
        patch.chdir(cwd)
        for name, value in {**ENVIRONMENT, **environment}.items():
            patch.setenv(name, value)
        patch.setattr(sys, "argv", ["upgrade-planner", *map(str, arguments)])
        patch.setattr(sys, "stdin", io.StringIO(text))
        with redirect_stdout(out), redirect_stderr(err):
            code = _ended()
    return Done(code, out.getvalue(), err.getvalue())


def _ended():
    try:
        cli.main()
    except SystemExit as ended:
        return ended.code or 0
    return 0


def with_few(monkeypatch):
    """`run` over a library of a few shipped configurations."""
    monkeypatch.setattr(library, "load_library", load_few)
    monkeypatch.setattr(proposing, "trial", tried_once)
    return run
