"""Turns rows of a plan into rows of paper: one thing in the hand, a tick for each step at it."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from attrs import evolve

from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.documents.words.trying import suspects_of_all, trials_instruction
from upgrade_planner.documents.words.wording import terminal_words
from upgrade_planner.documents.worksheet.card_views import CardWriter
from upgrade_planner.documents.worksheet.phases import READ
from upgrade_planner.documents.worksheet.reading_writer import ReadingWriter
from upgrade_planner.documents.worksheet.schedule import packed_words
from upgrade_planner.documents.worksheet.steps import StepWriter
from upgrade_planner.documents.worksheet.views import RowView, StateReadings, StepView
from upgrade_planner.planning.operations import (
    ConductorKey,
    LeadAcross,
    Operation,
    Procedure,
    RunWire,
    SwitchOn,
    UncapWire,
    ends_joined,
)
from upgrade_planner.planning.plan import Plan
from upgrade_planner.planning.sheet_rows import SheetRow


class RowWriter:
    """Writes the rows of one plan, in their order."""

    def __init__(
        self,
        plan: Plan,
        readings: ReadingWriter,
        units: str,
        *,
        with_reasons: bool,
        packed: Mapping[str, str],
    ) -> None:
        self._plan = plan
        self._steps = StepWriter(plan, units)
        self._cards = CardWriter(plan)
        self._readings = readings
        self._with_reasons = with_reasons
        self._joined_in = _rows_of_ends(plan)
        self._packed = packed
        self._judged_in = ""
        self.bag = self._steps.bag
        """Where goes what comes off."""

    def row(self, row: SheetRow) -> RowView:
        """One row."""
        numbered = zip(row.step_numbers, row.operations, strict=True)
        steps = tuple(self._steps.step(number, operation) for number, operation in numbered)
        lead, first = steps[0], row.operations[0]
        is_alone = len(steps) == 1
        if not is_alone and isinstance(first, Procedure):
            lead, steps = evolve(lead, details=()), _with_places(steps, row, self._plan)
        if row.part:
            return self._card(row, steps)
        readings = tuple(self._taken_in(first))
        if readings:
            lead = evolve(lead, details=(*lead.details, self._judged(row)))
        if not is_alone and isinstance(first, SwitchOn):
            lead, steps = _tried(steps, [op for op in row.operations if isinstance(op, SwitchOn)])
        return RowView(
            number=row.number,
            steps=steps,
            mark=lead.mark,
            action=lead.action,
            style=lead.style,
            instruction=lead.instruction,
            details=(*self._instead(first), *lead.details),
            why=_reasons(steps) if self._with_reasons else "",
            before_you_start=lead.before_you_start,
            expected=lead.expected if is_alone else "",
            measure_unit=lead.measure_unit,
            hold=lead.hold,
            says_action=not lead.instruction.upper().startswith(lead.action),
            elsewhere=_listed_elsewhere(self._elsewhere(first, row)),
            readings=readings,
        )

    def _card(self, row: SheetRow, steps: tuple[StepView, ...]) -> RowView:
        """A part, terminal by terminal."""
        return RowView(
            number=row.number,
            steps=steps,
            mark=steps[0].mark,
            action="",
            style="",
            instruction=self._cards.title(row),
            details=(),
            why=_reasons(steps) if self._with_reasons else "",
            before_you_start="",
            expected="",
            measure_unit="",
            hold="",
            card=self._cards.card(row, steps),
        )

    def _judged(self, row: SheetRow) -> str:
        """How its readings are judged: in full once, then by the number of that row."""
        if not self._judged_in:
            self._judged_in = row.number
            return READ
        return f"Judged as in row {self._judged_in}."

    def _elsewhere(self, operation: Operation, row: SheetRow) -> Iterator[str]:
        """Ends of a laid wire that are joined in another row."""
        after = self._plan.comparison.after
        match operation:
            case RunWire() | UncapWire():
                ends = operation.wire.ends
            case LeadAcross():
                ends = operation.becomes.ends
            case _:
                return
        for end in ends:
            number = self._joined_in.get((operation.conductor, end), "")
            if number not in ("", row.number):
                yield f"{terminal_words(after, end)} in row {number}"

    def _instead(self, operation: Operation) -> Iterator[str]:
        """What the kit has in place of the cable of a wire that is laid."""
        if isinstance(operation, RunWire) and operation.wire.id in self._packed:
            yield packed_words(self._packed[operation.wire.id])

    def _taken_in(self, operation: Operation) -> Iterator[StateReadings]:
        if isinstance(operation, Procedure) and operation.reading_group:
            views = self._readings.views_in(operation)
            for state, group in groupby(views, key=lambda view: view.state):
                yield StateReadings(state=state, readings=tuple(group))


def _listed_elsewhere(ends: Iterator[str]) -> tuple[str, ...]:
    listed = "; ".join(ends)
    return (f"Joined at {listed}.",) if listed else ()


def _reasons(steps: tuple[StepView, ...]) -> str:
    return " ".join(dict.fromkeys(step.why for step in steps if step.why))


def _rows_of_ends(plan: Plan) -> dict[tuple[ConductorKey, TerminalRef], str]:
    return {
        (end.conductor, end.end): row.number
        for row in plan.rows
        for operation in row.operations
        for end in ends_joined(operation)
    }


def _with_places(steps: tuple[StepView, ...], row: SheetRow, plan: Plan) -> tuple[StepView, ...]:
    """Steps at several places say beside the first box of each where it is."""
    places = plan.comparison.after.place_by_id
    told, named = [], ""
    for step, operation in zip(steps, row.operations, strict=True):
        place = places[operation.place].name if operation.place else ""
        at = f"{place}: " if place != named else ""
        named = place
        told.append(evolve(step, tick=f"{at}{step.tick}"))
    return tuple(told)


def _tried(
    steps: tuple[StepView, ...], operations: Sequence[SwitchOn]
) -> tuple[StepView, tuple[StepView, ...]]:
    """The head of a list of consumers, and its boxes; suspects that all share are named once."""
    shared, rest = suspects_of_all(operations)
    steps = tuple(
        evolve(step, tick=f"{step.tick} ({also})" if also else step.tick)
        for step, also in zip(steps, rest, strict=True)
    )
    head = evolve(steps[0], mark="", instruction=trials_instruction(), details=shared)
    return head, steps
