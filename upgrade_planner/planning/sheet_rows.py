"""
Rows of a work sheet: the steps that belong to one thing in the hand, one tick for each step.

A wire that is laid has one row: laying it, and each of its ends that is joined alone. What comes
off at one part has one row, a card that goes from terminal to terminal, with the wires that come
out there, and the part itself; so has what is joined at one part without being laid, or several
under one nut. One thing alone is no card: a wire whose ends are joined again has a row as a wire.
Tags are one row for all places. Everything else (a splice, a test, a hold point) has a row of its
own, and nothing of the phases in which the battery comes off or goes on, or things are live, is
ever put together, but for the consumers of a place, to be switched on once.

Putting together never breaks an order: what a row waits for stands in an earlier row.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from graphlib import CycleError, TopologicalSorter
from heapq import heappop, heappush

from upgrade_planner.attributes import frozen
from upgrade_planner.planning.cards import cards
from upgrade_planner.planning.operations import (
    AttachEnd,
    ConductorKey,
    LeadAcross,
    Operation,
    Phase,
    Procedure,
    RunWire,
    SwitchOn,
    UncapWire,
    Work,
)

NEVER_TOGETHER = frozenset({Phase.MAKE_SAFE, Phase.RECONNECT, Phase.TEST_LIVE, Phase.RUN_ENGINE})
"""Phases in which each step is a row: a hurried hand must not take two for one."""

Waiting = Mapping[int, set[int]]
"""Which rows each row waits for."""


@frozen
class SheetRow:
    """
    One row of the sheet.

    Attributes:
        number: Phase letter and count: `F3`.
        operations: In the order of doing, each with a tick of its own.
        part: Role of the part through whose terminals the row goes; "" for any other row.
    """

    number: str
    operations: tuple[Operation, ...]
    part: str = ""

    @property
    def phase(self) -> Phase:
        """The phase of all its steps."""
        return self.operations[0].phase

    @property
    def place(self) -> str:
        """Where its first step is done; "" if anywhere."""
        return self.operations[0].place

    @property
    def step_numbers(self) -> tuple[str, ...]:
        """A number for each step: that of the row, with a count where there are several: `F3.2`."""
        if len(self.operations) == 1:
            return (self.number,)
        return tuple(f"{self.number}.{count}" for count, _ in enumerate(self.operations, start=1))


def rows(operations: Sequence[Operation]) -> tuple[SheetRow, ...]:
    """
    The rows of a plan, in the order in which they are printed.

    Args:
        operations: In an order that keeps what each waits for; each id once.
    """
    made: list[SheetRow] = []
    for phase in Phase:
        mine = [operation for operation in operations if operation.phase is phase]
        for number, (part, members) in enumerate(_in_order(mine), start=1):
            made.append(SheetRow(f"{phase}{number}", members, part))
    return tuple(made)


def _in_order(operations: Sequence[Operation]) -> Iterator[tuple[str, tuple[Operation, ...]]]:
    """Rows of one phase: as early as their first step, but after what they wait for."""
    row_of, parts = _together(operations)
    members: dict[int, list[Operation]] = {}
    for operation in operations:
        members.setdefault(row_of[operation.id], []).append(operation)
    for row in _first_that_may(_waiting(operations, row_of)):
        yield parts.get(row, ""), tuple(members[row])


def _together(operations: Sequence[Operation]) -> tuple[dict[str, int], dict[int, str]]:
    """The row of each operation, named by the index of its first one; the part of each card."""
    alone = {operation.id: at for at, operation in enumerate(operations)}
    row_of, parts = dict(alone), dict[int, str]()
    for part, group in (*cards(operations), *(("", group) for group in _groups(operations))):
        is_free = all(row_of[one.id] == alone[one.id] for one in group)
        row = row_of[group[0].id]
        joined = {**row_of, **dict.fromkeys((one.id for one in group), row)}
        if is_free and _can_be_done(_waiting(operations, joined)):
            row_of = joined
            parts[row] = part
    return row_of, parts


def _waiting(operations: Iterable[Operation], row_of: Mapping[str, int]) -> Waiting:
    waiting: dict[int, set[int]] = {row: set() for row in row_of.values()}
    for operation in operations:
        after = row_of[operation.id]
        for dependency in operation.after:
            before = row_of.get(dependency.operation_id)
            if before is not None and before != after:
                waiting[after].add(before)
    return waiting


def _can_be_done(waiting: Waiting) -> bool:
    """Whether no rows wait for each other."""
    try:
        TopologicalSorter(waiting).prepare()
    except CycleError:
        return False
    return True


def _first_that_may(waiting: Waiting) -> Iterator[int]:
    """Rows in an order in which none waits; of those that may come next, the first."""
    sorter = TopologicalSorter(waiting)
    sorter.prepare()
    ready: list[int] = []
    while sorter.is_active():
        for row in sorter.get_ready():
            heappush(ready, row)
        row = heappop(ready)
        yield row
        sorter.done(row)


def _groups(operations: Sequence[Operation]) -> Iterator[list[Operation]]:
    """What may stand in one row, if the order allows it."""
    by_key: dict[ConductorKey | Work | str, list[Operation]] = {}
    for operation in operations:
        key = _key(operation)
        if key is not None:
            by_key.setdefault(key, []).append(operation)
    yield from (group for group in by_key.values() if len(group) > 1)


def _key(operation: Operation) -> ConductorKey | Work | str | None:
    if isinstance(operation, SwitchOn):
        return f"{SwitchOn.__name__} {operation.place}"
    if operation.phase in NEVER_TOGETHER:
        return None
    match operation:
        case RunWire() | UncapWire() | LeadAcross() | AttachEnd():
            return operation.conductor
        case Procedure(work=Work.TAGS, hold=False):
            return Work.TAGS
    return None
