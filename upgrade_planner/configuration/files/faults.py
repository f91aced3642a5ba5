"""Faults found while reading, before it is known on which line they stand."""

import datetime
import difflib
from collections.abc import Iterable, Iterator, Mapping

from attrs import define, field, frozen

from upgrade_planner.configuration.files.positions import (
    Position,
    Span,
    nearest_position,
    positions,
)
from upgrade_planner.configuration.model import KeyPath, Origin
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
    """

    origin: Origin
    subject: str
    found: str
    expected: str
    elsewhere: Origin | None = None


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


@define
class Sources:
    """The files read so far; each is scanned for places once, when a fault in it must be shown."""

    _texts: dict[str, str] = field(factory=dict)
    _spans: dict[str, Mapping[KeyPath, Span]] = field(factory=dict)

    def add_text(self, file: str, text: str) -> None:
        """Remembers the text of a TOML file."""
        self._texts[file] = text

    def add_places(self, file: str, spans: Mapping[KeyPath, Span]) -> None:
        """Remembers where things stand in a file that is not TOML."""
        self._spans[file] = spans

    def problem(self, fault: Fault) -> Problem:
        """The fault with line and column."""
        at, found = self._position(fault.origin), fault.found
        if fault.elsewhere is not None:
            found = found.replace(ELSEWHERE, self._place_words(fault.elsewhere))
        return Problem(
            file=fault.origin.file,
            line=at.line if at else 0,
            column=at.column if at else 0,
            subject=fault.subject,
            found=found,
            expected=fault.expected,
        )

    def _place_words(self, origin: Origin) -> str:
        at = self._position(origin)
        return f"in line {at.line} of {origin.file}" if at else f"in {origin.file}"

    def _position(self, origin: Origin) -> Position | None:
        if origin.file not in self._spans:
            self._spans[origin.file] = positions(self._texts.get(origin.file, ""))
        span = nearest_position(self._spans[origin.file], origin.path)
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
    return notation.shown(value)


def quoted(name: str, *, longest: int = LONGEST_NAME) -> str:
    """A name in quotes, cut if nobody would read all of it."""
    return f"'{name}'" if len(name) <= longest else f"'{name[:longest]}…'"


def with_article(noun: str) -> str:
    """The noun with `a` or `an`."""
    return f"an {noun}" if noun[:1] in "aeiou" else f"a {noun}"


def nearest(word: str, allowed: Iterable[str]) -> str:
    """The allowed word most like `word`, or "" if none is near."""
    choices = list(allowed)
    lowered = {choice.lower(): choice for choice in choices}
    short = word.lower()[:LONGEST_NAME]
    close = difflib.get_close_matches(short, lowered, n=1, cutoff=0.5)
    return lowered[close[0]] if close else ""


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
