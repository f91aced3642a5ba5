"""
Makes one operation of all ends that come off, or go on, at one terminal.

A nut is loosened and tightened once. All joints of a terminal are made in the last phase in which
one of them can be; a splice so waits until all its wires lie there. At a battery post the links,
the live and the grounded cables stay apart, for the test lamp hangs between them.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import TypeVar

from attrs import evolve

from upgrade_planner.comparison.results import Comparison
from upgrade_planner.configuration.end_fittings import thickest_first
from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.electrical.batteries import Cable, cables_of, second_returns
from upgrade_planner.planning.battery_order import Cables
from upgrade_planner.planning.joints.loosening import shared_ends_apart
from upgrade_planner.planning.operations import (
    AttachEnd,
    Dependency,
    DetachEnd,
    JoinEnds,
    Operation,
    Phase,
    TakeOffEnds,
    Wait,
)

_Key = tuple[TerminalRef, Cable | None]
_End = TypeVar("_End", AttachEnd, DetachEnd)


def grouped(work: Iterable[Operation], comparison: Comparison) -> tuple[Operation, ...]:
    """The operations with those at one terminal made one; what waited for an end waits for it."""
    operations = list(shared_ends_apart(list(work), comparison))
    off = _by_terminal(operations, DetachEnd, cables_of(comparison.before))
    on = _by_terminal(operations, AttachEnd, cables_of(comparison.after))
    unsafe = second_returns(comparison.before) | second_returns(comparison.after)
    groups: list[Operation] = [_off(key, ends, unsafe) for key, ends in off.items()]
    groups += [_on(key, ends, unsafe) for key, ends in on.items()]
    joined_by = {end.id: one.id for one in groups for end in one.ends}  # type: ignore[attr-defined]
    single = [op for op in operations if op.id not in joined_by]
    return tuple(_without_circles(_renamed([*single, *groups], joined_by)))


def _by_terminal(
    operations: Iterable[Operation], kind: type[_End], cables: Cables
) -> dict[_Key, list[_End]]:
    found: dict[_Key, list[_End]] = defaultdict(list)
    for operation in operations:
        if isinstance(operation, kind):
            end = operation.end
            found[end, cables.get((operation.wire.id, end))].append(operation)
    return {key: ends for key, ends in found.items() if len(ends) > 1}


def _off(key: _Key, ends: Sequence[DetachEnd], unsafe: frozenset[str]) -> TakeOffEnds:
    """What would carry the starter's current with the main ground off comes off first."""
    first = sorted(ends, key=lambda end: (end.wire.id not in unsafe, end.id))
    return TakeOffEnds(
        id=_id("take-off", key),
        phase=max(end.phase for end in ends),
        place=ends[0].place,
        after=_waits(ends),
        at=key[0],
        ends=tuple(first),
    )


def _on(key: _Key, ends: Sequence[AttachEnd], unsafe: frozenset[str]) -> JoinEnds:
    """The thickest cable lies at the bottom; what came off first goes on last."""
    rank = {wire.id: i for i, wire in enumerate(thickest_first(end.wire for end in ends))}
    last = sorted(ends, key=lambda end: (end.wire.id in unsafe, rank[end.wire.id]))
    return JoinEnds(
        id=_id("join", key),
        phase=max(end.phase for end in ends),
        place=ends[0].place,
        after=_waits(ends),
        at=key[0],
        ends=tuple(last),
    )


def _id(action: str, key: _Key) -> str:
    end, cable = key
    return f"{action}:{end}" + (f":{cable}" if cable else "")


def _waits(ends: Iterable[AttachEnd | DetachEnd]) -> tuple[Dependency, ...]:
    return tuple(dict.fromkeys(wait for end in ends for wait in end.after))


def _renamed(operations: Iterable[Operation], joined_by: Mapping[str, str]) -> list[Operation]:
    return [evolve(op, after=_waits_renamed(op, joined_by)) for op in operations]


def _waits_renamed(operation: Operation, joined_by: Mapping[str, str]) -> tuple[Dependency, ...]:
    waits = (
        Dependency(joined_by.get(wait.operation_id, wait.operation_id), wait.reason)
        for wait in operation.after
    )
    return tuple(dict.fromkeys(wait for wait in waits if wait.operation_id != operation.id))


def _without_circles(operations: Sequence[Operation]) -> list[Operation]:
    """
    The operations; a load end that cannot come first need not.

    Wires that lead to and fro between two terminals, or to one that is joined in a later phase,
    have no such order; nothing is live then.
    """
    phases: dict[str, Phase] = {op.id: op.phase for op in operations}
    waits = {
        op.id: {w.operation_id for w in op.after if w.reason is not Wait.LOAD_END_FIRST}
        for op in operations
    }
    kept = []
    for operation in operations:
        after = []
        for wait in operation.after:
            if wait.reason is Wait.LOAD_END_FIRST:
                later = phases[wait.operation_id] > operation.phase
                if later or _reaches(wait.operation_id, operation.id, waits):
                    continue
                waits[operation.id].add(wait.operation_id)
            after.append(wait)
        kept.append(evolve(operation, after=tuple(after)))
    return kept


def _reaches(start: str, goal: str, waits: Mapping[str, set[str]]) -> bool:
    """True if one operation waits for another, directly or through others."""
    seen, queue = {start}, [start]
    for one in queue:
        for other in waits.get(one, ()):
            if other == goal:
                return True
            if other not in seen:
                seen.add(other)
                queue.append(other)
    return False
