"""
Equations of fewer nodes: those at which rows of resistors meet, or anything but resistors.

A node with one resistor has the voltage of its other end, and one with two has a mean of those of
both neighbours: it can be told once these are known. So it is left out, its resistors become one,
and the search is made in the nodes that are left. Wiring is nearly all rows, so that these are less
than half. Nothing is ever subtracted, as in `elimination`.
"""

from collections.abc import Sequence

from upgrade_planner.electrical.network.elimination import (
    Elimination,
    conductance_slots,
    eliminated,
    solver_for,
)
from upgrade_planner.electrical.network.equations import Equations, IndexedElement
from upgrade_planner.electrical.network.line_search import Found


class RowPlan:
    """
    Which nodes are left out of equations, and what those are between that are left.

    It depends on what is joined to what alone, and serves for any conductances.
    """

    def __init__(self, equations: Equations) -> None:
        edges = tuple(equations.resistor_slots[1])
        plan = Elimination(equations.size, edges, _held(equations))
        self.slots = plan.next_slot
        # what nothing joins to another node rests at zero
        self.chains = [step for step in plan.chains if step[3] >= 0]
        self.leaves_all = not plan.chains
        self.left = plan.left
        self._size = len(plan.left)
        self._number = {node: count for count, node in enumerate((*plan.left, equations.size))}
        self._links = [(self._number[a], self._number[b], slot) for a, b, slot in plan.links()]
        ends = ((a, b) for a, b, _ in self._links)
        self._link_slots, self._edges = conductance_slots(self._size, ends, {})
        curved = [(self._number[a], self._number[b]) for a, b, _ in equations.curved]
        self._curved = curved
        self._curved_slots = conductance_slots(self._size, curved, self._edges)
        self._solver = solver_for(self._size, tuple(self._curved_slots[1]))

    def ends(self, equations: Equations, values: Sequence[float]) -> Equations:
        """
        The equations of the nodes that are left, in their order.

        Args:
            equations: Those of all nodes.
            values: Conductances by slot, once the other nodes are taken out. [S]
        """
        grounds = [(count, values[node]) for count, node in enumerate(self.left) if values[node]]
        made = Equations()
        made.size = size = self._size
        made.resistors = [(a, b, values[slot]) for a, b, slot in self._links]
        made.resistors += [(count, size, conductance_s) for count, conductance_s in grounds]
        pairs = zip(self._curved, equations.curved, strict=True)
        made.curved = [IndexedElement(a, b, branch.element) for (a, b), branch in pairs]
        made.remote = [remote.at(self._number) for remote in equations.remote]
        made.resistor_slots = ([*self._link_slots, *(count for count, _ in grounds)], self._edges)
        made.curved_slots, made.solver = self._curved_slots, self._solver
        return made


def _held(equations: Equations) -> set[int]:
    """Nodes at which there is more than resistors."""
    held = {node for a, b, _ in equations.curved for node in (a, b)}
    return held.union(*(remote[:4] for remote in equations.remote))


class Rows:
    """
    The rows of a network.

    Attributes:
        ends: The equations of the nodes that are left; those given where these are all.

    Args:
        equations: Those of all nodes.
        plan: Of these, or of such as differ in conductances.
    """

    def __init__(self, equations: Equations, plan: RowPlan) -> None:
        values = [0.0] * (plan.slots + 1)
        pairs = zip(equations.resistor_slots[0], equations.resistors, strict=True)
        for slot, (_, _, conductance_s) in pairs:
            values[slot] += conductance_s
        self._size = equations.size
        self._left = [*plan.left, self._size]
        self._means = eliminated(plan.chains, values) or []
        self.ends = equations if plan.leaves_all else plan.ends(equations, values)

    def at_ends(self, voltages: Sequence[float]) -> list[float]:
        """Those of the nodes that are left, out of all voltages. [V]"""
        return [voltages[node] for node in self._left]

    def in_all(self, found: Found) -> Found:
        """What was found in the nodes that are left, with all nodes."""
        voltages, loose = [0.0] * (self._size + 1), {self._left[node] for node in found.loose}
        for node, volts in zip(self._left, found.voltages, strict=True):
            voltages[node] = volts
        for node, _, one, share, other, other_share in reversed(self._means):
            voltages[node] = share * voltages[one] + other_share * voltages[other]
            if one in loose:
                loose.add(node)
        return found._replace(voltages=voltages, loose=tuple(sorted(loose)), trail=[voltages])
