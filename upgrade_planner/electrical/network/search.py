"""
Finds the voltages at which all currents balance: Newton's method, made to arrive.

Without remote regulators the balance is the minimum of a potential (the network's co-content), and
each Newton step is a direction down that potential. Following it only as far as it descends keeps
piecewise laws from leading round in circles. Remote regulators are solved exactly against the
linear network of each step.

Source: Newton's method with line search; co-content, W. Millar (1951): common practice.
"""

from collections.abc import Sequence
from typing import NamedTuple

from upgrade_planner.electrical.network.elimination import Factors
from upgrade_planner.electrical.network.nodal import PULL_S, NodalEquations, WorkingPoint
from upgrade_planner.electrical.network.regulators import Bounded

# Balance at each node: this much, plus this share of all current at the node.
BALANCE_A = 1e-9
BALANCE_RATIO = 1e-12
# A search ends with a step no longer than this, or after so many balanced steps. [V]
SHORT_STEP_V = 1e-10
MOST_POLISHING_STEPS = 25
# Longest step. Wild tangents ask for millions of volts; they need not be followed at once. Each
# step that would be longer doubles the length of the next. [V]
LONGEST_STEP_V = 100.0
MOST_STEPS = 60
# After so many of these nothing holds the voltages, and no more are taken.
MOST_LONG_STEPS = 15
MOST_HALVINGS = 60
TRAIL_LENGTH = 8
# A transfer resistance this little below zero is zero. [Ω]
ROUNDING_OHM = 1e-9
# A step may overshoot the lowest point by this share of its first descent, and must use up half.
OVERSHOOT_RATIO = 0.1
LEFT_OVER_RATIO = 0.5


class Step(NamedTuple):
    """
    A direction, and the currents of the remote regulators at its end.

    Attributes:
        change_v: Of all indices, the reference last. [V]
        delivered: Of the remote regulators. [A]
        is_stable: Whether the network's own slopes were positive.
    """

    change_v: list[float]
    delivered: list[float]
    is_stable: bool


class Found(NamedTuple):
    """
    The end of a search.

    Attributes:
        voltages: Of all indices. [V]
        is_balanced: Whether the balance was met.
        is_stable: Whether the last slopes were positive.
        steps: Number of steps taken.
        trail: Voltages of the last steps, for telling what would not settle.
        is_held: Whether the voltages stayed within bounds; nothing holds them where a current is
            forced into nodes without a way out.
    """

    voltages: list[float]
    is_balanced: bool
    is_stable: bool
    steps: int
    trail: list[list[float]]
    is_held: bool = True


