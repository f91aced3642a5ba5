"""Ratings of components: which a kind takes, in which dimension, from text to SI values."""

import re
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.faults import (
    FieldFault,
    SeveralFaults,
    meant,
    one_of,
    quoted,
    shown,
    with_article,
)
from upgrade_planner.configuration.kinds import Kind
from upgrade_planner.configuration.model import Joint
from upgrade_planner.configuration.structuring.connections import SIZES
from upgrade_planner.configuration.structuring.single_values import (
    choice_from,
    quantity_from,
    text_from,
)
from upgrade_planner.configuration.values.quantities import Dimension

FULL_TURN_DEG = 360

_ANGLE = re.compile(r"(\d+(?:\.\d+)?)\s*(?:deg|°)", re.ASCII)
_LARGEST_COUNT = 1000
_FUSE_KEYS = ("from", "to", "rating")
_EXAMPLES = {
    "voltage": '"12.6 V"',
    "current": '"42 A"',
    "resistance": '"1.5 ohm"',
    "power": '"2 W"',
    "count": "6",
    "angle": '"38 deg"',
    "blade": '"6.3 mm"',
    "polarity": '"negative ground only"',
    "field circuit": '"A"',
    "positions": '{ off = [], on = [["in", "out"]] }',
    "fuses": '[ { from = "supply", to = "lamps", rating = "20 A" } ]',
}


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
            faults.append(fault.inside(name))
        except SeveralFaults as several:
            faults += [fault.inside(name) for fault in several.field_faults()]
    missing = kind.required_ratings - set(raw)
    for name in sorted(missing and missing - meant(raw, kind.ratings)):
        found = f"{with_article(kind.words)} without the rating '{name}'"
        faults.append(FieldFault(found, f"{name} = {_EXAMPLES[kind.ratings[name]]}"))
    return ratings, faults


def _rating(kind: Kind, name: str, value: Any, terminals: tuple[str, ...]) -> Any:
    if name not in kind.ratings:
        raise FieldFault(
            f"the rating {quoted(name)} on {with_article(kind.words)}", _ratings_of(kind, name)
        )
    word = kind.ratings[name]
    if word == "positions":
        return _positions(value, terminals)
    if word == "fuses":
        return _fuses(value, terminals)
    if word in _SIMPLE:
        return _SIMPLE[word](value)
    return quantity_from(value, Dimension[word.upper()], may_be_zero=name in kind.ratings_from_zero)


def _ratings_of(kind: Kind, name: str) -> str:
    return (
        one_of(name, kind.ratings)
        if kind.ratings
        else f"no ratings: {with_article(kind.words)} has none"
    )


