"""
Solves A x = b for the conductances of a network: elimination of one node after the other.

Taking a node out of a network replaces the star of its conductances by a mesh between its
neighbours. In that form nothing is ever subtracted, so that no digit is lost, however weakly a part
of the network hangs on the rest. As matrices it is the factorisation L D Lᵀ.

The order of elimination and the places of the new conductances depend on the topology alone; they
are worked out once for each and kept.

Source: star-mesh transformation, common practice of network theory; minimum degree ordering,
common practice of sparse elimination.
"""

from collections.abc import Sequence
from functools import lru_cache
from heapq import heapify, heappop, heappush
from typing import NamedTuple, Protocol

Edge = tuple[int, int]
# Node, inverse of its conductances' sum, and the share of each neighbour in that sum.
ChainRow = tuple[int, float, int, float, int, float]
StarRow = tuple[int, float, tuple[int, ...], list[float]]


class Factors(Protocol):
    """A matrix, ready for right-hand sides."""

    def solve(self, injected_a: Sequence[float]) -> list[float]:
        """
        Voltages for currents.

        Args:
            injected_a: Into each node and, last, the reference. [A]

        Returns:
            Voltage of each node and, last, the 0 of the reference. [V]
        """


class LinearSolver(Protocol):
    """Solves networks of one topology for any conductances."""

    def factorise(self, conductances_s: Sequence[float]) -> Factors | None:
        """
        Prepare a matrix.

        Args:
            conductances_s: Of each node to the reference, then along each edge. [S]

        Returns:
            The factors; None if the matrix is not positive definite, which only negative
            conductances can bring about.
        """


class _Step(NamedTuple):
    node: int
    slots: tuple[int, ...]  # conductances to the neighbours
    others: tuple[int, ...]  # the neighbours
    meshes: tuple[tuple[int, int, int], ...]  # (neighbour's number, slot of the other, target)


class _Chain(NamedTuple):
    """A step at a node with two neighbours; -1 stands for a missing one and its conductances."""

    node: int
    first_slot: int
    second_slot: int
    first: int
    second: int
    target: int


class StarMesh:
    """
    Elimination for one topology.

    Wiring is nearly all chains and ends, so the steps at nodes with at most two neighbours, which
    come first, have a form of their own.

    Attributes:
        size: Number of nodes besides the reference.
        fill: Number of conductances that elimination adds.
    """

    def __init__(self, size: int, edges: Sequence[Edge]) -> None:
        self.size = size
        steps = _plan(size, edges)
        count = next((n for n, step in enumerate(steps) if len(step.others) > 2), len(steps))
        self._chains = [_chain(step) for step in steps[:count]]
        self._stars = steps[count:]
        targets = [mesh[2] for step in steps for mesh in step.meshes]
        self.fill = max(max(targets, default=0) + 1 - size - len(edges), 0)

    def factorise(self, conductances_s: Sequence[float]) -> "EliminatedNodes | None":
        """See `LinearSolver`."""
        # The first values are those to the reference, so that a node is its own index. The last
        # stays zero for what is missing.
        values = [*conductances_s, *([0.0] * (self.fill + 1))]
        chain_rows = self._eliminate_chains(values)
        star_rows = self._eliminate_stars(values) if chain_rows is not None else None
        if chain_rows is None or star_rows is None:
            return None
        return EliminatedNodes(chain_rows, star_rows)

    def _eliminate_chains(self, values: list[float]) -> list[ChainRow] | None:
        rows = []
        for node, first_slot, second_slot, first, second, target in self._chains:
            ground_s, second_s = values[node], values[second_slot]
            total_s = ground_s + values[first_slot] + second_s
            if not total_s > 0.0:
                return None
            first_share, second_share = values[first_slot] / total_s, second_s / total_s
            values[first] += first_share * ground_s
            values[second] += second_share * ground_s
            values[target] += first_share * second_s
            rows.append((node, 1.0 / total_s, first, first_share, second, second_share))
        return rows

    def _eliminate_stars(self, values: list[float]) -> list[StarRow] | None:
        rows: list[StarRow] = []
        for node, slots, others, meshes in self._stars:
            star = [values[slot] for slot in slots]
            total_s = values[node] + sum(star)
            if not total_s > 0.0:
                return None
            shares = [conductance_s / total_s for conductance_s in star]
            for other, share in zip(others, shares, strict=True):
                values[other] += share * values[node]
            for number, slot, target in meshes:
                values[target] += shares[number] * values[slot]
            rows.append((node, 1.0 / total_s, others, shares))
        return rows


