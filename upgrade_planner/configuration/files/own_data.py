"""Tables that ship inside the package, each in the folder `data` beside the module that owns it."""

import csv
import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def data_rows(package: str, name: str) -> tuple[dict[str, str], ...]:
    """The rows of a CSV table, by the names of its columns; `package` is the owner's."""
    return tuple(csv.DictReader(_text(package, name).splitlines()))


def data_table(package: str, name: str) -> dict[str, Any]:
    """A TOML file as data; `package` is the owner's."""
    return tomllib.loads(_text(package, name))


def _text(package: str, name: str) -> str:
    return files(package).joinpath("data", name).read_text(encoding="utf-8")