def _count(value: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 < value <= _LARGEST_COUNT:
        expected = f"a whole number from 1 to {_LARGEST_COUNT}, without quotes"
        raise FieldFault(shown(value), expected)
    return value


def _angle(value: Any) -> float:
    match = _ANGLE.fullmatch(value.strip()) if isinstance(value, str) else None
    if match is None or not 0 < float(match[1]) <= FULL_TURN_DEG:
        raise FieldFault(shown(value), f'an angle up to {FULL_TURN_DEG} degrees, such as "38 deg"')
    return float(match[1])


def _blade(value: Any) -> str:
    return choice_from(text_from(value), SIZES[Joint.BLADE])


POLARITIES = ("either", "positive ground only", "negative ground only")
"""What a part with a marked polarity is made for."""


def _polarity(value: Any) -> str:
    return choice_from(text_from(value), POLARITIES)


FIELD_CIRCUITS = ("A", "B")
"""Where the field of a dynamo ends: A, at the regulator, which grounds it; B, on the dynamo's own
frame, so that the regulator feeds it."""


def _field_circuit(value: Any) -> str:
    return choice_from(text_from(value), FIELD_CIRCUITS)


_SIMPLE: dict[str, Callable[[Any], Any]] = {
    "text": text_from,
    "count": _count,
    "angle": _angle,
    "blade": _blade,
    "polarity": _polarity,
    "field circuit": _field_circuit,
}


def _positions(value: Any, terminals: tuple[str, ...]) -> dict[str, tuple[tuple[str, ...], ...]]:
    if not isinstance(value, dict) or not value:
        raise FieldFault(shown(value), f"positions such as {_EXAMPLES['positions']}")
    faults = [
        fault.inside(position)
        for position, groups in value.items()
        for fault in _position_faults(position, groups, terminals)
    ]
    if faults:
        raise SeveralFaults(faults)
    return {name: tuple(map(tuple, groups)) for name, groups in value.items()}


def _position_faults(
    position: str, groups: Any, terminals: tuple[str, ...]
) -> Iterator[FieldFault]:
    where = f"position {quoted(position)}"
    if not isinstance(groups, list) or not all(isinstance(group, list) for group in groups):
        example = 'groups of joined terminals such as [["in", "out"]]'
        yield FieldFault(f"{where} without groups", example)
        return
    seen: list[Any] = []
    for index, group in enumerate(groups):
        if len(group) < 2:
            found = f"a group of {len(group)} in {where}"
            yield FieldFault(found, "two or more terminals that it joins", inner=(index,))
        for place, terminal in enumerate(group):
            yield from (f.inside(index, place) for f in _member(terminal, where, terminals, seen))


def _member(
    terminal: Any, where: str, terminals: tuple[str, ...], seen: list[Any]
) -> Iterator[FieldFault]:
    if terminal not in terminals:
        yield _no_terminal(terminal, f" in {where}", terminals)
    elif terminal in seen:
        found = f"terminal {quoted(terminal)} a second time in {where}"
        yield FieldFault(found, "each terminal once, all that are joined in one group")
    seen.append(terminal)


def _no_terminal(terminal: Any, where: str, terminals: tuple[str, ...]) -> FieldFault:
    if not isinstance(terminal, str):
        return FieldFault(f"{shown(terminal)}{where}", "the name of a terminal")
    if not terminals:
        return FieldFault(f"terminal {quoted(terminal)}{where}", "a part that has terminals")
    return FieldFault(f"no terminal {quoted(terminal)}{where}", one_of(terminal, terminals))


def _fuses(value: Any, terminals: tuple[str, ...]) -> tuple[FuseWay, ...]:
    if not isinstance(value, list) or not value:
        raise FieldFault(shown(value), f"fuses such as {_EXAMPLES['fuses']}")
    faults = [
        fault.inside(index)
        for index, entry in enumerate(value)
        for fault in _fuse_faults(entry, terminals)
    ]
    if faults:
        raise SeveralFaults(faults)
    return tuple(FuseWay(fuse["from"], fuse["to"], _fuse_current(fuse["rating"])) for fuse in value)


def _fuse_faults(entry: Any, terminals: tuple[str, ...]) -> Iterator[FieldFault]:
    if not isinstance(entry, dict):
        yield FieldFault(f"{shown(entry)} as a fuse", f"fuses such as {_EXAMPLES['fuses']}")
        return
    for key in entry:
        if key not in _FUSE_KEYS:
            found = f"unknown key {quoted(key)} of a fuse"
            yield FieldFault(found, one_of(key, _FUSE_KEYS), inner=(key,))
    for key in _FUSE_KEYS:
        if key not in entry:
            yield FieldFault(f"a fuse without '{key}'", f"fuses such as {_EXAMPLES['fuses']}")
    for key in ("from", "to"):
        if key in entry and entry[key] not in terminals:
            yield _no_terminal(entry[key], "", terminals).inside(key)
    if "from" in entry and entry["from"] == entry.get("to"):
        found = "a fuse with both ends on one terminal"
        yield FieldFault(found, "two different terminals", inner=("to",))
    try:
        _fuse_current(entry.get("rating", "1 A"))
    except FieldFault as fault:
        yield fault.inside("rating")


def _fuse_current(value: Any) -> float:
    return quantity_from(value, Dimension.CURRENT, may_be_zero=False)
