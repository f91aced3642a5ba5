"""
Remote-sensing regulators against a network made linear: which is idle, at its limit, or regulating.

In a linear network the sensed voltages follow the delivered currents by a matrix of transfer
resistances. Finding currents between 0 and the limits that agree with every regulator's law is a
linear complementarity problem with bounds. Its unknowns are few: one for each generator.
"""

from collections.abc import Sequence
from itertools import product

from upgrade_planner.attributes import frozen

# The three states of a regulator, in the order they are tried.
IDLE, REGULATING, AT_LIMIT = range(3)
# Up to this many regulators every combination of states is tried if pivoting fails.
MOST_TRIED_TOGETHER = 6
# A regulator is let out of its bounds by so much before its state counts as wrong; on an exact tie
# rounding would else send it to and fro. [A]
HYSTERESIS_A = 1e-12

State = tuple[int, ...]


@frozen
class Bounded:
    """
    Changes x of currents, with lowest <= x <= highest, that satisfy w = M x - q.

    w is zero where x is between its bounds, not below zero at the lowest, not above at the highest.
    Changes rather than currents are the unknowns: near a solution they are small, and keep their
    digits where a current of many amperes would lose them.

    Attributes:
        matrix_ohm: M, transfer resistances plus droop. [Ω]
        lacking_v: q, what each regulator lacks before the change. [V]
        lowest_a: Change that brings each to no current. [A]
        highest_a: Change that brings each to its limit. [A]
    """

    matrix_ohm: Sequence[Sequence[float]]
    lacking_v: Sequence[float]
    lowest_a: Sequence[float]
    highest_a: Sequence[float]

    def solved(self) -> tuple[float, ...] | None:
        """
        The changes, by principal pivoting from the states before the change.

        One that stands alone gets what it lacks, as far as its bounds let it. Of several all that
        contradict their state leave it together; after the first repeated state only the
        one of least index does, and after the second every combination is tried.

        Returns:
            Changes of the delivered currents [A]; None if no combination agrees with itself.

        Source:
            Least-index pivoting for linear complementarity, K. G. Murty: common practice.
        """
        if len(self.lacking_v) == 1 and self.matrix_ohm[0][0] > 0.0:
            return self._bounded([self.lacking_v[0] / self.matrix_ohm[0][0]])
        state = self._present()
        seen: set[State] = set()
        most_changed = len(state)
        while most_changed:
            if state in seen:
                most_changed, seen = (1, set()) if most_changed > 1 else (0, seen)
            seen.add(state)
            changes = self._changes(state)
            if changes is None:
                break
            wrong = self._wrong(state, changes)
            if not wrong:
                return self._bounded(changes)
            for k in wrong[:most_changed]:
                state = (*state[:k], self._better(k, state, changes), *state[k + 1 :])
        return self._by_trying_all()

    def _present(self) -> State:
        bounds = zip(self.lowest_a, self.highest_a, strict=True)
        return tuple(
            IDLE if low >= 0.0 else AT_LIMIT if high <= 0.0 else REGULATING for low, high in bounds
        )

    def _by_trying_all(self) -> tuple[float, ...] | None:
        size = len(self.lacking_v)
        if size > MOST_TRIED_TOGETHER:
            return None
        for state in product((IDLE, REGULATING, AT_LIMIT), repeat=size):
            changes = self._changes(state)
            if changes is not None and not self._wrong(state, changes):
                return self._bounded(changes)
        return None

    def _bounded(self, changes: Sequence[float]) -> tuple[float, ...]:
        triples = zip(changes, self.lowest_a, self.highest_a, strict=True)
        return tuple(min(max(change_a, low_a), high_a) for change_a, low_a, high_a in triples)

    def _wrong(self, state: State, changes: Sequence[float]) -> list[int]:
        numbers = range(len(state))
        return [k for k in numbers if self._better(k, state, changes) != state[k]]

    def _better(self, k: int, state: State, changes: Sequence[float]) -> int:
        """The state that regulator k ought to have, seen from the changes of a state."""
        if state[k] == REGULATING:
            if changes[k] < self.lowest_a[k] - HYSTERESIS_A:
                return IDLE
            return AT_LIMIT if changes[k] > self.highest_a[k] + HYSTERESIS_A else REGULATING
        excess_v = self._excess_v(k, changes)
        if state[k] == IDLE:
            return REGULATING if excess_v < 0.0 else IDLE
        return REGULATING if excess_v > 0.0 else AT_LIMIT

    def _excess_v(self, k: int, changes: Sequence[float]) -> float:
        row = zip(self.matrix_ohm[k], changes, strict=True)
        return sum(resistance * change for resistance, change in row) - self.lacking_v[k]

    def _changes(self, state: State) -> tuple[float, ...] | None:
        """The changes of a state, in bounds or not; None if it does not determine them."""
        bounds = {IDLE: self.lowest_a, AT_LIMIT: self.highest_a}
        fixed = [bounds[s][k] if s in bounds else 0.0 for k, s in enumerate(state)]
        free = [k for k, s in enumerate(state) if s == REGULATING]
        rows = [[self.matrix_ohm[k][j] for j in free] + [-self._excess_v(k, fixed)] for k in free]
        solved = dense(rows)
        if solved is None:
            return None
        for k, change_a in zip(free, solved, strict=True):
            fixed[k] = change_a
        return tuple(fixed)


def dense(rows: list[list[float]]) -> tuple[float, ...] | None:
    """
    Gauss elimination with partial pivoting on rows of matrix and right-hand side; they are used up.

    Returns:
        The unknowns; None if the rows do not determine them.
    """
    size = len(rows)
    for k in range(size):
        pivot = _pivoted(rows, k)
        first = pivot[k]
        if first == 0.0:
            return None
        for row in rows[k + 1 :]:
            if row[k]:
                factor = row[k] / first
                for j in range(k + 1, size + 1):
                    row[j] -= factor * pivot[j]
    unknowns = [0.0] * size
    for k in range(size - 1, -1, -1):
        row = rows[k]
        right = row[size]
        for j in range(k + 1, size):
            right -= row[j] * unknowns[j]
        unknowns[k] = right / row[k]
    return tuple(unknowns)


def _pivoted(rows: list[list[float]], k: int) -> list[float]:
    """The row with the greatest value of an unknown, put where it is eliminated."""
    best = k
    for number in range(k + 1, len(rows)):
        if abs(rows[number][k]) > abs(rows[best][k]):
            best = number
    rows[k], rows[best] = rows[best], rows[k]
    return rows[k]
