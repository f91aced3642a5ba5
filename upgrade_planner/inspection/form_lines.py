"""
What a person wrote on a survey form, line by line, as values; every fault in words.

Nothing is guessed: what cannot be read is a fault at its row and column.
"""

import re
from collections.abc import Callable, Iterable, Mapping
from difflib import get_close_matches
from math import inf
from typing import Any, TypeVar

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.conditions import GOOD, Condition, Conditions, ordered
from upgrade_planner.configuration.files.faults import FieldFault, one_of, quoted
from upgrade_planner.configuration.model import Conductor
from upgrade_planner.configuration.registry import circuits
from upgrade_planner.configuration.structuring.single_values import (
    quantity_from,
    text_from,
    with_nearest,
)
from upgrade_planner.configuration.tables.cells import decimal_point
from upgrade_planner.configuration.tables.spreadsheet import Row
from upgrade_planner.configuration.values.colours import Colour, parse_spoken_colour
from upgrade_planner.configuration.values.insulation import Insulation, parse_insulation
from upgrade_planner.configuration.values.notation import NotationError
from upgrade_planner.configuration.values.quantities import Dimension, QuantityError, parse_quantity
from upgrade_planner.configuration.values.sizes import WireSize, parse_wire_size
from upgrade_planner.configuration.values.spoken import spoken_length
from upgrade_planner.errors import Problem
from upgrade_planner.inspection.spoken_answers import (
    CIRCUIT_WORDS,
    CONDITIONS,
    ELSEWHERE,
    LIKE,
    NO,
    OTHER_CONDITIONS,
    SAID_ELSEWHERE,
    SAID_NO,
    SAID_NOTHING,
    SAID_YES,
    YES,
    condition_meant,
    is_bare,
)

T = TypeVar("T")

KINDS = ("wire", "part", "reading", "stranger", "added")
FREE_KINDS = ("stranger", "added")
"""Lines about what is not in the profile."""
PRINTED = (
    "line",
    "id",
    "place",
    "what",
    "from",
    "to",
    "size",
    "colour",
    "length",
    "measure",
    "expected",
)
FILLED = (
    "present",
    "from_found",
    "to_found",
    "size_found",
    "colour_found",
    "conductor_found",
    "insulation_found",
    "length_measured",
    "condition",
    "measured",
    "use_measured",
    "marked",
    "place_found",
    "circuit_found",
    "note",
)
FORM = "form"
"""Check code of the form, and of which vehicle it is."""
OF_VEHICLE = " of "
PAPERS = ("profile", "date")
"""Of which configuration the form is, and when it was printed; not read."""
COLUMNS = (*PRINTED, *FILLED, FORM, *PAPERS)

_OPEN = {"ol", "o.l.", "open", "open circuit", "∞"}
_ANY_OF = re.compile(r"\s*(?:[,;+/|&]|\band\b)\s*")


@frozen
class MeterReading:
    """
    A value from a meter.

    Attributes:
        value: [Ω or V]; infinite if the meter shows an open circuit.
        text: As written, with a decimal point.
    """

    value: float
    dimension: Dimension
    text: str


@frozen(kw_only=True)
class FormLine:
    """
    One line of the form, filled; what was left empty is None or "".

    Attributes:
        present: `yes`, `no`, `elsewhere` or "".
        start: The other `from` end that was written, as written.
        end: The other `to` end.
        conditions: As ticked, `good` included.
        use_measured: True if the measured resistance shall stand in the configuration.
    """

    kind: str
    id: str
    row: Row
    present: str = ""
    start: str = ""
    end: str = ""
    size: WireSize | None = None
    colour: Colour | None = None
    conductor: Conductor | None = None
    insulation: Insulation | None = None
    length: str = ""
    length_m: float | None = None
    conditions: tuple[str, ...] = ()
    measured: MeterReading | None = None
    use_measured: bool = False
    marked: str = ""
    place: str = ""
    circuit: str = ""
    note: str = ""

    @property
    def worn(self) -> Conditions:
        """What is wrong with it, by the boxes of its condition."""
        return ordered(Condition(word) for word in self.conditions if word != GOOD)

    @property
    def other_state(self) -> str:
        """Words under its state that are none of the form's; they stand in its note, too."""
        said = " ".join(self.row.cells.get("condition", "").split())
        parts = filter(None, _ANY_OF.split(said.lower()))
        return said if any(condition_meant(part) not in CONDITIONS for part in parts) else ""

    @property
    def subject(self) -> str:
        """What the line is about, for messages."""
        return f"{self.kind} {self.id}".strip()

    @property
    def called(self) -> str:
        """What the line is about, for people: what they named it, else as the form prints it."""
        if self.kind in FREE_KINDS:
            number = self.id.rpartition("-")[2]
            what = "added part" if self.kind == "added" else "strange wire"
            return self.marked or f"{what} {number}"
        return f"{self.kind} {self.id.replace('_', ' ')}".strip()

    @property
    def filled(self) -> tuple[str, ...]:
        """Columns in which something was written."""
        return tuple(name for name in FILLED if name in self.row.cells)

    def problem(self, column: str, found: str, expected: str) -> Problem:
        """A fault in one cell of this line."""
        return self.row.problem(column, found, expected, self.subject)


