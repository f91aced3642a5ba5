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

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from heapq import heapify, heappop, heappush
from typing import NamedTuple, Protocol

Edge = tuple[int, int]
# A step at a node with at most two neighbours: the node, both slots, both neighbours, the slot
# between these; -1 for what is missing.
Chain = tuple[int, int, int, int, int, int]
# Node, inverse of its conductances' sum, and the share of each neighbour in that sum.
ChainRow = tuple[int, float, int, float, int, float]
StarRow = tuple[int, float, tuple[int, ...], list[float]]


def conductance_slots(
    size: int, pairs: Iterable[Edge], edges: Mapping[Edge, int]
) -> tuple[list[int], dict[Edge, int]]:
    """
    Where conductances are kept: first those of each node to the reference, then along each edge.

    Args:
        size: Number of nodes besides the reference.
        pairs: Between which nodes, the reference among them, each conductance is.
        edges: Slots of edges that there are already.

    Returns:
        The slot of each; all edges with their slots.
    """
    slots, numbered = [], {**edges}
    for a, b in pairs:
        low, high = (a, b) if a < b else (b, a)
        if high < size:
            low = numbered.setdefault((low, high), size + len(numbered))
        slots.append(low)
    return slots, numbered


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


class Star(NamedTuple):
    """A step at any node: its neighbours become neighbours of each other."""

    node: int
    slots: tuple[int, ...]  # conductances to the neighbours
    others: tuple[int, ...]  # the neighbours
    meshes: tuple[tuple[int, int, int], ...]  # (neighbour's number, slot of the other, target)


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
        plan = Elimination(size, edges)
        plan.take_out_stars()
        self._chains = plan.chains
        self._stars = plan.stars
        self.fill = plan.next_slot - size - len(edges)

    def factorise(self, conductances_s: Sequence[float]) -> "EliminatedNodes | None":
        """See `LinearSolver`."""
        # The first values are those to the reference, so that a node is its own index. The last
        # stays zero for what is missing.
        values = [*conductances_s, *([0.0] * (self.fill + 1))]
        chain_rows = eliminated(self._chains, values)
        star_rows = self._eliminate_stars(values) if chain_rows is not None else None
        if chain_rows is None or star_rows is None:
            return None
        return EliminatedNodes(chain_rows, star_rows)

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


def eliminated(chains: Sequence[Chain], values: list[float]) -> list[ChainRow] | None:
    """
    Nodes with at most two neighbours, taken out of a network one after the other.

    Args:
        chains: The steps.
        values: Conductances by slot, which are changed, and a zero at the end. [S]

    Returns:
        What the voltages of these nodes follow from; None if the matrix is not positive.
    """
    rows = []
    for node, first_slot, second_slot, first, second, target in chains:
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


@lru_cache(maxsize=64)
def solver_for(size: int, edges: tuple[Edge, ...]) -> LinearSolver:
    """
    The solver of a topology; equal topologies share one.

    Args:
        size: Number of nodes besides the reference.
        edges: Pairs of nodes with a conductance between them, without repetition.
    """
    return StarMesh(size, edges)


class Elimination:
    """
    The steps of elimination, each node when it has the fewest neighbours.

    Attributes:
        chains: At nodes with at most two neighbours.
        stars: At all others, once they are taken out.
        left: The nodes that take part in no chain.
        next_slot: Number of conductances, with those that are added.

    Args:
        size: Number of nodes besides the reference.
        edges: Pairs of nodes with a conductance between them, without repetition.
        held: Nodes that stay, however few neighbours they have.
    """

    def __init__(self, size: int, edges: Sequence[Edge], held: Container[int] = ()) -> None:
        self.chains: list[Chain] = []
        self.stars: list[Star] = []
        self.next_slot = size + len(edges)
        self._slots: list[dict[int, int]] = [{} for _ in range(size)]
        for slot, (a, b) in enumerate(edges, start=size):
            self._slots[a][b] = self._slots[b][a] = slot
        self.left = self._take_out_chains(held)

    def links(self) -> Iterator[tuple[int, int, int]]:
        """The pairs of nodes that are left with a conductance between them, and its slot."""
        for a in self.left:
            yield from ((a, b, slot) for b, slot in self._slots[a].items() if a < b)

    def _take_out_chains(self, held: Container[int]) -> list[int]:
        """Up to two neighbours any order is as good, and no node comes to have more by it."""
        slots = self._slots
        is_done = [False] * len(slots)
        few = [node for node, neighbours in enumerate(slots) if len(neighbours) <= 2]
        while few:
            node = few.pop()
            if is_done[node] or node in held:
                continue
            is_done[node] = True
            self._take_out_chain(node)
            few += [other for other in slots[node] if len(slots[other]) <= 2]
        return [node for node in range(len(slots)) if not is_done[node]]

    def _take_out_chain(self, node: int) -> None:
        (first, first_slot), (second, second_slot) = (
            *self._slots[node].items(),
            (-1, -1),
            (-1, -1),
        )[:2]
        for other in self._slots[node]:
            del self._slots[other][node]
        target = self._joint(first, second) if second >= 0 else -1
        self.chains.append((node, first_slot, second_slot, first, second, target))

    def take_out_stars(self) -> None:
        """Least number of neighbours first, ties by index."""
        slots = self._slots
        waiting = [(len(slots[node]), node) for node in self.left]
        heapify(waiting)
        done = set()
        while waiting:
            degree, node = heappop(waiting)
            if node in done or degree != len(slots[node]):
                continue
            done.add(node)
            self._take_out_star(node)
            for other in slots[node]:
                heappush(waiting, (len(slots[other]), other))

    def _take_out_star(self, node: int) -> None:
        neighbours = self._slots[node]
        others = tuple(neighbours)
        for other in others:
            del self._slots[other][node]
        meshes = tuple(
            (number, neighbours[second], self._joint(first, second))
            for number, first in enumerate(others)
            for second in others[number + 1 :]
        )
        self.stars.append(Star(node, tuple(neighbours.values()), others, meshes))

    def _joint(self, a: int, b: int) -> int:
        """Slot of the conductance between two nodes, a new one if they had none."""
        slot = self._slots[a].get(b)
        if slot is None:
            slot = self._slots[a][b] = self._slots[b][a] = self.next_slot
            self.next_slot += 1
        return slot
