"""The kinds of component and the circuits that profiles may name; data beside this module."""

import tomllib
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from upgrade_planner.configuration.files.own_data import data_table
from upgrade_planner.configuration.kinds import (
    JOINS_ONLY,
    Capability,
    Family,
    Kind,
    Passage,
    Passing,
    TerminalUse,
    When,
)
from upgrade_planner.errors import ConfigurationError, Problem

_DATA = Path(__file__).parent / "data"
_FILE = "kinds.toml"

_LISTS = ("positions", "fuses")
"""Dimensions of ratings that list what is joined to what."""

_JOINED = (Passing.CONTACT, Passing.RESISTANCE, Passing.DIODE)
"""What a kind can pass without a model of its own."""

_EXPECTED = {
    "words": "what people call it",
    "letter": "its class letter of IEC 81346-2",
    "terminals": "a list of the terminals that it must have",
    "ratings": "a table of its ratings and their dimensions; {} if it has none",
    "family": "one of " + ", ".join(Family),
    "model": f'the name of its electrical model, or "{JOINS_ONLY}"',
    "passes": "a list of what passes a current; [] if nothing does",
    "fed": "a list of the terminals that the battery must reach, or fed_at_one_of; [] if none",
    "returns": "a list of the terminals that return its current; [] if it has none",
}
"""Keys that every kind has, and what stands there."""


@cache
def kinds() -> Mapping[str, Kind]:
    """
    All kinds by id, from data/kinds.toml.

    Raises:
        ConfigurationError: a kind lacks an entry, or one says what cannot be; all faults at once.
    """
    return kinds_in((_DATA / _FILE).read_text(encoding="utf-8"))


def kinds_in(text: str) -> Mapping[str, Kind]:
    """The kinds that a text in the form of kinds.toml gives; raises as `kinds`."""
    data = tomllib.loads(text)
    problems = [problem for kind_id, entry in data.items() for problem in _problems(kind_id, entry)]
    if problems:
        raise ConfigurationError(problems)
    return {kind_id: _kind(kind_id, entry) for kind_id, entry in data.items()}


def _problems(kind_id: str, entry: dict[str, Any]) -> Iterator[Problem]:
    def problem(key: str, found: str, expected: str) -> Problem:
        return Problem(file=_FILE, subject=f"{kind_id}.{key}", found=found, expected=expected)

    known = {*entry, *(["fed"] if "fed_at_one_of" in entry else [])}
    missing = [key for key in _EXPECTED if key not in known]
    if missing:
        yield from (problem(key, "nothing", _EXPECTED[key]) for key in missing)
        return
    for key, value, words in _chosen(entry):
        if value not in list(words):
            yield problem(key, repr(value), "one of " + ", ".join(words))
    if entry.get("optional_terminals") != "any":
        has = {*entry["terminals"], *entry.get("optional_terminals", [])}
        for key, name in _named(entry):
            if name not in has:
                yield problem(key, repr(name), "one of its terminals")
    for passage in entry["passes"]:
        fault = _passage_fault(passage, entry)
        if fault:
            yield problem("passes", str(passage), fault)


def _chosen(entry: dict[str, Any]) -> Iterator[tuple[str, str, Iterable[str]]]:
    """Each value that stands for one of a few words: its key, itself, the words."""
    yield "family", entry["family"], Family
    for name in entry.get("plays", {}):
        yield "plays", name, TerminalUse
    for name in entry.get("capabilities", []):
        yield "capabilities", name, Capability
    for passage in entry["passes"]:
        yield "passes.as", passage.get("as", ""), Passing
        if "by" not in passage:
            yield "passes.when", passage.get("when", ""), When


def _named(entry: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """Each terminal that a key names, with the key."""
    for key in ("fed", "fed_at_one_of", "returns"):
        names = entry.get(key, [])
        yield from ((key, name) for name in names if names != "any")
    yield from (("plays", name) for name in entry.get("plays", {}).values())
    for passage in entry["passes"]:
        yield from (("passes", name) for name in passage.get("between", []))


def _passage_fault(passage: dict[str, Any], entry: dict[str, Any]) -> str:
    """What would be right instead of a passage; "" if it can be."""
    if "by" in passage:
        listed = [name for name, word in entry["ratings"].items() if word.rstrip("!") in _LISTS]
        if passage["by"] not in listed:
            return "by = a rating that lists positions or fuses"
    elif len(passage.get("between", [])) != 2:
        return "between = two terminals, or by = a rating that lists them"
    if entry["model"] != JOINS_ONLY:
        return ""
    if passage.get("as") not in _JOINED or passage.get("when") != When.ALWAYS:
        return f"without a model of its own: always, as one of {', '.join(_JOINED)}"
    needs = passage["as"] == Passing.RESISTANCE
    if needs and entry["ratings"].get("resistance") != "resistance!":
        return 'beside it the rating resistance = "resistance!"'
    return ""


def _kind(kind_id: str, entry: dict[str, Any]) -> Kind:
    optional = entry.get("optional_terminals", [])
    words = {name: word.rstrip("!") for name, word in entry["ratings"].items()}
    fed = entry["fed_at_one_of" if "fed_at_one_of" in entry else "fed"]
    return Kind(
        id=kind_id,
        words=entry["words"],
        spoken=tuple(entry.get("spoken", ())),
        letter=entry["letter"],
        required_terminals=tuple(entry["terminals"]),
        optional_terminals=None if optional == "any" else tuple(optional),
        ratings={name: word.removesuffix(" or zero") for name, word in words.items()},
        required_ratings=frozenset(n for n, w in entry["ratings"].items() if w.endswith("!")),
        ratings_from_zero=frozenset(n for n, word in words.items() if word.endswith(" or zero")),
        family=Family(entry["family"]),
        model=entry["model"],
        passes=tuple(_passage(passage, words) for passage in entry["passes"]),
        fed=None if fed == "any" else tuple(fed),
        one_feed_is_enough="fed_at_one_of" in entry,
        returns=tuple(entry["returns"]),
        plays=entry.get("plays", {}),
        capabilities=frozenset(map(Capability, entry.get("capabilities", []))),
    )


def _passage(passage: dict[str, Any], dimensions: Mapping[str, str]) -> Passage:
    by = passage.get("by", "")
    listed = When.BY_POSITION if dimensions.get(by) == "positions" else When.ALWAYS
    return Passage(
        between=tuple(passage.get("between", ())),
        by=by,
        passing=Passing(passage["as"]),
        when=listed if by else When(passage["when"]),
    )


@cache
def circuits() -> Mapping[str, str]:
    """Meaning of each circuit, by name, from data/circuits.toml."""
    return data_table(__package__, "circuits.toml")
