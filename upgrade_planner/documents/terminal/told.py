"""What `record` says when it is done: changes, doubts, findings, and what nobody looked at."""

from collections.abc import Iterable, Iterator
from pathlib import Path

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.structure import StructuralChange
from upgrade_planner.configuration.model import Vehicle
from upgrade_planner.documents.words.english import english_for, in_english
from upgrade_planner.documents.words.quantities import counted
from upgrade_planner.documents.words.structure import structural_words
from upgrade_planner.errors import Problem, printable
from upgrade_planner.inspection.recorded import Recorded


@frozen(kw_only=True)
class Outcome:
    """
    What came of a form.

    Attributes:
        target: The file that was written.
        wires: How many wires the profile has.
        recorded: Changes, doubts, findings, and what nobody looked at.
        is_survey: False for a spreadsheet of wires, in which nothing is left out.
        vehicle: The vehicle.
        base: Name of what the form was printed for.
        differences: What the new file says otherwise than that.
    """

    target: Path
    wires: int
    recorded: Recorded
    is_survey: bool
    vehicle: Vehicle
    base: str
    differences: tuple[StructuralChange, ...]


def unclear_words(left: Iterable[Problem]) -> tuple[str, ...]:
    """Answers that are not clear: where on the form, what was found, what would be right."""
    return tuple(
        printable(f"{_on_the_form(one)}{one.subject}: found {one.found}; expected {one.expected}")
        for one in left
    )


def _on_the_form(one: Problem) -> str:
    if one.page:
        return f"page {one.page}, "
    return f"row {one.line}, " if one.line else ""


def outcome_lines(outcome: Outcome, english: str = "") -> Iterator[str]:
    """
    Lines for the terminal; the same stands in the file, as comments.

    Args:
        outcome: What came of the form.
        english: `us` or `uk`; "" for that of the vehicle's trade.
    """
    result = outcome.recorded
    counts = (
        counted(result.changes, "change"),
        counted(len(result.findings), "finding"),
        counted(len(result.doubts), "doubt"),
    )
    yield f"{outcome.target}: {', '.join(counts)}"
    spoken = english_for(english, outcome.vehicle)
    yield from (in_english(line, spoken) for line in _told(outcome))


def _told(outcome: Outcome) -> Iterator[str]:
    result = outcome.recorded
    beside = tuple(structural_words(change) for change in outcome.differences)
    if result.left:
        yield f"{counted(len(result.left), 'answer')} left: not clear, and not taken over"
    for heading, texts in (
        ("Not clear", unclear_words(result.left)),
        ("Found, and written down nowhere", result.questions),
        (f"Otherwise than in {outcome.base}", beside),
        ("Measured, and not as computed", tuple(map(str, result.findings))),
        ("Taken over from a measured value", result.settings),
        ("Look at these again", result.doubts),
    ):
        if texts:
            yield f"{heading}:"
            yield from (printable(f"  {text}") for text in texts)
    if outcome.is_survey and result.not_looked_at:
        yield (
            f"Nobody looked at {len(result.not_looked_at)} of {outcome.wires} wires; they stand as "
            f"the profile has them: {', '.join(result.not_looked_at)}"
        )
    if result.parts_not_looked_at:
        parts = result.parts_not_looked_at
        yield f"Nobody looked at {len(parts)} parts: {', '.join(parts)}"
