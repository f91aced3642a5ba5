"""The command line in this process, over a library of a few shipped configurations."""

import io
import sys
from functools import cache

from attrs import frozen

from upgrade_planner import cli
from upgrade_planner.library import collected as library

NAMES = (
    "tractor_original",
    "tractor_upgraded",
    "van_as_found",
    "van_original_ballast",
    "van_original_resistance",
    "van_upgraded",
)

_load_library = library.load_library


@cache
def few() -> library.Library:
    return _load_library(names=NAMES)


def load_few(say=lambda _: None, names=None):
    """Stands in for `load_library`: reads once, knows only a few configurations."""
    shipped = [one for one in few().shipped if names is None or one.name in names]
    return library.Library(shipped=tuple(shipped))


@frozen
class Done:
    returncode: int
    stdout: str
    stderr: str


def runner(monkeypatch, capsys):
    """Calls the program with arguments, a folder and what is typed."""
    from upgrade_planner.jobs import upgrades

    monkeypatch.setattr(library, "load_library", load_few)
    monkeypatch.setattr(upgrades, "load_library", load_few)

    def run(*arguments, cwd, text=""):
        monkeypatch.chdir(cwd)
        monkeypatch.setattr(sys, "argv", ["upgrade-planner", *map(str, arguments)])
        monkeypatch.setattr(sys, "stdin", io.StringIO(text))
        capsys.readouterr()
        try:
            cli.main()
            code = 0
        except SystemExit as ended:
            code = ended.code
        shown = capsys.readouterr()
        return Done(code or 0, shown.out, shown.err)

    return run
