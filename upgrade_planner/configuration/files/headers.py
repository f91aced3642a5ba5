"""The first table of a profile, which names it, without reading the rest of the file."""

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from upgrade_planner.configuration.files.texts import read_text

Header = Mapping[str, Any]

_TABLE = r"^\[{kind}\][^\n]*\n(?:(?!\s*\[)[^\n]*\n)*"


def header_of(kind: str, path: Path) -> Header:
    """
    The table `[vehicle]`, `[system]` or `[configuration]` of a profile of that kind.

    Faults below it go unnoticed; whoever loads the profile is told.

    Raises:
        ConfigurationError: the file cannot be read, or has no such table and is faulty.
    """
    text = read_text(path, "a TOML file")
    found = re.search(_TABLE.format(kind=kind), text, re.MULTILINE)
    try:
        data = tomllib.loads(found.group()) if found else {}
    except ValueError:  # a text or list over several lines that looks like a table
        data = {}
    header: Header = (data if kind in data else _whole(path)).get(kind, {})
    return header


def _whole(path: Path) -> Header:
    from upgrade_planner.configuration.files.toml_files import read_toml  # slow, seldom needed

    return read_toml(path).data


def ancestry(name: str, headers: Mapping[str, Header]) -> tuple[str, ...]:
    """
    A configuration, what it is based on, and so on up to the one that names the vehicle.

    Returns:
        Names, the last the one with the vehicle; empty if they lead elsewhere than to a vehicle.
    """
    chain: list[str] = []
    following = name
    while following not in chain and isinstance(headers.get(following), Mapping):
        chain.append(following)
        header = headers[following]
        if isinstance(header.get("vehicle"), str):
            return tuple(chain)
        following = str(header.get("based_on", ""))
    return ()
