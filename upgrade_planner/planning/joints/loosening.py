"""
What comes off at one nut comes off at once, and what stays on it is tightened again.

A wire that is taken out is otherwise one operation, its ends included. Where another wire comes off
the same stud or screw, its end there is taken off together with that one.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.configuration.end_fittings import EndFitting, fittings_at
from upgrade_planner.configuration.model import Connection, Joint, TerminalRef
from upgrade_planner.planning.joints.meeting import connection_at
from upgrade_planner.planning.operations import (
    Dependency,
    DetachEnd,
    Operation,
    RemovePart,
    RemoveWire,
    Wait,
    ends_joined,
    ends_taken_off,
)

UNDER_A_NUT = (Joint.STUD, Joint.SCREW)


def shared_ends_apart(
    operations: Sequence[Operation], comparison: Comparison
) -> Iterator[Operation]:
    """The operations; ends of wires that are taken out stand apart where a nut holds several."""
    off = {(one.wire.id, one.end) for op in operations for one in ends_taken_off(op)}
    at = Counter(end for _, end in off)
    at.update(end for op in operations for end in _ends_still_on(op, off))
    for operation in operations:
        shared = [
            end
            for end in _ends_still_on(operation, off)
            if at[end] > 1 and connection_at(end, comparison.before).joint in UNDER_A_NUT
        ]
        if isinstance(operation, RemoveWire) and shared:
            loosened = [_detached(operation, end, comparison) for end in shared]
            waits = (Dependency(one.id, Wait.SHARED_NUT) for one in loosened)
            yield from loosened
            yield evolve(operation, after=(*operation.after, *waits))
        else:
            yield operation


def _ends_still_on(
    operation: Operation, off: set[tuple[str, TerminalRef]]
) -> tuple[TerminalRef, ...]:
    """Ends that a wire still has on its terminals as it is taken out."""
    if not isinstance(operation, RemoveWire):
        return ()
    return tuple(end for end in operation.wire.ends if (operation.wire.id, end) not in off)


def _detached(operation: RemoveWire, end: TerminalRef, comparison: Comparison) -> DetachEnd:
    key = operation.conductor
    return DetachEnd(
        id=f"detach:{key.side}:{key.wire_id}:{end}",
        phase=operation.phase,
        place=comparison.before.component(end.role).place,
        conductor=key,
        wire=operation.wire,
        end=end,
    )


@frozen(kw_only=True)
class LeftBehind:
    """
    A nut that is tightened again after something came off it, and to which nothing comes later.

    Attributes:
        fittings: What stays on it, from the bottom.
    """

    end: TerminalRef
    connection: Connection
    fittings: tuple[EndFitting, ...]


def left_behind(
    comparison: Comparison, operations: Sequence[Operation]
) -> Mapping[str, tuple[LeftBehind, ...]]:
    """What stays at nuts that operations loosen for good, by the id of the last one at each."""
    joined = {one.end for op in operations for one in ends_joined(op)}
    leaving = {op.part.role for op in operations if isinstance(op, RemovePart)}
    off: set[tuple[str, TerminalRef]] = set()
    last: dict[TerminalRef, str] = {}
    for operation in operations:
        for wire_id, end in _opened(operation, off):
            off.add((wire_id, end))
            last[end] = operation.id
    found: dict[str, list[LeftBehind]] = {}
    for end, operation_id in last.items():
        if end in joined or end.role in leaving:
            continue
        wires = [w for w in comparison.before.wires_at[end] if (w.id, end) not in off]
        connection = connection_at(end, comparison.before)
        if wires and connection.joint in UNDER_A_NUT:
            fittings = fittings_at(connection, wires, as_they_were=[wire.id for wire in wires])
            left = LeftBehind(end=end, connection=connection, fittings=fittings)
            found.setdefault(operation_id, []).append(left)
    return {operation_id: tuple(left) for operation_id, left in found.items()}


def _opened(
    operation: Operation, off: set[tuple[str, TerminalRef]]
) -> Iterable[tuple[str, TerminalRef]]:
    """Wire and terminal of each end that an operation takes off."""
    if isinstance(operation, RemoveWire):
        return [(operation.wire.id, end) for end in _ends_still_on(operation, off)]
    return [(one.wire.id, one.end) for one in ends_taken_off(operation)]
