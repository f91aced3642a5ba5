"""The readings of a plan as its pages show them: numbered, with leads, ranges and limits."""

from collections.abc import Iterator

from upgrade_planner.configuration.model import Configuration
from upgrade_planner.documents.words.standing import reading_words
from upgrade_planner.documents.worksheet.reading_rows import (
    leads,
    outside_words,
    side_words,
    terminal_at,
)
from upgrade_planner.documents.worksheet.views import ReadingView
from upgrade_planner.planning.operations import Procedure
from upgrade_planner.planning.plan import Plan
from upgrade_planner.planning.standing_data import Reading
from upgrade_planner.readings.expecting import Expectation


class ReadingWriter:
    """Writes the readings of one plan; T1 comes first, and so does source 1."""

    def __init__(self, plan: Plan, units: str) -> None:
        self._plan = plan
        self._numbers = {r.id: f"T{n}" for n, r in enumerate(plan.readings, start=1)}
        self._words = {reading.id: reading_words(reading, units) for reading in plan.readings}
        named = (self._words[r.id].source for r in plan.readings if r.limit)
        self.sources = tuple(dict.fromkeys(source for source in named if source))

    def views(self) -> Iterator[ReadingView]:
        """All of them."""
        yield from map(self._view, self._plan.readings)

    def views_in(self, procedure: Procedure) -> Iterator[ReadingView]:
        """Those that are taken in one step."""
        placed: set[str] = set()
        for reading in self._plan.readings_in(procedure):
            yield self._view(reading, placed)

    def _view(self, reading: Reading, placed: set[str] | None = None) -> ReadingView:
        """One; the place of a part is told once, `placed` has those that have been told."""
        before, after = self._plan.comparison.before, self._plan.comparison.after
        expectation = self._plan.expected[reading.id]
        red, black = leads(expectation.after, after, placed)
        words = self._words[reading.id]
        return ReadingView(
            number=self._numbers[reading.id],
            state=words.condition,
            red=red,
            black=black,
            before=_before_words(expectation, before),
            predicted=side_words(expectation.after),
            limit=words.limit if reading.limit else "",
            source=self._source(words.source) if reading.limit else "",
            unit=reading.unit,
            if_not=outside_words(words, expectation.suspects, after),
        )

    def _source(self, source: str) -> str:
        return str(self.sources.index(source) + 1) if source else ""


def _before_words(expectation: Expectation, before: Configuration) -> str:
    """
    The range before, with its terminal if that is another than after.

    Empty where it tells nothing: it could not be measured, or the meter shows the same as after.
    """
    was, becomes = expectation.before.expected, expectation.after.expected
    if was is None or (becomes and was.low_v <= becomes.high_v and becomes.low_v <= was.high_v):
        return ""
    words = side_words(expectation.before)
    old, new = expectation.before.placed, expectation.after.placed
    if old is not None and new is not None and old.live != new.live:
        return f"{words} at {terminal_at(old.live, before)}"
    return words
