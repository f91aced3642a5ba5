"""
Carries a plan out on paper: which conductor is joined where after every operation.

The planner does not use it to plan; it proves plans, and an impossible step is an error.
"""

from collections.abc import Iterable

from attrs import define, field

from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef, Wire
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.errors import PlannerError
from upgrade_planner.planning.fuses import fuses_of
from upgrade_planner.planning.operations import (
    AdjustPart,
    AttachEnd,
    CapWire,
    CareForWire,
    ConductorKey,
    DetachEnd,
    FitPart,
    FuseFitted,
    InsertFuse,
    JoinEnds,
    LeadAcross,
    Operation,
    Phase,
    RebuildPart,
    RemovePart,
    RemoveWire,
    RunWire,
    Side,
    TakeOffEnds,
    UncapWire,
    ends_joined,
    ends_taken_off,
)


class ImpossibleStep(PlannerError):
    """An operation that cannot be done in the state the vehicle is in."""


@define
class ConductorState:
    """One conductor: what it is, where its ends are joined, whether it is capped off."""

    wire: Wire
    joined: set[TerminalRef] = field(factory=set)
    capped: bool = False

    @property
    def bare_ends(self) -> int:
        """Ends that are neither joined nor insulated."""
        return 0 if self.capped else 2 - len(self.joined)


