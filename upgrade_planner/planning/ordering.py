"""
Puts operations in order: phases first, then reasons, then as few changes of place as possible.

`walking` finds the walk through each phase.
"""

from collections.abc import Iterable, Sequence

from upgrade_planner.errors import PlannerError
from upgrade_planner.planning.operations import Operation, Phase
from upgrade_planner.planning.walking import Distances, NumberedWork, walk_through


class OrderingLoop(PlannerError):
    """Operations that wait for each other in a circle."""

    def __init__(self, loop: Sequence[Operation]) -> None:
        self.loop = tuple(loop)
        ids = {operation.id for operation in loop}
        lines = [
            f"  {operation.id} waits for {dependency.operation_id}: {dependency.reason}"
            for operation in loop
            for dependency in operation.after
            if dependency.operation_id in ids
        ]
        super().__init__("operations wait for each other:\n" + "\n".join(lines))


def in_order_of_work(
    operations: Iterable[Operation], distances: Distances, start_place: str = ""
) -> tuple[Operation, ...]:
    """
    The operations in the order of work.

    Args:
        operations: In any order; ids are unique.
        distances: Way from each place to each other. [m]
        start_place: Where the person stands at the beginning.

    Raises:
        OrderingLoop: some operations wait for each other.
    """
    by_phase: dict[Phase, list[Operation]] = {phase: [] for phase in Phase}
    for operation in sorted(operations, key=lambda operation: operation.id):
        by_phase[operation.phase].append(operation)
    ordered: list[Operation] = []
    place = start_place
    for phase in Phase:
        done = _ordered_phase(by_phase[phase], distances, place)
        ordered += done
        place = next((op.place for op in reversed(done) if op.place), place)
    _prove_order(ordered)
    return tuple(ordered)


def _ordered_phase(
    operations: Sequence[Operation], distances: Distances, place: str
) -> list[Operation]:
    work = NumberedWork(
        places=tuple(operation.place for operation in operations),
        waits=_waits(operations),
        distances=distances,
    )
    if work.stuck:
        raise OrderingLoop(_looping(operations, work))
    return [operations[index] for index in walk_through(work, place)]


def _waits(operations: Sequence[Operation]) -> tuple[frozenset[int], ...]:
    """For each operation, those of the same phase that it waits for."""
    index = {operation.id: i for i, operation in enumerate(operations)}
    return tuple(
        frozenset(index[d.operation_id] for d in operation.after if d.operation_id in index)
        for operation in operations
    )


def _looping(operations: Sequence[Operation], work: NumberedWork) -> list[Operation]:
    """The members of one circle."""
    stuck = set(work.stuck)
    index, path = min(stuck), []
    while index not in path:
        path.append(index)
        index = min(work.waits[index] & stuck)
    return [operations[i] for i in path[path.index(index) :]]


def _prove_order(ordered: Sequence[Operation]) -> None:
    """A dependency on a later phase can only be a mistake in the planner: say so loudly."""
    position = {operation.id: i for i, operation in enumerate(ordered)}
    for index, operation in enumerate(ordered):
        for dependency in operation.after:
            if position.get(dependency.operation_id, -1) > index:
                other = ordered[position[dependency.operation_id]]
                raise OrderingLoop([operation, other])
