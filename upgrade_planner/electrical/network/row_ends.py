"""
Equations of fewer nodes: those at which rows of resistors meet, or anything but resistors.

A node with one resistor has the voltage of its other end, and one with two has a mean of those of
both neighbours: it can be told once these are known. So it is left out, its resistors become one,
and the search is made in the nodes that are left. Wiring is nearly all rows, so that these are less
than half. Nothing is ever subtracted, as in `elimination`.
"""

from collections.abc import Sequence

from upgrade_planner.electrical.network.line_search import Found
from upgrade_planner.electrical.network.nodal import Equations, IndexedElement

# A node that is left out, and those two whose mean its voltage is, each with its share.
Mean = tuple[int, int, float, int, float]


class Rows:
    """
    The rows of a network.

    Attributes:
        ends: The equations of the nodes that are left.

    Args:
        equations: Those of all nodes.
    """

    def __init__(self, equations: Equations) -> None:
        self._size = equations.size
        self._ways = self._conductances(equations)
        self._is_left = [True] * (self._size + 1)
        self._means: list[Mean] = []
        self._leave_out(_held(equations))
        self._left = [node for node, is_left in enumerate(self._is_left) if is_left]
        self.ends = self._equations(equations) if self._means else equations

    def _conductances(self, equations: Equations) -> list[dict[int, float]]:
        """Of each index to each of its neighbours. [S]"""
        ways: list[dict[int, float]] = [{} for _ in range(self._size + 1)]
        for a, b, conductance_s in equations.resistors:
            ways[a][b] = ways[b][a] = ways[a].get(b, 0.0) + conductance_s
        return ways

    def _leave_out(self, held: set[int]) -> None:
        """All nodes with at most two neighbours, until there are none but those that are held."""
        ways, is_left = self._ways, self._is_left
        waiting = [node for node in range(self._size) if len(ways[node]) <= 2]
        while waiting:
            node = waiting.pop()
            if is_left[node] and node not in held:
                is_left[node] = False
                self._means.append(self._left_out(node))
                waiting += [end for end in ways[node] if len(ways[end]) <= 2]

    def _left_out(self, node: int) -> Mean:
        """What the voltage of a node is the mean of; what is joined to nothing rests at zero."""
        ways = self._ways
        ends = [*ways[node].items()]
        for end, _ in ends:
            del ways[end][node]
        if len(ends) < 2:
            only = ends[0][0] if ends else self._size
            return node, only, 1.0, only, 0.0
        (one, one_s), (other, other_s) = ends
        share, other_share = one_s / (one_s + other_s), other_s / (one_s + other_s)
        ways[one][other] = ways[other][one] = ways[one].get(other, 0.0) + share * other_s
        return node, one, share, other, other_share

    def _equations(self, equations: Equations) -> Equations:
        """Those of the nodes that are left, in their order."""
        number = dict(zip(self._left, range(self._size + 1), strict=False))
        made = Equations()
        made.size = number[self._size]
        made.resistors = [
            (number[a], number[b], conductance_s)
            for a in self._left
            for b, conductance_s in self._ways[a].items()
            if a < b
        ]
        made.curved = [IndexedElement(number[a], number[b], e) for a, b, e in equations.curved]
        made.remote = [remote.at(number) for remote in equations.remote]
        return made

    def at_ends(self, voltages: Sequence[float]) -> list[float]:
        """Those of the nodes that are left, out of all voltages. [V]"""
        return [voltages[node] for node in self._left]

    def in_all(self, found: Found) -> Found:
        """What was found in the nodes that are left, with all nodes."""
        voltages, loose = [0.0] * (self._size + 1), {self._left[node] for node in found.loose}
        for node, volts in zip(self._left, found.voltages, strict=True):
            voltages[node] = volts
        for node, one, share, other, other_share in reversed(self._means):
            voltages[node] = share * voltages[one] + other_share * voltages[other]
            if one in loose:
                loose.add(node)
        return found._replace(voltages=voltages, loose=tuple(sorted(loose)), trail=[voltages])


def _held(equations: Equations) -> set[int]:
    """The reference, and nodes at which there is more than resistors."""
    held = {equations.size, *(node for a, b, _ in equations.curved for node in (a, b))}
    return held.union(*(remote[:4] for remote in equations.remote))
