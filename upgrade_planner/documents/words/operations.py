"""What a step does, and what undoes it, in one line each."""

from collections.abc import Iterable

from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.configuration.values.measures import ampere
from upgrade_planner.documents.words.care import care_line
from upgrade_planner.documents.words.filling import filled
from upgrade_planner.documents.words.standing import procedure_words
from upgrade_planner.documents.words.trying import trial_instruction
from upgrade_planner.documents.words.wording import IN_DATA, NBSP, part_words, role_words
from upgrade_planner.planning.operations import (
    AdjustPart,
    AttachEnd,
    CapWire,
    CareForPart,
    CareForWire,
    DetachEnd,
    FindCause,
    FitPart,
    FuseFitted,
    InsertFuse,
    JoinEnds,
    LeadAcross,
    Operation,
    Procedure,
    RebuildPart,
    RemovePart,
    RemoveWire,
    RunWire,
    SwitchOn,
    TakeOffEnds,
    UncapWire,
)


def operation_words(operation: Operation) -> tuple[str, str]:
    """
    An operation in one line, and its reverse.

    Raises:
        TypeError: there are no words for such an operation.
    """
    match operation:
        case DetachEnd(wire=wire, end=end):
            return f"Disconnect wire {wire.id} at {end}.", f"Connect wire {wire.id} to {end}."
        case AttachEnd(wire=wire, end=end):
            return f"Connect wire {wire.id} to {end}.", f"Disconnect wire {wire.id} at {end}."
        case TakeOffEnds(at=at, ends=taken):
            return _disconnected(taken, at), _connected(taken, at)
        case JoinEnds(at=at, ends=joined):
            return _connected(joined, at), _disconnected(joined, at)
        case RemoveWire(wire=wire):
            ends = f"{wire.start} to {wire.end}"
            return f"Remove wire {wire.id}, {ends}.", f"Run wire {wire.id}, {ends}."
        case RunWire(wire=wire):
            ends = f"{wire.start} to {wire.end}"
            return f"Route wire {wire.id} from {ends}.", f"Remove wire {wire.id}, {ends}."
        case CapWire(wire=wire):
            return _capped(wire.id), _uncapped(wire.id)
        case UncapWire(wire=wire):
            return _uncapped(wire.id), _capped(wire.id)
        case LeadAcross(wire=wire):
            free = f"Route the free end of wire {wire.id}"
            return f"{free} to its new terminal.", f"{free} back to its old terminal."
    return _other_words(operation)


def _other_words(operation: Operation) -> tuple[str, str]:
    match operation:
        case CareForWire() | CareForPart() | FindCause():
            return care_line(operation), "Nothing to undo."
        case SwitchOn():
            return trial_instruction(operation), "Nothing to undo."
        case RemovePart(part=part):
            name = f"the {part.name} ({part.role})"
            return f"Remove {name}.", f"Fit {name}."
        case FitPart(part=part):
            name = f"the {part.name} ({part.role})"
            return f"Fit {name}.", f"Remove {name}."
        case AdjustPart(part=part, fuses=fuses):
            old = f"Take the old fuses out of the {part.name}"
            return f"{old}; new ones: {'; '.join(fuse_words(fuses))}.", f"{old} and fit them again."
        case RebuildPart():
            return rebuilt_line(operation), f"Rebuild the {operation.part.name} as it was."
        case InsertFuse(part=part, fuse=fuse):
            one = f"fuse {fuse_words([fuse])[0]}"
            return f"Fit the {one} in the {part.name}.", f"Take the {one} out of the {part.name}."
        case Procedure():
            return procedure_words(operation, IN_DATA).instruction, "Nothing to undo."
    raise TypeError(f"no words for {type(operation).__name__}")


def fuse_words(fuses: Iterable[FuseFitted]) -> tuple[str, ...]:
    """Each fuse with the terminal that it feeds: `lamps: 15 A`."""
    facts = [{"way": role_words(fuse.way), "rated": ampere(fuse.rated_current_a)} for fuse in fuses]
    return tuple(
        filled("{way}: {rated:g}" if fact["way"] else "{rated:g}", fact, IN_DATA, NBSP)
        for fact in facts
    )


def rebuilt_line(operation: RebuildPart) -> str:
    """What is done to a part that stays and gets other insides."""
    name = part_words(operation.before)
    if operation.leaves:
        return f"Remove {operation.leaves} from the {name}: the part itself stays."
    if operation.gets:
        return f"Fit {operation.gets} in the {name}: the part itself stays."
    return f"Disconnect what is inside the {name}: the part itself stays."


def _connected(ends: Iterable[AttachEnd | DetachEnd], at: TerminalRef) -> str:
    return f"Connect wires {_wires_in_order(ends)} together to {at}."


def _disconnected(ends: Iterable[AttachEnd | DetachEnd], at: TerminalRef) -> str:
    return f"Disconnect wires {_wires_in_order(ends)} at {at}."


def _wires_in_order(ends: Iterable[AttachEnd | DetachEnd]) -> str:
    return ", ".join(end.wire.id for end in ends)


def _capped(wire_id: str) -> str:
    return f"Cap off wire {wire_id} at both ends."


def _uncapped(wire_id: str) -> str:
    return f"Take the caps off wire {wire_id}."
