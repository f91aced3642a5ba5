"""
What a person sets once for all commands: paper, units, English, the shop's folder.

From the environment, else from a settings file in the place where the system keeps those of
programs; an option on the command line comes before both.
"""

import os
from pathlib import Path

import typer

from upgrade_planner.cli.parameters import EnglishChoice, PaperChoice, UnitsChoice
from upgrade_planner.errors import ConfigurationError, PlannerError, Problem

PREFIX = "UPGRADE_PLANNER_"
"""Of the variables: UPGRADE_PLANNER_PAPER and so on."""
FILE_VARIABLE = f"{PREFIX}SETTINGS"
"""Another place of the settings file."""

CHOICES = {"paper": PaperChoice, "units": UnitsChoice, "english": EnglishChoice}
SHOP = "shop"
KEYS = (*CHOICES, SHOP)

TAKEN_BY = {
    "paper": ("worksheet", "drawings", "survey", "kit", "quote", "start"),
    "units": (
        "worksheet",
        "drawings",
        "survey",
        "kit",
        "quote",
        "compare",
        "check",
        "show",
        "start",
    ),
    "english": (
        "worksheet",
        "drawings",
        "survey",
        "kit",
        "quote",
        "compare",
        "check",
        "readings",
        "start",
    ),
    SHOP: ("kit", "quote", "start"),
}
"""Commands that have an option of that name."""


def settings_file() -> Path:
    """Where the settings file is, or would be."""
    named = os.environ.get(FILE_VARIABLE, "")
    return Path(named) if named else Path(typer.get_app_dir("upgrade-planner")) / "settings.toml"


def defaults_by_command() -> dict[str, dict[str, str]]:
    """
    Values in place of the program's own defaults, by command and option.

    Raises:
        PlannerError: a faulty settings file or variable; all that is wrong with it.
    """
    settings = {**_from_file(settings_file()), **_from_environment()}
    by_command: dict[str, dict[str, str]] = {}
    for key, value in settings.items():
        for command in TAKEN_BY[key]:
            by_command.setdefault(command, {})[key] = value
    return by_command


def _from_environment() -> dict[str, str]:
    found = {}
    for key in KEYS:
        text = os.environ.get(PREFIX + key.upper(), "").strip()
        if text:
            value, expected = _value(key, text, Path())
            if expected:
                raise PlannerError(f"{PREFIX}{key.upper()}: found '{text[:40]}'; {expected}")
            found[key] = value
    return found


def _from_file(path: Path) -> dict[str, str]:
    if not path.is_file():
        if os.environ.get(FILE_VARIABLE):
            raise PlannerError(f"{FILE_VARIABLE}: found no file {path}; expected a settings file")
        return {}
    from upgrade_planner.configuration.files.faults import one_of, quoted
    from upgrade_planner.configuration.files.positions import Position, nearest_position, positions
    from upgrade_planner.configuration.files.toml_files import read_toml

    file = read_toml(path)
    places = positions(file.text)
    found: dict[str, str] = {}
    problems = []
    for key, text in file.data.items():
        if key not in KEYS:
            said, wanted = f"the key {quoted(key)}", one_of(key, KEYS, limit=len(KEYS))
        elif not isinstance(text, str):
            said, wanted = f"{text!r}", 'a text, such as "Letter"'
        else:
            found[key], wanted = _value(key, text, path.parent)
            said = quoted(text)
        if wanted:
            span = nearest_position(places, (key,))
            where = span.key or span.value if span else Position(0, 0)
            problems.append(
                Problem(
                    file=str(path),
                    line=where.line,
                    column=where.column,
                    subject=key if key in KEYS else "",
                    found=said,
                    expected=wanted.removeprefix("expected "),
                )
            )
    if problems:
        raise ConfigurationError(problems)
    return found


def _value(key: str, text: str, folder: Path) -> tuple[str, str]:
    """The value as the option takes it, and what would be right if it is wrong; else ""."""
    if key == SHOP:
        shop = folder / Path(text).expanduser()
        return str(shop), "" if shop.is_dir() else "expected the folder of a shop"
    words = [choice.value for choice in CHOICES[key]]
    for word in words:
        if word.lower() == text.lower():
            return word, ""
    return text, f"expected one of {', '.join(words)}"
