"""What must be true of one component or wire as a whole, wherever its parts were written."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from upgrade_planner.configuration.files.faults import (
    FieldFault,
    meant,
    one_of,
    quoted,
    with_article,
)
from upgrade_planner.configuration.kinds import Kind
from upgrade_planner.configuration.model import Conductor
from upgrade_planner.configuration.structuring.ratings import parse_ratings


def component_faults(
    kind: Kind, terminals: Sequence[str], ratings: Mapping[str, Any]
) -> Iterator[FieldFault]:
    """Terminals and ratings that its kind does not take, or misses."""
    yield from _terminal_faults(kind, terminals)
    # A required terminal that is missing is told once, not again where the ratings name it.
    _, faults = parse_ratings(kind, ratings, (*terminals, *kind.required_terminals))
    for fault in faults:
        yield fault.inside("ratings")


def _terminal_faults(kind: Kind, names: Sequence[str]) -> Iterator[FieldFault]:
    allowed = kind.optional_terminals
    missing = [required for required in kind.required_terminals if required not in names]
    misspelt = meant(names, (*kind.required_terminals, *(allowed or ()))) if missing else ()
    for required in missing:
        if required not in misspelt:
            found = f"{with_article(kind.words)} without the terminal '{required}'"
            yield FieldFault(found, f"terminals with '{required}'", inner=("terminals",))
    for index, name in enumerate(names):
        if name in names[:index]:
            found = f"the terminal {quoted(name)} a second time"
            yield FieldFault(found, "each terminal once", inner=("terminals", index))
        elif allowed is not None and name not in (*kind.required_terminals, *allowed):
            found = f"the terminal {quoted(name)} on {with_article(kind.words)}"
            yield FieldFault(found, _names_of(kind, name, allowed), inner=("terminals", index))


def _names_of(kind: Kind, name: str, allowed: Sequence[str]) -> str:
    choice = (*kind.required_terminals, *allowed)
    return (
        one_of(name, choice)
        if choice
        else f"none: {with_article(kind.words)} has no terminals of its own"
    )


def conductor_faults(conductor: str, *, has_ohms: bool) -> Iterator[FieldFault]:
    """Ohms belong to a resistance wire, and to nothing else."""
    is_resistance = conductor == Conductor.RESISTANCE
    if is_resistance and not has_ohms:
        yield FieldFault(
            "a resistance wire without its ohms", 'resistance = "1.35 ohm"', inner=("conductor",)
        )
    if has_ohms and not is_resistance:
        expected = 'conductor = "resistance wire" beside it, or no resistance'
        yield FieldFault("a resistance on plain wire", expected, inner=("resistance",))


def ends_faults(start: object, end: object) -> Iterator[FieldFault]:
    """A wire joins two terminals."""
    if start is not None and start == end:
        yield FieldFault("both ends on one terminal", "two different terminals", inner=("to",))
