"""Reads one TOML file, with all its mistakes."""

from pathlib import Path
from typing import Any

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.syntax import parse_toml
from upgrade_planner.configuration.files.texts import A_PROFILE, read_text, refused
from upgrade_planner.errors import ConfigurationError, Problem


@frozen
class TomlFile:
    """One file as read: its name as given, its text, its data."""

    name: str
    path: Path
    text: str
    data: dict[str, Any]


def read_toml(path: Path) -> TomlFile:
    """
    The content of one TOML file.

    Raises:
        ConfigurationError: the file cannot be read, is too large, empty, not UTF-8 or not TOML.
    """
    file, problems = read_what_can_be_read(path)
    if file is None or problems:
        raise ConfigurationError(problems)
    return file


def read_what_can_be_read(path: Path) -> tuple[TomlFile | None, list[Problem]]:
    """
    The content of one TOML file and all its mistakes.

    A key given twice is a mistake that leaves a file to go on with; most others leave None.
    """
    name = str(path)
    try:
        text = read_text(path, "a TOML file")
    except ConfigurationError as error:
        return None, list(error.problems)
    data, problems = parse_toml(name, text)
    if problems and path.resolve().suffix.lower() != ".toml":
        # somebody else's file, named by mistake or on purpose: none of its lines are shown
        return None, [refused(name, "a file that is not TOML", A_PROFILE)]
    if data == {} and not problems:
        problems = [refused(name, "nothing but comments", A_PROFILE)]
        data = None
    return None if data is None else TomlFile(name, path, text, data), problems
