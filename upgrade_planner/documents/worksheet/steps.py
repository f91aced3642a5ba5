"""Turns operations into the rows of the work sheet: marks, words, expected results."""

from attrs import evolve

from upgrade_planner.comparison.wire_changes import (
    ON_THE_WAY_BACK,
)
from upgrade_planner.configuration.model import Joint
from upgrade_planner.documents.words.care import care_words
from upgrade_planner.documents.words.fuses import fed_words, rating_words, slot_lines, slot_name
from upgrade_planner.documents.words.operations import (
    fuse_words,
    rebuilt_line,
)
from upgrade_planner.documents.words.ratings import ratings_words
from upgrade_planner.documents.words.reasons import reason_words, wait_words
from upgrade_planner.documents.words.standing import procedure_words
from upgrade_planner.documents.words.trying import (
    trial_expected,
    trial_instruction,
    trial_suspects,
)
from upgrade_planner.documents.words.wire_words import numbered_name
from upgrade_planner.documents.words.wording import (
    part_words,
    role_words,
    sentence,
    terminal_words,
)
from upgrade_planner.documents.worksheet.joint_steps import JointSteps
from upgrade_planner.documents.worksheet.views import StepView
from upgrade_planner.documents.worksheet.wire_steps import StepWords, WireSteps, conductor_name
from upgrade_planner.planning.fuses import fuses_of, slots_of
from upgrade_planner.planning.operations import (
    AdjustPart,
    AttachEnd,
    CapWire,
    CareForPart,
    CareForWire,
    DetachEnd,
    FindCause,
    FitPart,
    InsertFuse,
    JoinEnds,
    LeadAcross,
    Operation,
    Phase,
    Procedure,
    RebuildPart,
    RemovePart,
    RemoveWire,
    RunWire,
    SwitchOn,
    TakeOffEnds,
    UncapWire,
)
from upgrade_planner.planning.plan import Plan


