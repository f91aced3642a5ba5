"""
Puts operations in order: phases first, then reasons, then as few changes of place as possible.

Within a phase the search is exact: at a place everything that can be done there is done before
walking on (doing more never hurts), so the only choice is where to walk next. The cheapest walk is
found by a shortest-path search over what has been done.
"""

import heapq
from collections.abc import Iterable, Mapping, Sequence

from attrs import frozen

from upgrade_planner.errors import PlannerError
from upgrade_planner.planning.operations import Operation, Phase

LARGEST_SEARCH = 20_000
"""States looked at before the search contents itself with the nearest open place.
Source: our assumption; the shipped vans need a few hundred."""

Distances = Mapping[str, Mapping[str, float]]


class OrderingLoop(PlannerError):
    """Operations that wait for each other in a circle."""

    def __init__(self, loop: Sequence[Operation]) -> None:
        self.loop = tuple(loop)
        ids = {operation.id for operation in loop}
        lines = [
            f"  {operation.line} waits for {dependency.operation_id}: {dependency.reason}"
            for operation in loop
            for dependency in operation.after
            if dependency.operation_id in ids
        ]
        super().__init__("operations wait for each other:\n" + "\n".join(lines))


def order(
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


def changes_of_place(operations: Iterable[Operation], start_place: str = "") -> int:
    """How often one has to walk; operations without a place are done on the spot."""
    place, walks = start_place, 0
    for operation in operations:
        if operation.place and operation.place != place:
            walks += bool(place)
            place = operation.place
    return walks


@frozen(order=True)
class _Walk:
    """A state of the search: cost so far, then a tie-break that is the same on every run."""

    changes: int
    distance_m: float
    visited: tuple[str, ...]
    done: tuple[int, ...]


def _ordered_phase(
    operations: Sequence[Operation], distances: Distances, place: str
) -> list[Operation]:
    if not operations:
        return []
    waits = _waits(operations)
    first = _closure(operations, waits, (), place)
    queue = [_Walk(0, 0.0, (place,), first)]
    seen: set[tuple[frozenset[int], str]] = set()
    while queue:
        state = heapq.heappop(queue)
        if len(state.done) == len(operations):
            return [operations[index] for index in state.done]
        key = (frozenset(state.done), state.visited[-1])
        if key in seen:
            continue
        seen.add(key)
        nexts = _next_walks(state, operations, waits, distances)
        if len(seen) > LARGEST_SEARCH:
            queue = nexts[:1]
            continue
        for walk in nexts:
            heapq.heappush(queue, walk)
    raise OrderingLoop(_looping(operations, waits))


def _waits(operations: Sequence[Operation]) -> list[frozenset[int]]:
    """For each operation, those of the same phase that it waits for."""
    index = {operation.id: i for i, operation in enumerate(operations)}
    return [
        frozenset(index[d.operation_id] for d in operation.after if d.operation_id in index)
        for operation in operations
    ]


def _closure(
    operations: Sequence[Operation],
    waits: Sequence[frozenset[int]],
    done: tuple[int, ...],
    place: str,
) -> tuple[int, ...]:
    """`done` and everything that can be done here now, one after another."""
    ready = set(done)
    order_ = list(done)
    progress = True
    while progress:
        progress = False
        for index, operation in enumerate(operations):
            here = operation.place in ("", place)
            if index not in ready and here and waits[index] <= ready:
                ready.add(index)
                order_.append(index)
                progress = True
                break
    return tuple(order_)


def _next_walks(
    state: _Walk,
    operations: Sequence[Operation],
    waits: Sequence[frozenset[int]],
    distances: Distances,
) -> list[_Walk]:
    done = set(state.done)
    here = state.visited[-1]
    open_places = {
        operation.place
        for index, operation in enumerate(operations)
        if index not in done and waits[index] <= done
    }
    return sorted(
        _Walk(
            state.changes + bool(here),
            state.distance_m + distances.get(here, {}).get(place, 0.0),
            (*state.visited, place),
            _closure(operations, waits, state.done, place),
        )
        for place in open_places
    )


def _looping(operations: Sequence[Operation], waits: Sequence[frozenset[int]]) -> list[Operation]:
    """The members of one circle."""
    stuck = set(range(len(operations)))
    while True:
        free = {index for index in stuck if not waits[index] & stuck}
        if not free:
            break
        stuck -= free
    index, path = min(stuck), []
    while index not in path:
        path.append(index)
        index = min(waits[index] & stuck)
    return [operations[i] for i in path[path.index(index) :]]


def _prove_order(ordered: Sequence[Operation]) -> None:
    """A dependency on a later phase can only be a mistake in the planner: say so loudly."""
    position = {operation.id: i for i, operation in enumerate(ordered)}
    for index, operation in enumerate(ordered):
        for dependency in operation.after:
            if position.get(dependency.operation_id, -1) > index:
                other = ordered[position[dependency.operation_id]]
                raise OrderingLoop([operation, other])
