"""Turns operations into the rows of the work sheet: marks, words, expected results."""

from collections.abc import Mapping

from attrs import frozen

from upgrade_planner.comparison.wire_changes import (
    ON_THE_WAY_BACK,
    Disposition,
    FromVehicle,
    IntoTarget,
    Rejoined,
    WireChange,
)
from upgrade_planner.configuration.model import Configuration, Joint, TerminalRef, Wire
from upgrade_planner.documents.words.wording import (
    conductor_words,
    length_words,
    part_words,
    role_words,
    sentence,
    size_words,
    terminal_words,
)
from upgrade_planner.documents.worksheet.views import Step
from upgrade_planner.kit.materials import cut_length_m, first_piece_m, terminal_for
from upgrade_planner.planning.operations import (
    AdjustPart,
    AttachEnd,
    CapWire,
    ConductorKey,
    DetachEnd,
    FitPart,
    LeadAcross,
    Operation,
    Phase,
    Procedure,
    RemovePart,
    RemoveWire,
    RunWire,
    Side,
    UncapWire,
)
from upgrade_planner.planning.plan import Plan

STYLES = {
    Disposition.KEEP: "keep",
    Disposition.REMOVE: "remove",
    Disposition.ADD: "add",
    Disposition.RESIZE: "resize",
    Disposition.MOVE: "move",
    Disposition.CAP_OFF: "cap",
    Disposition.REFIT: "add",
    Disposition.REJOIN: "rejoin",
}


@frozen
class _Words:
    """Mark, action, instruction and the rest of one row."""

    mark: str
    action: str
    style: str
    instruction: str
    details: tuple[str, ...] = ()
    why: str = ""
    expected: str = ""
    unit: str = ""
    hold: bool = False