class StepWriter:
    """Writes the rows of one plan; counts the hold points on the way."""

    def __init__(self, plan: Plan, units: str) -> None:
        self._plan = plan
        self._units = units
        self._before = plan.comparison.before
        self._after = plan.comparison.after
        self._numbers = {step.operation.id: step.number for step in plan.steps}
        self._holds = 0
        is_back = any(plan.comparison.count(item) for item in ON_THE_WAY_BACK)
        self.bag = "a second bag" if is_back else "the bag"
        self._joints = JointSteps(plan, units)
        self._wires = WireSteps(plan, units)

    def step(self, number: str, operation: Operation) -> StepView:
        """The row for one operation."""
        words = self._words(operation)
        if words.hold:
            self._holds += 1
        return StepView(
            number=number,
            mark=words.mark,
            action=words.action,
            style=words.style,
            instruction=words.instruction,
            details=words.details,
            why=words.why,
            before_you_start=self._waits(operation),
            expected=words.expected,
            measure_unit=words.unit,
            hold=f"HOLD {self._holds}" if words.hold else "",
            tick=words.tick,
        )

    def _words(self, operation: Operation) -> StepWords:
        match operation:
            case DetachEnd() | TakeOffEnds():
                return self._joints.off(operation)
            case AttachEnd() | JoinEnds():
                return self._joints.joined(operation)
            case RemoveWire():
                words = self._wires.remove(operation)
                left = self._joints.left_behind(operation)
                return evolve(words, details=(*words.details, *left))
            case CapWire():
                return self._wires.cap(operation)
            case UncapWire():
                return self._wires.uncap(operation)
            case RunWire():
                return self._wires.run(operation)
            case LeadAcross():
                return self._wires.lead(operation)
            case CareForWire() | CareForPart() | FindCause():
                return self._care(operation)
            case SwitchOn():
                return self._trial(operation)
            case Procedure():
                return self._procedure(operation)
        return self._part_words(operation)

    def _part_words(self, operation: Operation) -> StepWords:
        match operation:
            case RemovePart():
                return self._remove_part(operation)
            case FitPart():
                return self._fit_part(operation)
            case AdjustPart():
                return self._adjust_part(operation)
            case RebuildPart():
                return self._rebuild_part(operation)
            case InsertFuse():
                return self._insert_fuse(operation)
        raise TypeError(f"no words for {type(operation).__name__}")

    def _waits(self, operation: Operation) -> str:
        """
        What must be true before going on: reasons with the numbers of the steps behind them.

        Only where a hurried person might go wrong; that a wire is laid before it is joined
        everybody sees from the order, and the plan file has every reason.
        """
        if operation.phase is not Phase.RECONNECT:
            return ""
        by_reason: dict[str, list[str]] = {}
        for dependency in operation.after:
            number = self._numbers.get(dependency.operation_id, "")
            in_phase = number[:1] == operation.phase
            reason = wait_words(dependency.reason)
            if number and in_phase and reason:
                by_reason.setdefault(reason, []).append(number)
        return " ".join(f"After {', '.join(n)}: {reason}." for reason, n in by_reason.items())

    # Parts ------------------------------------------------------------------------------------

    def _remove_part(self, operation: RemovePart) -> StepWords:
        part = operation.part
        change = self._plan.comparison.part_by_role[part.role]
        return StepWords(
            mark=role_words(part.role),
            action="REMOVE",
            style="remove",
            instruction=f"Remove the {part_words(part)}.",
            why=reason_words(change.reasons, self._units),
        )

    def _fit_part(self, operation: FitPart) -> StepWords:
        part = operation.part
        change = self._plan.comparison.part_by_role[part.role]
        rated = ratings_words(part, self._units)
        details = [sentence(f"{rated}.")] if rated else []
        details += [part.note] if part.note else []
        if operation.from_bag:
            details.insert(0, "The old one, from the bag.")
        slots = slot_lines(part, self._after) if fuses_of(part) else ()
        if slots:
            details += [
                *(f"{slot}." for slot in slots),
                f"No fuse goes in before phase {Phase.TEST_LIVE}.",
            ]
        grounded = any(t.connection.joint is Joint.CASE for t in part.terminals)
        if grounded:
            details.append("Bare bright metal under it: it is grounded by its mounting.")
        return StepWords(
            mark=role_words(part.role),
            action="REFIT" if operation.from_bag else "ADD",
            style="add",
            instruction=f"Fit the {part_words(part)}.",
            details=tuple(details),
            why=reason_words(change.reasons, self._units),
        )

    def _adjust_part(self, operation: AdjustPart) -> StepWords:
        name, is_breaker = part_words(operation.part), not fuses_of(operation.part)
        several = len(fuses_of(operation.part)) > 1
        do = f"Remove {'the fuses that change' if several else 'the fuse'}: {name}."
        return StepWords(
            mark=role_words(operation.part.role),
            action="RESIZE",
            style="resize",
            instruction=f"Fit the {name} of another rating." if is_breaker else do,
            details=(
                f"New: {'; '.join(fuse_words(operation.fuses))}.",
                *(("From the bag.",) if operation.from_bag else ()),
            ),
            expected=(
                "The rating named here can be read."
                if is_breaker
                else f"{'Those slots stay' if several else 'The holder stays'} empty until phase"
                f" {Phase.TEST_LIVE}."
            ),
        )

    def _rebuild_part(self, operation: RebuildPart) -> StepWords:
        part = operation.part
        change = self._plan.comparison.part_by_role[part.role]
        gets = f"Then goes in{', from the bag' if operation.from_bag else ''}: {operation.gets}."
        return StepWords(
            mark=role_words(part.role),
            action="REBUILD",
            style="resize",
            instruction=rebuilt_line(operation),
            details=tuple(filter(None, (gets if operation.gets else "", part.note))),
            why=reason_words(change.reasons, self._units),
            expected=f"It is now: {part_words(part)}."
            + (f" What came out is in {self.bag}." if operation.leaves else ""),
        )

    def _insert_fuse(self, operation: InsertFuse) -> StepWords:
        part, fuse = operation.part, operation.fuse
        slots = slots_of(part, self._after)
        slot = next(one for one in slots if one.fuse == fuse)
        box, rating = part_words(part), rating_words(slot)
        into = (
            f"in slot {slot_name(slot)} of the {box}" if len(slots) > 1 else f"in its holder: {box}"
        )
        return StepWords(
            mark=role_words(part.role),
            action="REFIT" if operation.is_old else "ADD",
            style="add",
            instruction=f"Fit the {rating} fuse {into}.",
            details=(f"It feeds: {fed_words(slot)}.",),
        )

    def _care(self, operation: CareForWire | CareForPart | FindCause) -> StepWords:
        words = care_words(operation)
        return StepWords(
            mark=(
                conductor_name(self._plan, operation.conductor)
                if isinstance(operation, CareForWire)
                else role_words(words.mark)
            ),
            action="CARE",
            style="none",
            instruction=words.instruction,
            details=words.details,
            expected=words.expected,
            unit=words.unit,
        )

    def _trial(self, operation: SwitchOn) -> StepWords:
        return StepWords(
            mark=role_words(operation.part.role),
            action="",
            style="none",
            instruction=trial_instruction(operation),
            details=trial_suspects(operation),
            expected=trial_expected(operation),
            tick=part_words(operation.part),
        )

    # Standing steps ---------------------------------------------------------------------------

    def _procedure(self, operation: Procedure) -> StepWords:
        words = procedure_words(operation, self._units)
        numbers = self._plan.comparison.numbers.old
        ends = [
            f"{numbered_name(numbers[wire_id], wire_id)} at {terminal_words(self._before, end)}"
            for wire_id, end in operation.ends
        ]
        views = ["; ".join(operation.views) + "."] if operation.views else words.details
        details = [*views, *ends]
        if_not = f" If not: {words.if_not}" if words.if_not else ""
        return StepWords(
            mark="",
            action="",
            style="none",
            instruction=sentence(words.instruction),
            details=tuple(details),
            expected=f"{words.expected}{if_not}",
            unit=operation.unit,
            hold=operation.hold,
            tick="; ".join(ends),
        )