class Search:
    """
    One search in one network.

    Args:
        equations: The network.
        pulled: Indices that are pulled towards the reference, by next to nothing.
        held: Currents that the remote regulators deliver whatever they sense. [A]
    """

    def __init__(
        self,
        equations: NodalEquations,
        *,
        pulled: Sequence[int],
        held: Sequence[float] | None = None,
    ) -> None:
        self._equations = equations
        self._pulled = tuple(pulled)
        self._held = held

    def from_tangents(self, across: Sequence[float]) -> Found:
        """Search from the tangents at a voltage of each curved branch. [V]"""
        point = self._equations.linear_at(across)
        delivered = self._held or [0.0] * len(self._equations.remote)
        step = self._step(point, delivered)
        return self._run(self._moved(point, _clipped(step.change_v, LONGEST_STEP_V), 1.0))

    def from_voltages(self, voltages: Sequence[float]) -> Found:
        """Search from voltages of all indices. [V]"""
        return self._run(self._equations.at(list(voltages)))

    def _run(self, point: WorkingPoint) -> Found:
        trail: list[list[float]] = []
        balanced_steps = long_steps = 0
        for count in range(1, MOST_STEPS + 1):
            trail = [*trail[1 - TRAIL_LENGTH :], point.voltages]
            delivered = self._held or self._equations.delivered(point.voltages)
            is_balanced = self._is_balanced(point, delivered)
            step = self._step(point, delivered)
            balanced_steps += is_balanced
            longest_v = max(map(abs, step.change_v))
            if is_balanced and (longest_v <= SHORT_STEP_V or balanced_steps > MOST_POLISHING_STEPS):
                last = self._moved(point, step.change_v, 1.0)
                best = last if self._is_balanced(last, step.delivered) else point
                return Found(best.voltages, True, step.is_stable, count, trail)
            bound_v = LONGEST_STEP_V * 2.0**long_steps
            long_steps += longest_v > bound_v
            if long_steps > MOST_LONG_STEPS:
                break
            clipped = step._replace(change_v=_clipped(step.change_v, bound_v))
            point = self._descended(point, clipped)
        is_held = long_steps <= MOST_LONG_STEPS
        return Found(point.voltages, False, False, count, trail, is_held)

    def _residual(self, point: WorkingPoint, delivered: Sequence[float]) -> list[float]:
        """Current that leaves each index more than enters it. [A]"""
        residual = list(point.leaving)
        for remote, current_a in zip(self._equations.remote, delivered, strict=True):
            residual[remote.plus] -= current_a
            residual[remote.minus] += current_a
        for index in self._pulled:
            residual[index] += PULL_S * point.voltages[index]
        residual[-1] = 0.0
        return residual

    def _is_balanced(self, point: WorkingPoint, delivered: Sequence[float]) -> bool:
        residual = self._residual(point, delivered)
        if max(map(abs, residual)) <= BALANCE_A:
            return True
        through = self._equations.through(point.voltages)
        return all(
            abs(excess) <= BALANCE_A + BALANCE_RATIO * total
            for excess, total in zip(residual, through, strict=True)
        )

    def _step(self, point: WorkingPoint, delivered: Sequence[float]) -> Step:
        residual = self._residual(point, delivered)
        factors, is_stable = self._factors(point.slopes)
        change_v = [-change for change in factors.solve(residual)]
        step = Step(change_v, list(delivered), is_stable)
        if self._held or not self._equations.remote:
            return step
        return self._regulated(point, step, factors)

    def _factors(self, slopes: Sequence[float]) -> tuple[Factors, bool]:
        """Of the tangents; falling currents count as constant where the tangents are unstable."""
        equations = self._equations
        factors = equations.solver.factorise(equations.conductances(slopes))
        if factors is not None:
            return factors, True
        rising = [max(slope_s, 0.0) for slope_s in slopes]
        factors = equations.solver.factorise(equations.conductances(rising))
        assert factors is not None, "conductances above zero"
        return factors, False

    def _regulated(self, point: WorkingPoint, step: Step, factors: Factors) -> Step:
        """Add to a step what the remote regulators change in the network made linear."""
        pairs = zip(point.voltages, step.change_v, strict=True)
        reached = [v + change for v, change in pairs]
        responses = [self._response(k, factors) for k in range(len(self._equations.remote))]
        changes = self._problem(reached, responses, step.delivered).solved()
        if changes is None:
            return step
        change_v = step.change_v
        for response, change_a in zip(responses, changes, strict=True):
            change_v = [v + change_a * z for v, z in zip(change_v, response, strict=True)]
        pairs = zip(step.delivered, changes, strict=True)
        delivered = [given + change for given, change in pairs]
        return Step(change_v, delivered, step.is_stable and self._is_opposing(responses))

    def _is_opposing(self, responses: Sequence[list[float]]) -> bool:
        """Whether more current from a regulator raises, or leaves, the voltage it senses."""
        pairs = zip(self._equations.remote, responses, strict=True)
        return all(remote.sensed_v(response) > -ROUNDING_OHM for remote, response in pairs)

    def _problem(
        self, reached: Sequence[float], responses: Sequence[list[float]], given: Sequence[float]
    ) -> Bounded:
        """What the regulators have to agree on, from the voltages reached with given currents."""
        remote = self._equations.remote
        matrix = [[r.sensed_v(response) for response in responses] for r in remote]
        wanted = []
        for k, (regulator, given_a) in enumerate(zip(remote, given, strict=True)):
            matrix[k][k] += regulator.element.droop_ohm
            droop_v = regulator.element.droop_ohm * given_a
            wanted.append(regulator.element.set_point_v - droop_v - regulator.sensed_v(reached))
        highest = [r.element.limit_a - given_a for r, given_a in zip(remote, given, strict=True)]
        return Bounded(matrix, wanted, [-given_a for given_a in given], highest)

    def _response(self, k: int, factors: Factors) -> list[float]:
        """Voltages for one ampere more of a remote regulator. [Ω]"""
        remote = self._equations.remote[k]
        injected = [0.0] * (self._equations.size + 1)
        injected[remote.plus] += 1.0
        injected[remote.minus] -= 1.0
        return factors.solve(injected)

    def _descended(self, point: WorkingPoint, step: Step) -> WorkingPoint:
        """Go along a step as far as it leads down."""
        first = self._descent(point, step)
        low, high = 0.0, 1.0
        moved = self._moved(point, step.change_v, high)
        if self._descent(moved, step) <= OVERSHOOT_RATIO * abs(first):
            return moved
        best = moved
        for _ in range(MOST_HALVINGS):
            middle = 0.5 * (low + high)
            moved = self._moved(point, step.change_v, middle)
            slope = self._descent(moved, step)
            if slope > 0.0:
                high = middle
                continue
            low, best = middle, moved
            if slope >= LEFT_OVER_RATIO * first:
                break
        return best

    def _descent(self, point: WorkingPoint, step: Step) -> float:
        """Change of the potential along a step; below zero, it leads down. [W]"""
        residual = self._residual(point, step.delivered)
        return sum(change * excess for change, excess in zip(step.change_v, residual, strict=True))

    def _moved(
        self, point: WorkingPoint, change_v: Sequence[float], share: float
    ) -> WorkingPoint:
        pairs = zip(point.voltages, change_v, strict=True)
        return self._equations.at([v + share * change for v, change in pairs])


def _clipped(change_v: list[float], bound_v: float) -> list[float]:
    if max(map(abs, change_v)) <= bound_v:
        return change_v
    return [min(max(change, -bound_v), bound_v) for change in change_v]
