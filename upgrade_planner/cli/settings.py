"""
What a person sets once for all commands: paper, units, English, the shop's folder.

From the environment, else from a settings file in the place where the system keeps those of
programs; an option on the command line comes before both.
"""

import os
from pathlib import Path

import typer

from upgrade_planner.cli.parameters import EnglishChoice, PaperChoice, UnitsChoice
from upgrade_planner.errors import PlannerError

PREFIX = "UPGRADE_PLANNER_"
"""Of the variables: UPGRADE_PLANNER_PAPER and so on."""
FILE_VARIABLE = f"{PREFIX}SETTINGS"
"""Another place of the settings file."""

SHOP = "shop"
CHOICES = {
    "paper": tuple(PaperChoice),
    "units": tuple(UnitsChoice),
    "english": tuple(EnglishChoice),
    SHOP: (),
}


def settings_file() -> Path:
    """Where the settings file is, or would be."""
    named = os.environ.get(FILE_VARIABLE, "")
    return Path(named) if named else Path(typer.get_app_dir("upgrade-planner")) / "settings.toml"


def defaults() -> dict[str, str]:
    """
    Values in place of the program's own defaults, by option; a command takes those it has.

    Raises:
        PlannerError: a faulty settings file or variable; all that is wrong with it.
    """
    return {**_from_file(settings_file()), **_from_environment()}


def _from_environment() -> dict[str, str]:
    given = {key: os.environ.get(PREFIX + key.upper(), "").strip() for key in CHOICES}
    return {key: _checked(key, text) for key, text in given.items() if text}


def _checked(key: str, text: str) -> str:
    from upgrade_planner.jobs.settings import setting

    value, expected = setting(key, text, CHOICES)
    if expected:
        raise PlannerError(f"{PREFIX}{key.upper()}: found '{text[:40]}'; expected {expected}")
    return value


def _from_file(path: Path) -> dict[str, str]:
    if path.is_file():
        from upgrade_planner.jobs.settings import load_settings

        return load_settings(path, CHOICES)
    if os.environ.get(FILE_VARIABLE):
        raise PlannerError(f"{FILE_VARIABLE}: found no file {path}; expected a settings file")
    return {}