class EliminatedNodes:
    """The factors that `StarMesh` leaves."""

    def __init__(self, chain_rows: list[ChainRow], star_rows: list[StarRow]) -> None:
        self._chain_rows = chain_rows
        self._star_rows = star_rows

    def solve(self, injected_a: Sequence[float]) -> list[float]:
        """See `Factors`."""
        x = list(injected_a)
        for node, _, first, first_share, second, second_share in self._chain_rows:
            here = x[node]
            x[first] += first_share * here
            x[second] += second_share * here
        self._solve_stars(x)
        x[-1] = 0.0
        for node, inverse, first, first_share, second, second_share in reversed(self._chain_rows):
            x[node] = x[node] * inverse + first_share * x[first] + second_share * x[second]
        return x

    def _solve_stars(self, x: list[float]) -> None:
        for node, _, others, shares in self._star_rows:
            here = x[node]
            for other, share in zip(others, shares, strict=True):
                x[other] += share * here
        for node, inverse, others, shares in reversed(self._star_rows):
            here = x[node] * inverse
            for other, share in zip(others, shares, strict=True):
                here += share * x[other]
            x[node] = here


@lru_cache(maxsize=64)
def solver_for(size: int, edges: tuple[Edge, ...]) -> LinearSolver:
    """
    The solver of a topology; equal topologies share one.

    Args:
        size: Number of nodes besides the reference.
        edges: Pairs of nodes with a conductance between them, without repetition.
    """
    return StarMesh(size, edges)


def _chain(step: _Step) -> _Chain:
    first_slot, second_slot = (*step.slots, -1, -1)[:2]
    first, second = (*step.others, -1, -1)[:2]
    target = step.meshes[0][2] if step.meshes else -1
    return _Chain(step.node, first_slot, second_slot, first, second, target)


def _plan(size: int, edges: Sequence[Edge]) -> tuple[_Step, ...]:
    """Order by least number of neighbours, ties by index, with the slots of all conductances."""
    slots: list[dict[int, int]] = [{} for _ in range(size)]
    for slot, (a, b) in enumerate(edges, start=size):
        slots[a][b] = slots[b][a] = slot
    waiting = [(len(neighbours), node) for node, neighbours in enumerate(slots)]
    heapify(waiting)
    steps: list[_Step] = []
    next_slot = size + len(edges)
    is_done = [False] * size
    while waiting:
        degree, node = heappop(waiting)
        if is_done[node] or degree != len(slots[node]):
            continue
        is_done[node] = True
        step, next_slot = _eliminated(node, slots, next_slot)
        steps.append(step)
        for other in step.others:
            heappush(waiting, (len(slots[other]), other))
    return tuple(steps)


def _eliminated(node: int, slots: list[dict[int, int]], next_slot: int) -> tuple[_Step, int]:
    """Take a node out: its neighbours become neighbours of each other."""
    neighbours = tuple(sorted(slots[node].items()))
    meshes = []
    for other, _ in neighbours:
        del slots[other][node]
    for number, (first, _) in enumerate(neighbours):
        for second, slot in neighbours[number + 1 :]:
            if second not in slots[first]:
                slots[first][second] = slots[second][first] = next_slot
                next_slot += 1
            meshes.append((number, slot, slots[first][second]))
    others = tuple(other for other, _ in neighbours)
    return _Step(node, tuple(slot for _, slot in neighbours), others, tuple(meshes)), next_slot