class StepWriter:
    """Writes the rows of one plan; counts the hold points on the way."""

    def __init__(self, plan: Plan, units: str) -> None:
        self._plan = plan
        self._units = units
        self._before = plan.comparison.before
        self._after = plan.comparison.after
        self._changes = _changes_by_conductor(plan)
        self._numbers = {step.operation.id: step.number for step in plan.steps}
        self._holds = 0
        is_back = any(plan.comparison.count(item) for item in ON_THE_WAY_BACK)
        self._bag = "a second bag" if is_back else "the bag"

    def step(self, number: str, operation: Operation) -> Step:
        """The row for one operation."""
        words = self._words(operation)
        if words.hold:
            self._holds += 1
        return Step(
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
            sign=words.hold,
        )

    def _words(self, operation: Operation) -> _Words:
        match operation:
            case DetachEnd():
                return self._detach(operation)
            case AttachEnd():
                return self._attach(operation)
            case RemoveWire():
                return self._remove(operation)
            case CapWire():
                return self._cap(operation)
            case UncapWire():
                return self._uncap(operation)
            case RunWire():
                return self._run(operation)
            case LeadAcross():
                return self._lead(operation)
            case RemovePart():
                return self._remove_part(operation)
            case FitPart():
                return self._fit_part(operation)
            case AdjustPart():
                return self._adjust_part(operation)
            case Procedure():
                return self._procedure(operation)
        raise TypeError(f"no words for {type(operation).__name__}")

    def _waits(self, operation: Operation) -> str:
        """
        What must be true before going on: reasons with the numbers of the steps behind them.

        Only where a hurried person might go wrong; that a wire is laid before it is joined
        everybody sees from the order, and the plan file has every reason.
        """
        if not isinstance(operation, RemovePart) and operation.phase is not Phase.RECONNECT:
            return ""
        by_reason: dict[str, list[str]] = {}
        for dependency in operation.after:
            number = self._numbers.get(dependency.operation_id, "")
            in_phase = operation.phase is Phase.TAKE_OUT or number[:1] == operation.phase
            if number and in_phase and dependency.reason:
                by_reason.setdefault(dependency.reason, []).append(number)
        return " ".join(f"After {', '.join(n)}: {reason}." for reason, n in by_reason.items())

    # Wires ------------------------------------------------------------------------------------

    def _detach(self, operation: DetachEnd) -> _Words:
        change = self._changes[operation.conductor]
        at = terminal_words(self._before, operation.end)
        bare = "Cap it in phase D." if change.capped_wire else "Cover the end, lay it aside."
        return self._wire_words(
            change,
            operation.wire,
            f"Disconnect {operation.wire.id} at {at}.",
            details=(conductor_words(operation.wire, self._units),),
            expected=f"The end is off and tagged. {bare}",
        )

    def _attach(self, operation: AttachEnd) -> _Words:
        change = self._changes[operation.conductor]
        end = operation.end
        terminal = self._after.component(end.role).terminal(end.terminal)
        assert terminal is not None
        others = [w.id for w in self._after.wires_at.get(end, ()) if w.id != operation.wire.id]
        details = []
        if operation.remade:
            joined = [other.size for other in self._after.wires_at.get(end, ())]
            details.append(terminal_for(terminal, operation.wire.size, joined) + ".")
        if others and terminal.connection.joint is not Joint.CASE:
            details.append(f"Same terminal: {', '.join(others)}.")
        at = terminal_words(self._after, end)
        return self._wire_words(
            change,
            operation.wire,
            f"Connect {operation.wire.id} to {at}.",
            details=tuple(details),
            expected=_joined_well(terminal.connection.joint),
        )

    def _remove(self, operation: RemoveWire) -> _Words:
        change = self._changes[operation.conductor]
        wire = operation.wire
        old = "the old " if operation.for_resize else ""
        return self._wire_words(
            change,
            wire,
            f"Remove {old}{wire.id}.",
            details=(
                self._from_to(self._before, wire),
                self._spec(self._before, wire),
            ),
            why="" if operation.for_resize else change.reason,
            expected=f"Both terminals are free of it. The wire is out, tagged, in {self._bag}.",
        )

    def _cap(self, operation: CapWire) -> _Words:
        change = self._changes[operation.conductor]
        wire = operation.wire
        ends = " and at ".join(terminal_words(self._before, end) for end in wire.ends)
        return self._wire_words(
            change,
            wire,
            f"Cap off {wire.id} at both ends.",
            details=(
                f"Near {ends}.",
                conductor_words(wire, self._units),
                f"Closed-end cap, sleeve 25\N{NO-BREAK SPACE}mm beyond it, tag “DEAD {wire.id}”.",
            ),
            why=change.reason,
            expected="No bare metal at either end, ends tied to the loom. Caps: 2. Tags: 2.",
        )

    def _uncap(self, operation: UncapWire) -> _Words:
        wire = operation.wire
        ends = " and at ".join(terminal_words(self._after, end) for end in wire.ends)
        return self._wire_words(
            self._changes[operation.conductor],
            wire,
            f"Remove the caps of {wire.id} at both ends.",
            details=(
                f"Near {ends}; tags “DEAD {wire.id}”.",
                conductor_words(wire, self._units),
                "Cut the caps off close, so that the wire still reaches.",
            ),
            why=self._changes[operation.conductor].reason,
            expected="Bright copper at both ends; the insulation is whole and not brittle.",
        )

    def _run(self, operation: RunWire) -> _Words:
        if operation.from_bag:
            return self._refit(operation)
        change = self._changes[operation.conductor]
        wire = operation.wire
        details = [self._from_to(self._after, wire)]
        if operation.replaces is not None:
            old = size_words(operation.replaces.size, self._units)
            details.append(f"Old {old} → new {size_words(wire.size, self._units)}")
        details.append(f"{conductor_words(wire, self._units)} · {self._cut(wire)}")
        details += [*self._way(wire), *([wire.note] if wire.note else [])]
        return self._wire_words(
            change,
            wire,
            f"Route {wire.id}.",
            details=tuple(details),
            why=change.reason,
            expected="Clipped along its way, clear of heat and moving parts.",
        )

    def _refit(self, operation: RunWire) -> _Words:
        change, wire = self._changes[operation.conductor], operation.wire
        return self._wire_words(
            change,
            wire,
            f"Route {wire.id}, the old one from the bag.",
            details=(
                self._from_to(self._after, wire),
                self._spec(self._after, wire),
                *self._way(wire),
            ),
            why=change.reason,
            expected="Insulation and both terminals sound; clipped along its old way.",
        )

    def _lead(self, operation: LeadAcross) -> _Words:
        change = self._changes[operation.conductor]
        return self._wire_words(
            change,
            operation.wire,
            f"Route the free end of {operation.wire.id} to its new terminal.",
            details=(
                self._from_to(self._after, operation.becomes),
                conductor_words(operation.wire, self._units),
            ),
            why=change.reason,
            expected="It reaches without strain, clear of heat and moving parts.",
        )

    def _wire_words(
        self,
        change: WireChange,
        wire: Wire,
        instruction: str,
        *,
        details: tuple[str, ...],
        expected: str,
        why: str = "",
    ) -> _Words:
        return _Words(
            mark=wire.id,
            action=str(change.disposition).upper(),
            style=STYLES[change.disposition],
            instruction=instruction,
            details=details,
            why=why,
            expected=expected,
        )

    def _from_to(self, configuration: Configuration, wire: Wire) -> str:
        start = terminal_words(configuration, wire.start)
        return f"From {start} to {terminal_words(configuration, wire.end)}."

    def _spec(self, configuration: Configuration, wire: Wire) -> str:
        length = length_words(configuration.runs[wire.id].length_m, self._units)
        return f"{conductor_words(wire, self._units)} · about {length}"

    def _cut(self, wire: Wire) -> str:
        return f"cut {length_words(float(cut_length_m(wire, self._after)), self._units)}"

    def _way(self, wire: Wire) -> list[str]:
        run = self._after.runs[wire.id]
        way = [f"Along the {' and the '.join(run.looms)}."] if run.looms else []
        if run.connectors and run.before_connector_m is not None:
            cut, first_cut = cut_length_m(wire, self._after), first_piece_m(wire, self._after)
            assert first_cut is not None
            first = length_words(float(first_cut), self._units)
            rest = length_words(float(cut - first_cut), self._units)
            through = " and the ".join(role_words(role) for role in run.connectors)
            way.append(
                f"Through the {through}: two pieces, {first} on the side of"
                f" {terminal_words(self._after, wire.start)}, {rest} beyond. Note the cavity: ____"
            )
        return way

    # Parts ------------------------------------------------------------------------------------

    def _remove_part(self, operation: RemovePart) -> _Words:
        part = operation.part
        change = self._plan.comparison.part_by_role[part.role]
        return _Words(
            mark=role_words(part.role),
            action="REMOVE",
            style="remove",
            instruction=f"Remove the {part_words(part)}.",
            details=("Keep its screws and brackets with it.",),
            why=change.reason,
            expected=f"The part is off and in {self._bag}.",
        )

    def _fit_part(self, operation: FitPart) -> _Words:
        part = operation.part
        change = self._plan.comparison.part_by_role[part.role]
        details = [part.note] if part.note else []
        if operation.from_bag:
            details.insert(0, "The old one, from the bag.")
        grounded = any(t.connection.joint is Joint.CASE for t in part.terminals)
        expected = "Firm on its mounting."
        if grounded:
            expected += " Bare bright metal under it: it is grounded by its mounting."
        return _Words(
            mark=role_words(part.role),
            action="REFIT" if operation.from_bag else "ADD",
            style="add",
            instruction=f"Fit the {part_words(part)}.",
            details=tuple(details),
            why=change.reason,
            expected=expected,
        )

    def _adjust_part(self, operation: AdjustPart) -> _Words:
        return _Words(
            mark=role_words(operation.part.role),
            action="RESIZE",
            style="resize",
            instruction=f"Fit other fuses in the {part_words(operation.part)}.",
            details=(*operation.changes, *(("From the bag.",) if operation.from_bag else ())),
            expected="Each fuse shows the rating named here.",
        )

    # Standing steps ---------------------------------------------------------------------------

    def _procedure(self, operation: Procedure) -> _Words:
        details = [*operation.details]
        if operation.id == "procedure:photographs":
            details = ["The views are listed under “Photographs to take”: tick each there."]
        details += [
            f"{wire_id} at {terminal_words(self._before, end)}" for wire_id, end in operation.ends
        ]
        if operation.if_not:
            details.append(f"If not: {operation.if_not}")
        return _Words(
            mark="",
            action="",
            style="none",
            instruction=sentence(operation.instruction),
            details=tuple(details),
            expected=operation.expected,
            unit=operation.unit,
            hold=operation.hold,
        )