def read_form_lines(
    rows: Iterable[Row], *, is_european: bool = False, size_system: str = ""
) -> tuple[tuple[FormLine, ...], list[Problem]]:
    """
    The lines of a form, and everything in them that cannot be read.

    Args:
        rows: From a spreadsheet or the fields of a form; two of one wire are laid together.
        is_european: True if commas are decimal commas for certain.
        size_system: Of the vehicle: a size without one is in it; "" if that is a fault.
    """
    problems: list[Problem] = []
    joined = _joined(rows, problems)
    answers = tuple(_Cells(row, is_european, size_system, problems).answer() for row in joined)
    return answers, problems


def _joined(rows: Iterable[Row], problems: list[Problem]) -> list[Row]:
    """One row for each wire, part or reading; cells that contradict each other are faults."""
    first: dict[tuple[str, str], Row] = {}
    for number, row in enumerate(rows):
        kind = row.cells.get("line", "").strip().lower()
        name = row.cells.get("id", "").strip()
        if kind not in KINDS:
            found = f"the sort of line {quoted(kind)}" if kind else "a line without its sort"
            problems.append(row.problem("line", found, one_of(kind, KINDS), name))
            continue
        if not name and kind not in FREE_KINDS:
            problems.append(row.problem("id", f"a {kind} without its id", "the id as printed"))
            continue
        key = (kind, name or f"row {number}")
        first[key] = _laid_together(first[key], row, problems) if key in first else row
    return list(first.values())


def _laid_together(old: Row, new: Row, problems: list[Problem]) -> Row:
    subject = f"{old.cells['line'].strip().lower()} {old.cells['id'].strip()}"
    for column in FILLED:
        one, other = (" ".join(r.cells.get(column, "").lower().split()) for r in (old, new))
        if one and other and one != other:
            where = f"in row {old.line}" if old.line else f"on page {old.page}" if old.page else ""
            where = where or "elsewhere"
            found = f"{quoted(new.cells[column].strip())}, but {quoted(one)} {where}"
            problems.append(new.problem(column, found, "one line for each, or the same", subject))
    cells, columns = {**new.cells, **old.cells}, {**new.columns, **old.columns}
    return Row(old.file, old.line, cells, columns, old.page)


