"""The kinds of component and the circuits that profiles may name; data beside this module."""

import tomllib
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from attrs import frozen

GENERATORS = ("alternator_internal_regulator", "alternator_external_regulator", "dynamo")
"""Kinds that charge the battery while the engine turns."""

_DATA = Path(__file__).parent / "data"


@frozen(kw_only=True)
class Kind:
    """
    A kind of component.

    Attributes:
        words: What people call it.
        letter: Class letter of IEC 81346-2.
        required_terminals: Functions it must have.
        optional_terminals: Functions it may have; None if any are allowed.
        ratings: Name of each rating and its dimension word.
        required_ratings: Names of the ratings that must be given.
        ratings_from_zero: Names of the ratings that may be zero; others are above.
    """

    id: str
    words: str
    letter: str
    required_terminals: tuple[str, ...]
    optional_terminals: tuple[str, ...] | None
    ratings: Mapping[str, str]
    required_ratings: frozenset[str]
    ratings_from_zero: frozenset[str]


@cache
def kinds() -> Mapping[str, Kind]:
    """All kinds by id, from data/kinds.toml."""
    data = tomllib.loads((_DATA / "kinds.toml").read_text(encoding="utf-8"))
    return {kind_id: _kind(kind_id, entry) for kind_id, entry in data.items()}


def _kind(kind_id: str, entry: dict[str, Any]) -> Kind:
    optional = entry.get("optional_terminals", [])
    words = {name: word.rstrip("!") for name, word in entry["ratings"].items()}
    return Kind(
        id=kind_id,
        words=entry["words"],
        letter=entry["letter"],
        required_terminals=tuple(entry["terminals"]),
        optional_terminals=None if optional == "any" else tuple(optional),
        ratings={name: word.removesuffix(" or zero") for name, word in words.items()},
        required_ratings=frozenset(n for n, w in entry["ratings"].items() if w.endswith("!")),
        ratings_from_zero=frozenset(n for n, word in words.items() if word.endswith(" or zero")),
    )


@cache
def circuits() -> Mapping[str, str]:
    """Meaning of each circuit, by name, from data/circuits.toml."""
    return tomllib.loads((_DATA / "circuits.toml").read_text(encoding="utf-8"))
