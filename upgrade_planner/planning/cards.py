"""
What is done at the terminals of one part: one card, ticked from terminal to terminal.

Taking out, it is every end that comes off at a part, every wire that comes out there, and the part
itself if nothing elsewhere must be done in between. Joining, it is what no row of a laid wire has:
ends of wires that stay or move, and ends that come under one nut together. A part at which one
thing alone is done has no card: a sentence reads better.
"""

from collections.abc import Iterator, Sequence

from upgrade_planner.planning.operations import (
    AttachEnd,
    ConductorKey,
    DetachEnd,
    JoinEnds,
    LeadAcross,
    Operation,
    Phase,
    RemovePart,
    RemoveWire,
    RunWire,
    TakeOffEnds,
    UncapWire,
)

_LEAST = 2
"""Things to do at a part that make a card."""

Card = tuple[str, list[Operation]]
"""Role of the part, and what is done at it."""


def cards(operations: Sequence[Operation]) -> Iterator[Card]:
    """The cards among the operations of one phase; each as it should be, then without its part."""
    roles = _taken_off(operations) | _joined(operations)
    by_part: dict[str, list[Operation]] = {}
    for operation in operations:
        if operation.id in roles:
            by_part.setdefault(roles[operation.id], []).append(operation)
    for role, group in by_part.items():
        staying = [one for one in group if not isinstance(one, RemovePart)]
        for tried in (group, staying):
            if sum(not isinstance(one, LeadAcross) for one in tried) >= _LEAST:
                yield role, tried


def _taken_off(operations: Sequence[Operation]) -> dict[str, str]:
    """Operations by id that take off at a part, with its role."""
    found = {}
    places = {}
    for operation in operations:
        match operation:
            case DetachEnd(phase=Phase.TAKE_OUT, end=at) | TakeOffEnds(phase=Phase.TAKE_OUT, at=at):
                found[operation.id] = at.role
            case RemovePart(part=part):
                found[operation.id] = part.role
            case _:
                continue
        places[found[operation.id]] = operation.place
    going = {one.part.role for one in operations if isinstance(one, RemovePart)}
    for operation in operations:
        if isinstance(operation, RemoveWire):
            ends = {end.role for end in operation.wire.ends}
            here = [role for role in sorted(ends) if places.get(role) == operation.place]
            if here:
                found[operation.id] = min(here, key=lambda role: role not in going)
    return found


def _joined(operations: Sequence[Operation]) -> dict[str, str]:
    """Operations by id that join at a part what is not laid, with its role."""
    laid = {one.conductor for one in operations if isinstance(one, RunWire | UncapWire)}
    ends: dict[ConductorKey, list[AttachEnd]] = {}
    for operation in operations:
        if isinstance(operation, AttachEnd) and operation.phase is Phase.RUN_WIRES:
            ends.setdefault(operation.conductor, []).append(operation)
    alone = {key: own[0] for key, own in ends.items() if key not in laid and len(own) == 1}
    found = {one.id: one.end.role for one in alone.values()}
    for operation in operations:
        match operation:
            case JoinEnds(phase=Phase.RUN_WIRES, at=at):
                found[operation.id] = at.role
            case LeadAcross(conductor=key) if key in alone:
                found[operation.id] = alone[key].end.role
    return found