def _joined_well(joint: Joint) -> str:
    return {
        Joint.STUD: "Bright metal under the ring; it does not turn by hand.",
        Joint.SCREW: "Bright metal under the ring; it does not turn by hand.",
        Joint.BLADE: "The blade sits fully home and holds against a pull.",
        Joint.CAVITY: "The terminal locks and holds against a pull.",
        Joint.BULLET: "The bullet sits fully home and holds against a pull.",
        Joint.POST: "The clamp does not turn on its post by hand.",
        Joint.SPLICE: "The crimp holds against a pull; sleeve shrunk over it.",
    }.get(joint, "")


def _changes_by_conductor(plan: Plan) -> Mapping[ConductorKey, WireChange]:
    found: dict[ConductorKey, WireChange] = {}
    for change in plan.comparison.wires:
        if isinstance(change, FromVehicle):
            found[ConductorKey(Side.OLD, change.before.id)] = change
        if isinstance(change, IntoTarget):
            side = Side.CAPPED if isinstance(change, Rejoined) else Side.NEW
            found[ConductorKey(side, change.after.id)] = change
    return found


def ends_words(configuration: Configuration, ends: tuple[TerminalRef, TerminalRef]) -> str:
    """Both ends in one run: `alternator B+ (output) → main junction 30 (stud)`."""
    return " → ".join(terminal_words(configuration, end) for end in ends)
