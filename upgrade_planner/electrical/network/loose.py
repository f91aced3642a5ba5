"""
Nodes that only blocking elements hold.

Behind a diode that blocks, or above a constant current with nothing to drive it, any voltage within
some range satisfies all laws. The one to report is what a meter of very high resistance would read;
the search pulls such nodes towards the reference by next to nothing.
"""

from collections.abc import Iterable, Iterator, Sequence

from upgrade_planner.electrical.network.elements import Regulated
from upgrade_planner.electrical.network.laws import Element
from upgrade_planner.electrical.network.nodal import NodalEquations

# An element holds its ends together if its current changes to both sides of the working point.
# Nodes that rest on a kink are pulled off it by less than this. [V]
MARGIN_V = 1e-6
# The like for the current of a remote regulator. [A]
MARGIN_A = 1e-7


class Joined:
    """
    Indices up to a size, that of the reference, joined by pairs.

    Args:
        size: Index of the reference.
        pairs: Indices that are joined.
    """

    def __init__(self, size: int, pairs: Iterable[tuple[int, int]]) -> None:
        parent = list(range(size + 1))
        _join(parent, pairs)
        roots = [_root(parent, index) for index in range(size + 1)]
        numbers = {root: number for number, root in enumerate(dict.fromkeys(roots))}
        self._island = [numbers[root] for root in roots]
        self._count = len(numbers)

    def unheld(self, pairs: Iterable[tuple[int, int]]) -> tuple[int, ...]:
        """Indices that nothing joins to the reference, with some more pairs; these as needed."""
        if self._count == 1:
            return ()
        island, parent = self._island, list(range(self._count))
        _join(parent, ((island[a], island[b]) for a, b in pairs))
        mainland = _root(parent, island[-1])
        adrift = {n for n in range(self._count) if _root(parent, n) != mainland}
        return tuple(i for i, number in enumerate(island) if number in adrift) if adrift else ()


def loose_indices(equations: NodalEquations, voltages: Sequence[float]) -> tuple[int, ...]:
    """Indices that no chain of holding elements joins to the reference."""
    return Joined(equations.size, _holding(equations, voltages)).unheld(())


def holds_together(element: Element, across_v: float) -> bool:
    """Whether an element holds its ends together, at the voltage that its law depends on."""
    if isinstance(element, Regulated) and element.is_remote:
        return MARGIN_A < element.delivered_a(across_v) < element.limit_a - MARGIN_A
    return bool(element.law(across_v - MARGIN_V)[1] and element.law(across_v + MARGIN_V)[1])


def _holding(equations: NodalEquations, voltages: Sequence[float]) -> Iterator[tuple[int, int]]:
    for a, b, _ in equations.resistors:
        yield a, b
    for a, b, _, element in equations.curved:
        if holds_together(element, voltages[a] - voltages[b]):
            yield a, b
    for remote in equations.remote:
        if holds_together(remote.element, remote.sensed_v(voltages)):
            yield remote.plus, remote.minus


def _join(parent: list[int], pairs: Iterable[tuple[int, int]]) -> None:
    for a, b in pairs:
        parent[_root(parent, a)] = _root(parent, b)


def _root(parent: list[int], index: int) -> int:
    while parent[index] != index:
        parent[index] = parent[parent[index]]
        index = parent[index]
    return index
