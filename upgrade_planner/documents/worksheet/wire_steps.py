"""Turns operations at wires into words of the work sheet: marks, details, expected results."""

from collections.abc import Mapping

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.ignition_leads import HAND_M, kept_apart, twisted
from upgrade_planner.comparison.fitting_ahead import FITTED_AHEAD
from upgrade_planner.comparison.wire_changes import (
    Disposition,
    FromVehicle,
    IntoTarget,
    Rejoined,
    WireChange,
)
from upgrade_planner.configuration.model import Configuration, Joint, TerminalRef, Wire
from upgrade_planner.documents.words.quantities import small_length_words
from upgrade_planner.documents.words.reasons import reason_words
from upgrade_planner.documents.words.wire_words import (
    brief_words,
    conductor_words,
    insulation_words,
    numbered_name,
    sizes_in_turn,
    tag_number,
)
from upgrade_planner.documents.words.wording import (
    length_words,
    role_words,
    terminal_words,
)
from upgrade_planner.kit.materials import cut_length_m, first_piece_m
from upgrade_planner.planning.joints.meeting import connection_at
from upgrade_planner.planning.operations import (
    CapWire,
    ConductorKey,
    LeadAcross,
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
    Disposition.RENEW: "resize",
    Disposition.MOVE: "move",
    Disposition.CAP_OFF: "cap",
    Disposition.REFIT: "add",
    Disposition.REJOIN: "rejoin",
}


@frozen
class StepWords:
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
    tick: str = ""


SAME_LENGTH_M = 0.1
"""What a length measured on the vehicle may differ from the target's unsaid. [m] Source: our
assumption."""

OFF_AND_BACK = "OFF AND BACK"
"""What is done at the ends of a wire that is kept: they come off for another's sake."""


def end_action(disposition: Disposition) -> str:
    """The word of a step at the ends of a wire."""
    return OFF_AND_BACK if disposition is Disposition.KEEP else str(disposition).upper()


