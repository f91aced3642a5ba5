"""Ready pairs: upgrades that ship with the program, each named in the trade's plain words."""

from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.configuration.files.toml_files import read_toml
from upgrade_planner.errors import ConfigurationError, Problem


class ReadyPair(NamedTuple):
    """
    One upgrade: from a shipped configuration to another one.

    Attributes:
        family: Name of the file it stands in: the vehicle it is about.
        title: What is done, in plain words.
    """

    family: str
    title: str
    before: str
    after: str


def ready_pairs() -> tuple[ReadyPair, ...]:
    """
    All pairs of `profiles/pairs`, by file and in the order written.

    Raises:
        ConfigurationError: a file that cannot be read, or a pair without title, before or after.
    """
    folder = shipped_folder("profiles") / "pairs"
    return tuple(pair for path in sorted(folder.glob("*.toml")) for pair in _pairs_of(path))


def _pairs_of(path: Path) -> Iterator[ReadyPair]:
    for number, entry in enumerate(read_toml(path).data.get("pair", ()), 1):
        wanted = {"title", "before", "after"}
        if not isinstance(entry, dict) or set(entry) != wanted:
            found = f"pair {number} with the keys {', '.join(sorted(entry))}"
            problem = Problem(file=str(path), found=found, expected="title, before and after")
            raise ConfigurationError([problem])
        yield ReadyPair(family=path.stem, **entry)
