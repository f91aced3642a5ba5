"""
Nodes that only blocking elements hold.

Behind a diode that blocks, or above a constant current with nothing to drive it, any voltage within
some range satisfies all laws. The one to report is what a meter of very high resistance would read;
the search pulls such nodes towards the reference by next to nothing.
"""

from collections.abc import Iterator, Sequence

from upgrade_planner.electrical.network.nodal import NodalEquations

# An element holds its ends together if its current changes to both sides of the working point.
# Nodes that rest on a kink are pulled off it by less than this. [V]
MARGIN_V = 1e-6
# The like for the current of a remote regulator. [A]
MARGIN_A = 1e-7


def loose_indices(equations: NodalEquations, voltages: Sequence[float]) -> tuple[int, ...]:
    """Indices that no chain of holding elements joins to the reference."""
    parent = list(range(equations.size + 1))
    for a, b in _holding(equations, voltages):
        parent[_root(parent, a)] = _root(parent, b)
    mainland = _root(parent, equations.size)
    return tuple(i for i in range(equations.size) if _root(parent, i) != mainland)


def _holding(equations: NodalEquations, voltages: Sequence[float]) -> Iterator[tuple[int, int]]:
    for a, b, _ in equations.resistors:
        yield a, b
    for a, b, _, element in equations.curved:
        across_v = voltages[a] - voltages[b]
        if element.law(across_v - MARGIN_V)[1] and element.law(across_v + MARGIN_V)[1]:
            yield a, b
    for remote, current_a in zip(equations.remote, equations.delivered(voltages), strict=True):
        if MARGIN_A < current_a < remote.element.limit_a - MARGIN_A:
            yield remote.plus, remote.minus


def _root(parent: list[int], index: int) -> int:
    while parent[index] != index:
        parent[index] = parent[parent[index]]
        index = parent[index]
    return index
