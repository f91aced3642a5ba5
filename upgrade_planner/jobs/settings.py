"""A person's settings from their file: the call behind what the command line takes from it."""

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from upgrade_planner.configuration.files.faults import one_of, quoted
from upgrade_planner.configuration.files.positions import nearest_position, positions
from upgrade_planner.configuration.files.toml_files import TomlFile, read_toml
from upgrade_planner.errors import ConfigurationError, Problem

Choices = Mapping[str, Sequence[str]]
"""Words that a setting may have, by its name; none for one that names a folder."""


def load_settings(path: Path, choices: Choices) -> dict[str, str]:
    """
    The settings of a file, words as the choices write them, folders as seen from the file.

    Raises:
        ConfigurationError: all that is wrong in it, by line.
    """
    file = read_toml(path)
    problems = list(_problems(file, choices))
    if problems:
        raise ConfigurationError(problems)
    return {key: setting(key, text, choices, path.parent)[0] for key, text in file.data.items()}


def setting(key: str, text: str, choices: Choices, folder: Path = Path()) -> tuple[str, str]:
    """
    One value as its option takes it, and what would be right if it is wrong; else "".

    Example:
        >>> setting("paper", "letter", {"paper": ("A4", "Letter")})
        ('Letter', '')
        >>> setting("paper", "A5", {"paper": ("A4", "Letter")})
        ('A5', 'one of A4, Letter')
    """
    if not choices[key]:
        named = folder / Path(text).expanduser()
        return str(named), "" if named.is_dir() else "an existing folder"
    for word in choices[key]:
        if word.lower() == text.lower():
            return word, ""
    return text, f"one of {', '.join(choices[key])}"


def _problems(file: TomlFile, choices: Choices) -> Iterator[Problem]:
    places = positions(file.text)
    for key, text in file.data.items():
        found, expected = _judged(key, text, choices, file.path.parent)
        span = nearest_position(places, (key,))
        if expected and span is not None:
            where = span.key or span.value
            yield Problem(
                file=file.name,
                line=where.line,
                column=where.column,
                subject=key if key in choices else "",
                found=found,
                expected=expected,
            )


def _judged(key: str, text: object, choices: Choices, folder: Path) -> tuple[str, str]:
    if key not in choices:
        return f"the key {quoted(key)}", one_of(key, choices, limit=len(choices))
    if not isinstance(text, str):
        return f"{text!r}"[:40], 'a text, such as "metric"'
    return quoted(text), setting(key, text, choices, folder)[1]