class _Cells:
    """The cells of one line, read with faults collected."""

    def __init__(
        self, row: Row, is_european: bool, size_system: str, problems: list[Problem]
    ) -> None:
        self._row = row
        self._is_european = is_european
        self._size_system = size_system
        self._problems = problems
        self._kind = row.cells["line"].strip().lower()
        self._id = row.cells.get("id", "").strip()

    def answer(self) -> FormLine:
        """The line as values."""
        length = spoken_length(self._number("length_measured"))
        return FormLine(
            kind=self._kind,
            id=self._id,
            row=self._row,
            present=self._present(),
            start=self._text("from_found"),
            end=self._text("to_found"),
            size=self._parsed("size_found", parse_wire_size, self._size),
            colour=self._parsed("colour_found", parse_spoken_colour),
            conductor=self._one("conductor_found", {str(c): c for c in Conductor}),
            insulation=self._parsed("insulation_found", parse_insulation),
            length=length,
            length_m=self._length(length),
            conditions=self._conditions(),
            measured=self._measured(),
            use_measured=self._is_yes("use_measured"),
            marked=self._words("marked"),
            place=self._words("place_found"),
            circuit=self._one("circuit_found", CIRCUIT_WORDS | {c: c for c in circuits()}) or "",
            note=self._note(),
        )

    def _refuse(self, column: str, found: str, expected: str) -> None:
        subject = f"{self._kind} {self._id}".strip()
        self._problems.append(self._row.problem(column, found, expected, subject))

    def _text(self, column: str) -> str:
        return self._row.cells.get(column, "").strip()

    def _number(self, column: str) -> str:
        text = decimal_point(self._text(column), is_european=self._is_european)
        return " ".join(text.split())

    def _size(self, column: str) -> str:
        """A size; one without its system is in that of the vehicle."""
        text = self._number(column)
        figure = re.sub(r"[^\d./]", "", text)
        return f"{figure} {self._size_system}" if is_bare(text) and self._size_system else text

    def _words(self, column: str) -> str:
        text = " ".join(self._row.cells.get(column, "").split())
        try:
            return text_from(text)
        except FieldFault as fault:
            self._refuse(column, fault.found, fault.expected)
            return ""

    def _parsed(
        self, column: str, parse: Callable[[object], T], text: Callable[[str], str] | None = None
    ) -> T | None:
        written = (text or self._text)(column)
        if not written:
            return None
        try:
            return parse(written)
        except NotationError as error:
            self._refuse(column, error.found, with_nearest(error))
            return None

    def _one(self, column: str, choice: Mapping[str, T]) -> T | None:
        written = " ".join(self._text(column).lower().split())
        if written and written not in choice:
            self._refuse(column, quoted(written), one_of(written, choice, limit=40))
        return choice.get(written)

    def _present(self) -> str:
        written = " ".join(self._text("present").lower().split())
        for word, spellings in ((YES, SAID_YES), (NO, SAID_NO), (ELSEWHERE, SAID_ELSEWHERE)):
            if written in spellings:
                return word
        if written and written not in SAID_NOTHING:
            expected = "yes, no or elsewhere; empty if nobody looked"
            self._refuse("present", quoted(written), expected)
        return ""

    def _is_yes(self, column: str) -> bool:
        written = self._text(column).lower()
        if written and written not in SAID_YES | SAID_NO:
            self._refuse(column, quoted(written), "yes or nothing")
        return written in SAID_YES

    def _length(self, text: str) -> float | None:
        if not text:
            return None
        try:
            return quantity_from(text, Dimension.LENGTH, may_be_zero=False)
        except FieldFault as fault:
            self._refuse("length_measured", fault.found, fault.expected)
            return None

    def _note(self) -> str:
        """The note, and under the state what says more than a word of it."""
        said, note = self._words("condition"), self._words("note")
        parts = [" ".join(part.lower().split()) for part in _ANY_OF.split(said)]
        is_more = any(p and p not in CONDITIONS and p not in OTHER_CONDITIONS for p in parts)
        return " ".join(filter(None, (note, f"State: {said}." if is_more else "")))

    def _conditions(self) -> tuple[str, ...]:
        written = " ".join(self._text("condition").lower().split())
        found: list[str] = []
        for part in filter(None, _ANY_OF.split(written)):
            word = condition_meant(part)
            if word not in CONDITIONS and get_close_matches(
                part, (*CONDITIONS, *OTHER_CONDITIONS), cutoff=LIKE
            ):
                self._refuse("condition", quoted(part), one_of(part, CONDITIONS))
            elif word in CONDITIONS and word not in found:
                found.append(word)
        if GOOD in found and len(found) > 1:
            others = ", ".join(word for word in found if word != GOOD)
            self._refuse("condition", f"'{GOOD}' together with '{others}'", "one or the other")
        return tuple(word for word in CONDITIONS if word in found)

    def _measured(self) -> MeterReading | None:
        text = self._number("measured")
        if not text:
            return None
        if text.lower() in _OPEN:
            return MeterReading(inf, Dimension.RESISTANCE, "open circuit")
        faults: list[Any] = []
        for dimension in (Dimension.RESISTANCE, Dimension.VOLTAGE):
            try:
                is_volts = dimension is Dimension.VOLTAGE  # the leads may be either way round
                value = parse_quantity(text, dimension, allow_negative=is_volts)
                return MeterReading(abs(value), dimension, text)
            except QuantityError as error:
                faults.append(error)
        expected = "what the meter shows with its unit, e.g. 1.35 ohm or 0.12 V, or OL if open"
        self._refuse("measured", faults[0].found.partition(", which is")[0], expected)
        return None
