"""Ratings of components: which a kind takes, in which dimension, from text to SI values."""

import re
from collections.abc import Mapping
from typing import Any

from attrs import frozen

from upgrade_planner.configuration.faults import FieldFault, one_of
from upgrade_planner.configuration.quantities import Dimension, QuantityError, parse_quantity
from upgrade_planner.configuration.registry import Kind

_ANGLE = re.compile(r"(\d+(?:\.\d+)?)\s*(?:deg|°)")
_LARGEST_COUNT = 1000


@frozen
class FuseWay:
    """One fuse of a fuse box: between which terminals, and its rating. [A]"""

    start: str
    end: str
    rated_current_a: float


def parse_ratings(
    kind: Kind, raw: Mapping[str, Any], terminals: tuple[str, ...]
) -> tuple[dict[str, Any], list[FieldFault]]:
    """Ratings in SI units, and a fault for each that is unknown, malformed or missing."""
    ratings: dict[str, Any] = {}
    faults: list[FieldFault] = []
    for name, value in raw.items():
        try:
            ratings[name] = _rating(kind, name, value, terminals)
        except FieldFault as fault:
            faults.append(FieldFault(fault.found, fault.expected, inner=(name, *fault.inner)))
    for name in sorted(kind.required_ratings - set(raw)):
        found = f"a {kind.words} without the rating '{name}'"
        faults.append(FieldFault(found, f"{name} = {_example(kind.ratings[name])}"))
    return ratings, faults


def _rating(kind: Kind, name: str, value: Any, terminals: tuple[str, ...]) -> Any:
    if name not in kind.ratings:
        raise FieldFault(f"rating '{name}' on a {kind.words}", one_of(name, kind.ratings))
    word = kind.ratings[name]
    if word == "positions":
        return _positions(value, terminals)
    if word == "fuses":
        return _fuses(value, terminals)
    return _simple(word, value)


def _simple(word: str, value: Any) -> float | int | str:
    if word == "text":
        if not isinstance(value, str) or not value.strip():
            raise FieldFault(repr(value), "a text")
        return value
    if word == "count":
        if isinstance(value, bool) or not isinstance(value, int) or not 0 < value < _LARGEST_COUNT:
            raise FieldFault(repr(value), "a whole number above 0, without quotes")
        return value
    if word == "angle":
        match = _ANGLE.fullmatch(value) if isinstance(value, str) else None
        if match is None:
            raise FieldFault(repr(value), 'an angle such as "38 deg"')
        return float(match.group(1))
    try:
        return parse_quantity(value, Dimension[word.upper()])
    except QuantityError as error:
        raise FieldFault(error.found, error.expected) from error


def _positions(value: Any, terminals: tuple[str, ...]) -> dict[str, tuple[tuple[str, ...], ...]]:
    if not isinstance(value, dict) or not value:
        raise FieldFault(repr(value), 'positions such as { off = [], on = [["in", "out"]] }')
    return {name: _groups(name, groups, terminals) for name, groups in value.items()}


def _groups(position: str, groups: Any, terminals: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    if not isinstance(groups, list) or not all(isinstance(group, list) for group in groups):
        raise FieldFault(
            repr(groups), 'groups of joined terminals such as [["in", "out"]]', inner=(position,)
        )
    for group in groups:
        for terminal in group:
            if terminal not in terminals:
                found = f"terminal '{terminal}' in position '{position}'"
                raise FieldFault(found, one_of(str(terminal), terminals), inner=(position,))
    return tuple(tuple(group) for group in groups)


def _fuses(value: Any, terminals: tuple[str, ...]) -> tuple[FuseWay, ...]:
    shape = '[ { from = "supply", to = "lamps", rating = "20 A" } ]'
    if not isinstance(value, list) or not value:
        raise FieldFault(repr(value), f"fuses such as {shape}")
    return tuple(_fuse(index, entry, terminals, shape) for index, entry in enumerate(value))


def _fuse(index: int, entry: Any, terminals: tuple[str, ...], shape: str) -> FuseWay:
    if not isinstance(entry, dict) or set(entry) != {"from", "to", "rating"}:
        raise FieldFault(repr(entry), f"a fuse such as {shape}", inner=(index,))
    for key in ("from", "to"):
        if entry[key] not in terminals:
            found = f"terminal '{entry[key]}'"
            raise FieldFault(found, one_of(str(entry[key]), terminals), inner=(index, key))
    try:
        rating = parse_quantity(entry["rating"], Dimension.CURRENT)
    except QuantityError as error:
        raise FieldFault(error.found, error.expected, inner=(index, "rating")) from error
    return FuseWay(entry["from"], entry["to"], rating)


def _example(word: str) -> str:
    examples = {
        "voltage": '"12.6 V"', "current": '"42 A"', "resistance": '"1.5 ohm"', "power": '"2 W"',
        "count": "6", "angle": '"38 deg"', "positions": '{ off = [], on = [["in", "out"]] }',
        "fuses": '[ { from = "supply", to = "lamps", rating = "20 A" } ]',
    }  # fmt: skip
    return examples.get(word, f"a {word}")
