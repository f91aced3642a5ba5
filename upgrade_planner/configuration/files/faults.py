"""Faults found while reading, before it is known on which line they stand."""

import datetime
from collections.abc import Iterable, Iterator, Mapping

from attrs import field

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.positions import (
    KeyPath,
    Origin,
    Position,
    Span,
    nearest_position,
    positions,
)
from upgrade_planner.configuration.values import notation
from upgrade_planner.errors import Problem

LONGEST_NAME = 60
"""Characters of a name that a message repeats; our assumption, no sensible name is longer."""

ELSEWHERE = "{elsewhere}"


@frozen
class Fault:
    """
    A problem at a key path of a file; its line is looked up only when it must be shown.

    Attributes:
        elsewhere: Another place that has to do with it; `found` names it as ELSEWHERE.
        misfit: File of a system that does not fit, at the first fault that tells so; else "".
    """

    origin: Origin
    subject: str
    found: str
    expected: str
    elsewhere: Origin | None = None
    misfit: str = ""


class FieldFault(ValueError):
    """A value that one field does not take; raised inside structure hooks."""

    def __init__(self, found: str, expected: str, *, inner: KeyPath = ()) -> None:
        self.found = found
        self.expected = expected
        self.inner = inner
        super().__init__(f"found {found}; expected {expected}")

    def inside(self, *outer: str | int) -> "FieldFault":
        """The same fault, seen from the table that holds the value."""
        return FieldFault(self.found, self.expected, inner=(*outer, *self.inner))


class SeveralFaults(ValueError):
    """Several independent faults inside one table."""

    def __init__(self, causes: Iterable[Exception]) -> None:
        self.causes = tuple(causes)
        super().__init__("; ".join(str(cause) for cause in self.causes))

    def field_faults(self) -> Iterator[FieldFault]:
        """Those that stand at a value."""
        return (cause for cause in self.causes if isinstance(cause, FieldFault))


class FaultInside(ValueError):
    """What is wrong inside one value of a table whose keys are free."""

    def __init__(self, key: str, cause: Exception) -> None:
        self.key = key
        self.cause = cause
        super().__init__(f"{key}: {cause}")


@frozen
class Sources:
    """
    Files that were read.

    Attributes:
        texts: Text of each TOML file by name.
        spans: Where things stand in files that are not TOML, by name.
    """

    texts: Mapping[str, str] = field(factory=dict)
    spans: Mapping[str, Mapping[KeyPath, Span]] = field(factory=dict)

    def __or__(self, other: "Sources") -> "Sources":
        """The files of both."""
        return Sources({**self.texts, **other.texts}, {**self.spans, **other.spans})

    def problems(self, faults: Iterable[Fault]) -> list[Problem]:
        """The faults with line and column; each file is scanned for places once, and if need be."""
        spans = dict(self.spans)
        return [self._problem(fault, spans) for fault in faults]

    def _problem(self, fault: Fault, spans: dict[str, Mapping[KeyPath, Span]]) -> Problem:
        at, found = self._position(fault.origin, spans), fault.found
        if fault.elsewhere is not None:
            other = self._position(fault.elsewhere, spans)
            where = f"line {other.line} of " if other else ""
            found = found.replace(ELSEWHERE, f"in {where}{fault.elsewhere.file}")
        return Problem(
            file=fault.origin.file,
            line=at.line if at else 0,
            column=at.column if at else 0,
            subject=fault.subject,
            found=found,
            expected=fault.expected,
            misfit=fault.misfit,
        )

    def _position(
        self, origin: Origin, spans: dict[str, Mapping[KeyPath, Span]]
    ) -> Position | None:
        if origin.file not in spans:
            spans[origin.file] = positions(self.texts.get(origin.file, ""))
        span = nearest_position(spans[origin.file], origin.path)
        return None if span is None else (span.key or span.value)


def shown(value: object) -> str:
    """
    A faulty value as a message repeats it: short, on one line, its type in words.

    Example:
        >>> shown("2,5 m"), shown([]), shown({}), shown(12)
        ('"2,5 m"', 'a list', 'a table', 'the bare number 12')
    """
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list | tuple):
        return "a list"
    if isinstance(value, datetime.date | datetime.time):
        return f"the date or time {value}"
    return notation.shown_scalar(value)


def quoted(name: str, *, longest: int = LONGEST_NAME) -> str:
    """A name in quotes, cut if nobody would read all of it."""
    return f"'{name}'" if len(name) <= longest else f"'{name[:longest]}…'"


def with_article(noun: str) -> str:
    """The noun with `a` or `an`."""
    return f"an {noun}" if noun[:1] in "aeiou" else f"a {noun}"


def nearest(word: str, allowed: Iterable[str]) -> str:
    """The allowed word most like `word`, or "" if none is near."""
    return next(iter(notation.nearest_words(word, allowed)), "")


def meant(given: Iterable[str], allowed: Iterable[str]) -> frozenset[str]:
    """
    The allowed words that misspelt ones probably stand for, so that they are not missed as well.

    Example:
        >>> sorted(meant(["colr", "size"], ["colour", "size"]))
        ['colour']
    """
    choices = frozenset(allowed)
    return frozenset(nearest(word, choices) for word in given if word not in choices)


def one_of(word: str, allowed: Iterable[str], *, limit: int = 12) -> str:
    """
    Text for "expected": the nearest name first, then the choice (shortened if long).

    Example:
        >>> one_of("bodi", ["body", "engine", "frame"])
        "'body', the nearest of: body, engine, frame"
        >>> one_of("wood", ["engine", "frame"])
        'one of: engine, frame'
    """
    choices = sorted(set(allowed))
    if not choices:
        return "nothing: there is nothing of that kind here"
    if len(choices) == 1:
        return f"'{choices[0]}'"
    guess = nearest(word, choices)
    shortened = ", ".join(choices[:limit]) + (", …" if len(choices) > limit else "")
    return f"'{guess}', the nearest of: {shortened}" if guess else f"one of: {shortened}"