@define
class VehicleState:
    """
    The vehicle while the work goes on.

    Attributes:
        parts: Kinds by role.
        fuses_out: Part and terminal of each slot that waits for its fuse.
        tightened: Where and in which phase wires were joined.
    """

    parts: dict[str, str]
    conductors: dict[ConductorKey, ConductorState]
    fuses_out: set[tuple[str, str]] = field(factory=set)
    tightened: set[tuple[TerminalRef, Phase]] = field(factory=set)

    def carry_out(self, operation: Operation) -> None:
        """
        Does one operation.

        Raises:
            ImpossibleStep: it cannot be done now.
        """
        match operation:
            case DetachEnd() | TakeOffEnds():
                for off in ends_taken_off(operation):
                    self._joined(off.conductor).discard(off.end)
            case AttachEnd() | JoinEnds():
                self._join(operation)
            case CareForWire():
                self._conductor(operation.conductor)
            case RemoveWire():
                self._conductor(operation.conductor)
                del self.conductors[operation.conductor]
            case CapWire():
                self._cap(operation)
            case UncapWire():
                self._uncap(operation)
            case RunWire():
                self.conductors[operation.conductor] = ConductorState(operation.wire)
            case LeadAcross():
                self._conductor(operation.conductor).wire = operation.becomes
            case RemovePart() | FitPart() | RebuildPart():
                self._change_part(operation)
            case AdjustPart() | InsertFuse():
                self._change_fuses(operation)

    def bare_conductors(self) -> tuple[ConductorKey, ...]:
        """Conductors with an end that is neither joined nor insulated."""
        return tuple(sorted(key for key, state in self.conductors.items() if state.bare_ends))

    def _conductor(self, key: ConductorKey) -> ConductorState:
        if key not in self.conductors:
            raise ImpossibleStep(f"wire {key.wire_id} ({key.side}) is not in the vehicle")
        return self.conductors[key]

    def _joined(self, key: ConductorKey) -> set[TerminalRef]:
        return self._conductor(key).joined

    def _join(self, operation: AttachEnd | JoinEnds) -> None:
        """A terminal is tightened once in a phase, a splice crimped once with all its wires."""
        end = operation.at if isinstance(operation, JoinEnds) else operation.end
        kind = kinds().get(self.parts.get(end.role, ""))
        is_splice = kind is not None and Capability.MADE_OF_WIRE in kind.capabilities
        if is_splice and any(end in one.joined for one in self.conductors.values()):
            raise ImpossibleStep(f"{operation.id}: the splice is closed already")
        is_post = kind is not None and kind.family is Family.BATTERY
        if (end, operation.phase) in self.tightened and not is_post:
            raise ImpossibleStep(f"{operation.id}: joined twice in phase {operation.phase}")
        self.tightened.add((end, operation.phase))
        for one in ends_joined(operation):
            self._attach(one)

    def _attach(self, operation: AttachEnd) -> None:
        state = self._conductor(operation.conductor)
        kind = self.parts.get(operation.end.role)
        if kind is None:
            raise ImpossibleStep(f"{operation.id}: no such part is fitted")
        if state.capped:
            raise ImpossibleStep(f"{operation.id}: its caps are still on")
        if len(state.joined) == 2 or operation.end in state.joined:
            raise ImpossibleStep(f"{operation.id}: no end of it is free")
        state.joined.add(operation.end)
        state.wire = operation.wire

    def _cap(self, operation: CapWire) -> None:
        state = self._conductor(operation.conductor)
        if state.joined:
            raise ImpossibleStep(f"{operation.id}: an end is still joined")
        state.capped = True

    def _uncap(self, operation: UncapWire) -> None:
        state = self._conductor(operation.conductor)
        if not state.capped:
            raise ImpossibleStep(f"{operation.id}: it has none")
        state.capped = False

    def _change_part(self, operation: RemovePart | FitPart | RebuildPart) -> None:
        match operation:
            case RemovePart():
                self._remove_part(operation)
            case FitPart():
                self._fit_part(operation)
            case RebuildPart():
                self._rebuild(operation)

    def _remove_part(self, operation: RemovePart) -> None:
        role = operation.part.role
        for key, state in self.conductors.items():
            if any(end.role == role for end in state.joined):
                raise ImpossibleStep(f"{operation.id}: wire {key.wire_id} is still on it")
        if self.parts.pop(role, None) is None:
            raise ImpossibleStep(f"{operation.id}: it is not fitted")

    def _fit_part(self, operation: FitPart) -> None:
        if operation.part.role in self.parts:
            raise ImpossibleStep(f"{operation.id}: its place is taken")
        self.parts[operation.part.role] = operation.part.kind
        self._empty(operation.part)

    def _rebuild(self, operation: RebuildPart) -> None:
        part = operation.part
        if self.parts.get(part.role) != operation.before.kind:
            raise ImpossibleStep(f"{operation.id}: the part to be rebuilt is not there")
        for key, state in self.conductors.items():
            if any(e.role == part.role and part.terminal(e.terminal) is None for e in state.joined):
                raise ImpossibleStep(f"{operation.id}: wire {key.wire_id} is still on it")
        self.parts[part.role] = part.kind

    def _empty(self, part: Component, kept: tuple[FuseFitted, ...] = ()) -> None:
        """Fuses stay out of a part; those that it goes on with stay in."""
        self.fuses_out |= {(part.role, f.way) for f in fuses_of(part) if f not in kept}

    def _change_fuses(self, operation: AdjustPart | InsertFuse) -> None:
        if isinstance(operation, AdjustPart):
            self._empty(operation.part, fuses_of(operation.before))
            return
        slot = (operation.part.role, operation.fuse.way)
        if slot not in self.fuses_out:
            raise ImpossibleStep(f"{operation.id}: its slot is not empty")
        self.fuses_out.discard(slot)


def state_of(
    before: Configuration, after: Configuration, spares: Iterable[Wire] = ()
) -> VehicleState:
    """
    The vehicle before the work; splices of the target count as fitted, joining makes them.

    Args:
        before: Parts and wires in use.
        after: The target.
        spares: Dead wires, capped at both ends.
    """
    splices = {part.role: part.kind for part in after.parts_that(Capability.MADE_OF_WIRE)}
    return VehicleState(
        parts=splices | {part.role: part.kind for part in before.components},
        conductors={
            ConductorKey(Side.OLD, wire.id): ConductorState(wire, set(wire.ends))
            for wire in before.wires
        }
        | {
            ConductorKey(Side.CAPPED, wire.id): ConductorState(wire, capped=True) for wire in spares
        },
    )
