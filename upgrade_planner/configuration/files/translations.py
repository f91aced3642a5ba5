"""
What profiles and a shop's files say, in another language: `translations.LANGUAGE.toml` beside them.

Each line has a text as its author wrote it, and what stands for it. A text that no file translates
stays as written.
"""

from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path

from upgrade_planner.configuration.files.faults import quoted
from upgrade_planner.configuration.files.positions import nearest_position, positions
from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.configuration.files.toml_files import TomlFile, read_toml
from upgrade_planner.errors import ConfigurationError, Problem


def translations(language: str, folders: Iterable[Path]) -> Mapping[str, str]:
    """
    All translations into a language: those of the shipped profiles, then of each folder.

    Args:
        language: Two letters, as in the name of the file.
        folders: Where profiles and the shop's files lie; a later one comes before an earlier one.

    Raises:
        ConfigurationError: a file that cannot be read, or anything but texts in it.
    """
    found: dict[str, str] = {}
    for folder in dict.fromkeys([shipped_folder("profiles"), *folders]):
        path = folder / f"translations.{language}.toml"
        if path.is_file():
            found |= _table(path.resolve(), path.stat().st_mtime_ns)
    return found


@cache
def _table(path: Path, _: int) -> Mapping[str, str]:
    file = read_toml(path)
    if problems := list(_problems(file)):
        raise ConfigurationError(problems)
    return file.data


def _problems(file: TomlFile) -> Iterator[Problem]:
    places = positions(file.text)
    for key, value in file.data.items():
        if isinstance(value, str) and value.isprintable() and value.strip():
            continue
        span = nearest_position(places, (key,))
        at = (span.key or span.value) if span else None
        yield Problem(
            file=file.name,
            line=at.line if at else 0,
            column=at.column if at else 0,
            subject=quoted(key),
            found=quoted(str(value)),
            expected="a text without control characters that stands for it",
        )
