"""Reads one TOML file, with every way it can go wrong told in one line."""

import re
import tomllib
from pathlib import Path
from typing import Any

from attrs import frozen

from upgrade_planner.errors import ConfigurationError, Problem

LARGEST_FILE_BYTES = 1_000_000
"""Source: our assumption; the largest shipped profile is about a fiftieth of it."""

DEEPEST_NESTING = 50
"""Source: our assumption; profiles nest five deep."""

_AT = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)")
_STRINGS = re.compile(r"\"\"\".*?\"\"\"|'''.*?'''|\"(?:\\.|[^\"\\\n])*\"|'[^'\n]*'|#[^\n]*", re.S)


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
    name = str(path)
    text = _text(path, name)
    _refuse_deep_nesting(name, text)
    try:
        return TomlFile(name, path, text, tomllib.loads(text))
    except tomllib.TOMLDecodeError as error:
        raise _not_toml(name, text, error) from error
    except RecursionError as error:
        raise _refused(name, "brackets nested too deep", "a flat table") from error
    except ValueError as error:  # e.g. an integer of more than 4300 digits
        raise _refused(name, f"a value that TOML cannot hold ({error})", "plain values") from error


def _text(path: Path, name: str) -> str:
    if path.is_dir():
        raise _refused(name, "a folder", "a TOML file in it")
    try:
        size = path.stat().st_size
        if size > LARGEST_FILE_BYTES:
            found = f"a file of {size / 1e6:.1f} MB"
            raise _refused(name, found, f"at most {LARGEST_FILE_BYTES / 1e6:.0f} MB")
        raw = path.read_bytes()
    except OSError as error:
        found = f"a file that cannot be read ({error.strerror})"
        raise _refused(name, found, "a readable TOML file") from error
    try:
        text = raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        problem = Problem(
            file=name,
            line=line,
            column=1,
            found=f"byte 0x{raw[error.start]:02X}, which is not UTF-8 text",
            expected="a text file saved as UTF-8",
        )
        raise ConfigurationError([problem]) from error
    if not text.strip():
        raise _refused(name, "an empty file", "a profile; `upgrade-planner show` prints examples")
    return text.removeprefix("\N{BYTE ORDER MARK}")


def _refuse_deep_nesting(name: str, text: str) -> None:
    depth = 0
    for match in re.finditer(r"[\[{\]}]", _STRINGS.sub(_blank, text)):
        depth += 1 if match.group() in "[{" else -1
        if depth > DEEPEST_NESTING:
            line = text.count("\n", 0, match.start()) + 1
            column = match.start() - text.rfind("\n", 0, match.start())
            found = f"brackets nested more than {DEEPEST_NESTING} deep"
            problem = Problem(file=name, line=line, column=column, found=found, expected="a table")
            raise ConfigurationError([problem])


def _blank(match: re.Match[str]) -> str:
    return re.sub(r"[^\n]", " ", match.group())


def _not_toml(name: str, text: str, error: tomllib.TOMLDecodeError) -> ConfigurationError:
    message = str(error)
    at = _AT.search(message)
    lines = text.splitlines() or [""]
    line = int(at.group(1)) if at and at.group(1) else len(lines)
    column = int(at.group(2)) if at and at.group(2) else len(lines[-1]) + 1
    complaint = _AT.sub("", message)
    key = lines[min(line, len(lines)) - 1].split("=")[0].strip()
    if complaint.startswith("Cannot overwrite"):
        found, expected = f"'{key}' given a second time", _once(key, lines[:line])
    else:
        found, expected = f"text that is not TOML ({complaint})", 'TOML, such as key = "text"'
    problem = Problem(file=name, line=line, column=column, found=found, expected=expected)
    return ConfigurationError([problem])


def _once(key: str, lines: list[str]) -> str:
    table = next((line.strip() for line in reversed(lines) if line.lstrip().startswith("[")), "")
    if table == "[systems]":
        return f"one system for the slot '{key}'"
    return f"'{key}' once in {table or 'the file'}"


def _refused(name: str, found: str, expected: str) -> ConfigurationError:
    return ConfigurationError([Problem(file=name, found=found, expected=expected)])
