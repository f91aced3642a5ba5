"""Faults found while reading, before it is known on which line they stand."""

import difflib
from collections.abc import Iterable, Mapping

from attrs import frozen

from upgrade_planner.configuration.model import KeyPath, Origin
from upgrade_planner.configuration.positions import nearest_position, positions
from upgrade_planner.errors import Problem


@frozen
class Fault:
    """A problem at a key path of a file; its line is looked up only when it must be shown."""

    origin: Origin
    subject: str
    found: str
    expected: str


class FieldFault(ValueError):
    """A value that one field does not take; raised inside structure hooks."""

    def __init__(self, found: str, expected: str, *, inner: KeyPath = ()) -> None:
        self.found = found
        self.expected = expected
        self.inner = inner
        super().__init__(f"found {found}; expected {expected}")


class SeveralFaults(ValueError):
    """Several independent faults inside one table."""

    def __init__(self, causes: Iterable[Exception]) -> None:
        self.causes = tuple(causes)
        super().__init__("; ".join(str(cause) for cause in self.causes))


def nearest(word: str, allowed: Iterable[str]) -> str:
    """The allowed word most like `word`, or "" if none is near."""
    choices = list(allowed)
    lowered = {choice.lower(): choice for choice in choices}
    close = difflib.get_close_matches(word.lower(), lowered, n=1, cutoff=0.5)
    return lowered[close[0]] if close else ""


def one_of(word: str, allowed: Iterable[str], *, limit: int = 12) -> str:
    """Text for "expected": the nearest name first, then the choice (shortened if long)."""
    choices = sorted(allowed)
    guess = nearest(word, choices)
    shown = ", ".join(choices[:limit]) + (", …" if len(choices) > limit else "")
    listed = f"one of: {shown}" if choices else "nothing of that kind here"
    return f"'{guess}'? ({listed})" if guess else listed


def located(faults: Iterable[Fault], texts: Mapping[str, str]) -> list[Problem]:
    """Faults with line and column, found by scanning the faulty files once each."""
    scanned: dict[str, Mapping[KeyPath, object]] = {}
    problems = []
    for fault in faults:
        file = fault.origin.file
        if file not in scanned:
            scanned[file] = positions(texts.get(file, ""))
        span = nearest_position(scanned[file], fault.origin.path)  # type: ignore[arg-type]
        at = None if span is None else (span.key or span.value)
        problems.append(
            Problem(
                file=file,
                line=at.line if at else 0,
                column=at.column if at else 0,
                subject=fault.subject,
                found=fault.found,
                expected=fault.expected,
            )
        )
    return problems