class WireSteps:
    """Words of the steps at wires."""

    def __init__(self, plan: Plan, units: str) -> None:
        self._units = units
        self._plan = plan
        self._before = plan.comparison.before
        self._after = plan.comparison.after
        self._changes = changes_by_conductor(plan)

    def _name(self, conductor: ConductorKey) -> str:
        return conductor_name(self._plan, conductor)

    def remove(self, operation: RemoveWire) -> StepWords:
        """A wire comes out."""
        change = self._changes[operation.conductor]
        wire = operation.wire
        old = "the old " if operation.for_resize else ""
        return self._wire_words(
            change,
            operation.conductor,
            f"Remove {old}{self._name(operation.conductor)}:"
            f" {' to '.join(terminal_words(self._before, end) for end in wire.ends)}.",
            details=(brief_words(wire, self._units) + ".", *self._cut_out(wire)),
            why="" if operation.for_resize else reason_words(change.reasons, self._units),
        )

    def _cut_out(self, wire: Wire) -> list[str]:
        """At a splice nothing comes off: it is cut."""
        return [
            f"Cut it out of the {terminal_words(self._before, end)}, close to the barrel."
            for end in wire.ends
            if connection_at(end, self._before).joint is Joint.SPLICE
        ]

    def cap(self, operation: CapWire) -> StepWords:
        """A wire stays, dead."""
        change = self._changes[operation.conductor]
        wire = operation.wire
        ends = " and at ".join(terminal_words(self._before, end) for end in wire.ends)
        return self._wire_words(
            change,
            operation.conductor,
            f"Cap off {self._name(operation.conductor)} at both ends.",
            details=(
                f"Near {ends}. {brief_words(wire, self._units)},",
                f"tag “DEAD {self._name(operation.conductor)}”.",
            ),
            why=reason_words(change.reasons, self._units),
        )

    def uncap(self, operation: UncapWire) -> StepWords:
        """A dead wire is used again."""
        wire = operation.wire
        ends = " and at ".join(terminal_words(self._after, end) for end in wire.ends)
        return self._wire_words(
            self._changes[operation.conductor],
            operation.conductor,
            f"Remove the caps of {self._name(operation.conductor)} at both ends.",
            details=(
                f"Near {ends}; tags “DEAD {self._name(operation.conductor)}”.",
                f"{conductor_words(wire, self._units)}.",
                "Cut the caps off close, so that the wire still reaches.",
            ),
            why=reason_words(self._changes[operation.conductor].reasons, self._units),
            expected="Bright copper at both ends; the insulation is whole and not brittle.",
        )

    def run(self, operation: RunWire) -> StepWords:
        """A wire is laid."""
        if operation.from_bag:
            return self._refit(operation)
        change = self._changes[operation.conductor]
        wire = operation.wire
        old = self._old_in_place_of(operation.replaces, wire)
        details = [f"{old}{conductor_words(wire, self._units)}, {self._cut(wire)}."]
        details += self._measured_otherwise(operation.replaces, wire)
        details += self._company(wire)
        details += [*self._way(wire), *([wire.note] if wire.note else []), *_ahead_words(change)]
        return self._wire_words(
            change,
            operation.conductor,
            f"Route {self._name(operation.conductor)}.",
            details=tuple(details),
            why=reason_words(change.reasons, self._units),
        )

    def _measured_otherwise(self, old: Wire | None, new: Wire) -> list[str]:
        """That the old conductor was measured, and the target gives the new one another length."""
        if old is None or not self._before.runs[old.id].measured:
            return []
        was_m, cut_m = self._before.runs[old.id].length_m, self._after.runs[new.id].length_m
        if abs(was_m - cut_m) <= SAME_LENGTH_M:
            return []
        was, planned = length_words(was_m, self._units), length_words(cut_m, self._units)
        return [f"The old one measured {was}, the target says {planned}: measure before you cut."]

    def _company(self, wire: Wire) -> list[str]:
        """With which lead it is twisted, and from which it is kept away."""
        numbers = self._plan.comparison.numbers.new
        mate = twisted(self._after).get(wire.id)
        others = [tag_number(numbers[name]) for name in kept_apart(self._after).get(wire.id, ())]
        company = [f"Twisted together with {numbered_name(numbers[mate], mate)}."] if mate else []
        if others:
            away = small_length_words(HAND_M, self._units)
            company.append(
                f"{away} or more from {' and '.join(others)}, across them at right angles only."
            )
        return company

    def _old_in_place_of(self, old: Wire | None, new: Wire) -> str:
        """What the old conductor was, where the new one differs from it in size or insulation."""
        if old is None or (old.size == new.size and old.insulation.name == new.insulation.name):
            return ""
        if old.size == new.size:
            return f"Was {insulation_words(old.insulation.name)}, now "
        return f"Was {sizes_in_turn(old.size, new.size, self._units)[0]}, now "

    def _refit(self, operation: RunWire) -> StepWords:
        change, wire = self._changes[operation.conductor], operation.wire
        return self._wire_words(
            change,
            operation.conductor,
            f"Route {self._name(operation.conductor)}, the old one from the bag.",
            details=(f"{self._spec(self._after, wire)}.", *self._way(wire)),
            why=reason_words(change.reasons, self._units),
            expected="Insulation and both terminals sound.",
        )

    def lead(self, operation: LeadAcross) -> StepWords:
        """A free end is led elsewhere."""
        change = self._changes[operation.conductor]
        return self._wire_words(
            change,
            operation.conductor,
            f"Route the free end of {self._name(operation.conductor)} to its new terminal.",
            details=(f"{brief_words(operation.wire, self._units)}.",),
            why=reason_words(change.reasons, self._units),
        )

    def _wire_words(
        self,
        change: WireChange,
        conductor: ConductorKey,
        instruction: str,
        *,
        details: tuple[str, ...],
        expected: str = "",
        why: str = "",
        tick: str = "",
    ) -> StepWords:
        return StepWords(
            mark=self._name(conductor),
            action=end_action(change.disposition),
            style=STYLES[change.disposition],
            instruction=instruction,
            details=details,
            why=why,
            expected=expected,
            tick=tick,
        )

    def _spec(self, configuration: Configuration, wire: Wire) -> str:
        length = length_words(configuration.runs[wire.id].length_m, self._units)
        return f"{conductor_words(wire, self._units)}, about {length}"

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


def _ahead_words(change: WireChange) -> list[str]:
    """That a wire has the size of a later stage already."""
    return [
        f"Fitted in the size of stage {reason.facts['for_stage']}."
        for reason in change.reasons
        if reason.code == FITTED_AHEAD
    ]


def conductor_name(plan: Plan, conductor: ConductorKey) -> str:
    """Number and name of a conductor, as on its tag."""
    return numbered_name(plan.number_of(conductor), conductor.wire_id)


def changes_by_conductor(plan: Plan) -> Mapping[ConductorKey, WireChange]:
    """What happens to each conductor that a step takes in hand."""
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
