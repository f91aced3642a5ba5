"""What the fields of files mean, for a person who has the schema open."""

import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files
from typing import Any

_WHEREVER = "any"
_LIKE = {"WireChange": "WireEntry", "ComponentChange": "ComponentEntry"}
"""Tables that mean by their fields what another one means."""


@cache
def meanings() -> Mapping[str, Mapping[str, str]]:
    """Meaning by field, in the tables of which it is the meaning; `any` where none has its own."""
    return tomllib.loads((files(__package__) / "meanings.toml").read_text("utf-8"))


def meaning(table: str, field: str) -> str:
    """
    What a field means.

    Args:
        table: Name of the class, or of the key that holds the table.
        field: Name of the field.

    Returns:
        A sentence; "" if none is written.
    """
    return next(_meanings(table, field), "")


def with_meaning(schema: Mapping[str, Any], table: str, field: str) -> dict[str, Any]:
    """The schema of a field with its meaning, if one is written and it has none."""
    words = meaning(table, field)
    return {**({"description": words} if words else {}), **schema}


def _meanings(table: str, field: str) -> Iterator[str]:
    for name in (table, _LIKE.get(table, ""), _WHEREVER):
        if field in meanings().get(name, {}):
            yield meanings()[name][field]
