"""
Nodes that only blocking elements hold: a search that finds them, and gives them a voltage.

Behind a diode that blocks, or above a constant current with nothing to drive it, any voltage within
some range satisfies all laws. The one to report is what a meter of very high resistance would read:
such nodes are pulled towards the reference by next to nothing, and the search goes on.
"""

from collections.abc import Sequence

from attrs import frozen

from upgrade_planner.electrical.network.nodal import NodalEquations
from upgrade_planner.electrical.network.search import Found, Search

# An element holds its ends together if its current changes to both sides of the working point.
# Nodes that rest on a kink are pulled off it by less than this. [V]
MARGIN_V = 1e-6
# The like for the current of a remote regulator. [A]
MARGIN_A = 1e-7


@frozen
class Settled:
    """
    The end of a search, loose nodes included.

    Attributes:
        found: The last search.
        loose: Indices that only blocking elements hold.
    """

    found: Found
    loose: tuple[int, ...] = ()


def settled(
    equations: NodalEquations,
    start: Sequence[float] | None = None,
    held: Sequence[float] | None = None,
) -> Settled:
    """
    Search with all nodes pulled, then end it with the pull on loose nodes alone.

    Args:
        equations: The network.
        start: Voltages of all indices; None begins from the elements' own voltages. [V]
        held: Currents of the remote regulators whatever they sense; None lets them regulate. [A]
    """
    search = Search(equations, pulled=range(equations.size), held=held)
    if start is None:
        found = search.from_tangents(equations.start_v())
    else:
        found = search.from_voltages(start)
    if not found.is_balanced:
        return Settled(found)
    loose = loose_indices(equations, found.voltages)
    ended = Search(equations, pulled=loose, held=held).from_voltages(found.voltages)
    return Settled(ended._replace(steps=found.steps + ended.steps), loose)


def loose_indices(equations: NodalEquations, voltages: Sequence[float]) -> tuple[int, ...]:
    """Indices that no chain of holding elements joins to the reference."""
    parent = list(range(equations.size + 1))
    for a, b in _holding(equations, voltages):
        parent[_root(parent, a)] = _root(parent, b)
    mainland = _root(parent, equations.size)
    return tuple(i for i in range(equations.size) if _root(parent, i) != mainland)


def _holding(equations: NodalEquations, voltages: Sequence[float]) -> list[tuple[int, int]]:
    pairs = [(a, b) for a, b, _, _ in equations.resistors]
    for a, b, _, element in equations.curved:
        across_v = voltages[a] - voltages[b]
        if element.law(across_v - MARGIN_V)[1] and element.law(across_v + MARGIN_V)[1]:
            pairs.append((a, b))
    for remote, current_a in zip(equations.remote, equations.delivered(voltages), strict=True):
        if MARGIN_A < current_a < remote.element.limit_a - MARGIN_A:
            pairs.append((remote.plus, remote.minus))
    return pairs


def _root(parent: list[int], index: int) -> int:
    while parent[index] != index:
        parent[index] = parent[parent[index]]
        index = parent[index]
    return index
