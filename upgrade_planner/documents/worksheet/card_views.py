"""Cards of the work sheet: a part, what is done at each of its terminals, a tick for each."""

from collections.abc import Iterator, Sequence

from attrs import evolve

from upgrade_planner.configuration.model import Configuration, TerminalRef
from upgrade_planner.documents.words.wording import part_words, role_words, sentence, terminal_words
from upgrade_planner.documents.worksheet.views import CardLine, CardView, StepView
from upgrade_planner.documents.worksheet.wire_steps import changes_by_conductor, conductor_name
from upgrade_planner.planning.operations import (
    AttachEnd,
    ConductorKey,
    FitPart,
    JoinEnds,
    LeadAcross,
    Operation,
    RemovePart,
    RemoveWire,
    ends_joined,
    ends_taken_off,
)
from upgrade_planner.planning.plan import Plan
from upgrade_planner.planning.sheet_rows import SheetRow


class CardWriter:
    """Writes the cards of one plan."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._changes = changes_by_conductor(plan)
        self._loosened = {
            (end.conductor, end.end) for one in plan.operations for end in ends_taken_off(one)
        }
        self._fitted = {one.part.role for one in plan.operations if isinstance(one, FitPart)}

    def title(self, row: SheetRow) -> str:
        """Name of the part."""
        return sentence(part_words(self._side(row).component(row.part)))

    def card(self, row: SheetRow, steps: Sequence[StepView]) -> CardView:
        """The card of a row that is one."""
        goes = any(isinstance(one, RemovePart) for one in row.operations)
        comes = self._joins(row) and row.part in self._fitted
        return CardView(
            word="OUT" if goes else "NEW" if comes else "",
            lines=tuple(self._lines(row, steps)),
            elsewhere=sentence("; ".join(self._elsewhere(row))),
        )

    def _joins(self, row: SheetRow) -> bool:
        return any(isinstance(one, AttachEnd | JoinEnds) for one in row.operations)

    def _side(self, row: SheetRow) -> Configuration:
        comparison = self._plan.comparison
        return comparison.after if self._joins(row) else comparison.before

    def _lines(self, row: SheetRow, steps: Sequence[StepView]) -> Iterator[CardLine]:
        told = ""
        for operation, step in zip(row.operations, steps, strict=True):
            line = self._line(row, operation, step)
            yield evolve(line, terminal="") if line.terminal == told else line
            told = line.terminal

    def _line(self, row: SheetRow, operation: Operation, step: StepView) -> CardLine:
        instruction, details = step.instruction, step.details
        at = self._terminal(row, operation)
        if at is not None:
            words = terminal_words(self._side(row), at)
            instruction = instruction.replace(f" at {words}", "").replace(f" to {words}", "")
        match operation:
            case LeadAcross(conductor=conductor):
                instruction = f"Route the free end of {self._name(conductor)} here."
            case RemoveWire(wire=wire, conductor=conductor, for_resize=is_old):
                far = next((end for end in wire.ends if end.role != row.part), wire.end)
                old = "the old " if is_old else ""
                instruction = f"Remove {old}{self._name(conductor)}."
                details = (f"Other end: {terminal_words(self._side(row), far)}.", *details)
        return CardLine(
            step=step.number,
            terminal=self._label(self._side(row), at) if at else "",
            action=step.action,
            style=step.style,
            says_action=not instruction.upper().startswith(step.action),
            instruction=instruction,
            details=details,
        )

    def _name(self, conductor: ConductorKey) -> str:
        return conductor_name(self._plan, conductor)

    def _terminal(self, row: SheetRow, operation: Operation) -> TerminalRef | None:
        ends: Sequence[TerminalRef] = ()
        match operation:
            case RemoveWire(wire=wire):
                ends = wire.ends
            case LeadAcross(becomes=wire):
                ends = wire.ends
            case _:
                taken = [one.end for one in ends_taken_off(operation)]
                ends = taken + [one.end for one in ends_joined(operation)]
        return next((end for end in ends if end.role == row.part), None)

    def _label(self, side: Configuration, at: TerminalRef) -> str:
        """Without the part."""
        words = terminal_words(side, at).removeprefix(role_words(at.role)).strip()
        return words or role_words(at.terminal)

    def _elsewhere(self, row: SheetRow) -> Iterator[str]:
        """Ends at the part that other rows of the phase take off or join."""
        side = self._side(row)
        for other in self._plan.rows:
            if other.phase is not row.phase or other is row:
                continue
            for operation in other.operations:
                for end in dict.fromkeys(self._ends(operation)):
                    if end.role == row.part:
                        yield f"row {other.number}: {self._label(side, end)}"

    def _ends(self, operation: Operation) -> Iterator[TerminalRef]:
        yield from (one.end for one in ends_joined(operation))
        yield from (one.end for one in ends_taken_off(operation))
        if isinstance(operation, RemoveWire):
            for end in operation.wire.ends:
                if (operation.conductor, end) not in self._loosened:
                    yield end
