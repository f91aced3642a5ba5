"""
Finds the voltages at which all currents balance: Newton's method, made to arrive.

Without remote regulators the balance is the minimum of a potential (the network's co-content), and
each Newton step is a direction down that potential. Following it only as far as it descends keeps
piecewise laws from leading round in circles. Remote regulators are solved exactly against the
linear network of each step.

Source: Newton's method with line search; co-content, W. Millar (1951): common practice.
"""

from collections.abc import Sequence
from operator import add, mul, neg
from typing import NamedTuple

from upgrade_planner.electrical.network.elimination import Factors
from upgrade_planner.electrical.network.equations import PULL_S, Equations, WorkingPoint
from upgrade_planner.electrical.network.loose import loose_indices
from upgrade_planner.electrical.network.regulators import Bounded

# Balance at each node: this much, plus this share of all current at the node.
BALANCE_A = 1e-9
BALANCE_RATIO = 1e-12
# More than both allow together up to a million amperes. [A]
SURELY_OUT_A = 1e-6
# A search ends with a step no longer than this, or after so many balanced steps. [V]
SHORT_STEP_V = 1e-10
MOST_POLISHING_STEPS = 25
# Longest step. Wild tangents ask for millions of volts; they need not be followed at once. Each
# step that would be longer doubles the length of the next. [V]
LONGEST_STEP_V = 100.0
MOST_STEPS = 150
# After so many of these nothing holds the voltages, and no more are taken.
MOST_LONG_STEPS = 15
MOST_HALVINGS = 60
TRAIL_LENGTH = 8
# A step may overshoot the lowest point by this share of its first descent, and must use up half.
OVERSHOOT_RATIO = 0.1
LEFT_OVER_RATIO = 0.5
# Tangents that changed by less than this share serve for another step.
LIKE_RATIO = 1e-3
# Most that the pull may have moved a node that is held, at 14 V over 100 MΩ. [V]
PULLED_V = 1.5e-3
# A transfer resistance this little below zero is zero. [Ω]
ROUNDING_OHM = 1e-9


class LinearNetwork(NamedTuple):
    """
    The network made linear at one point.

    Attributes:
        slopes: Of the curved branches, as they were. [S]
        factors: Of its matrix.
        responses: Voltages of all indices for an ampere more of each remote regulator. [Ω]
        is_stable: Whether it is the network's own: its matrix was positive, and no regulator
            pushes the voltage it senses down.
    """

    slopes: list[float]
    factors: Factors
    responses: list[list[float]]
    is_stable: bool


class SearchStep(NamedTuple):
    """
    A direction, and the currents of the remote regulators at its end.

    Attributes:
        change_v: Of all indices, the reference last. [V]
        delivered: Of the remote regulators. [A]
    """

    change_v: list[float]
    delivered: Sequence[float]

    @property
    def longest_v(self) -> float:
        """Largest change of a voltage. [V]"""
        return max(map(abs, self.change_v))

    def clipped(self, bound_v: float) -> "SearchStep":
        """The step with no voltage changing by more than a bound. [V]"""
        if self.longest_v <= bound_v:
            return self
        changes = [min(max(change, -bound_v), bound_v) for change in self.change_v]
        return SearchStep(changes, self.delivered)


class Found(NamedTuple):
    """
    The end of a search.

    Attributes:
        voltages: Of all indices. [V]
        loose: Indices that only blocking elements hold.
        is_balanced: Whether the balance was met.
        is_stable: Whether the network made linear there was stable.
        steps: Number of steps taken.
        trail: Voltages of the last steps, for telling what would not settle.
    """

    voltages: list[float]
    loose: tuple[int, ...]
    is_balanced: bool
    is_stable: bool
    steps: int
    trail: list[list[float]]


class Search:
    """
    One search in one network.

    Args:
        equations: The network.
        held: Currents that the remote regulators deliver whatever they sense. [A]
    """

    def __init__(self, equations: Equations, held: Sequence[float] | None = None) -> None:
        self._equations = equations
        self._held = held
        self._pulled: Sequence[int] = range(equations.size)
        self._linear: LinearNetwork | None = None

    def from_lines(self) -> Found:
        """Search from the lines the elements offer to begin with."""
        point = self._equations.at_start()
        delivered = self._held or [0.0] * len(self._equations.remote)
        pulled = self._pulled_excess(point, self._excess(point, delivered))
        step = self._step(point, pulled, delivered)
        return self._run(self._moved(point, step.clipped(LONGEST_STEP_V), 1.0))

    def from_voltages(self, voltages: Sequence[float]) -> Found:
        """Search from voltages of all indices. [V]"""
        return self._run(self._equations.at(list(voltages)))

    def balances_at(self, voltages: Sequence[float]) -> bool:
        """Whether all currents balance at voltages of all indices. [V]"""
        point = self._equations.at(list(voltages))
        delivered = self._held or self._equations.delivered(voltages)
        return self._is_balanced(point, self._excess(point, delivered))

    def _run(self, point: WorkingPoint) -> Found:
        trail: list[list[float]] = []
        balanced_steps = long_steps = 0
        for count in range(1, MOST_STEPS + 1):
            goes_round = point.voltages in trail
            trail = [*trail[1 - TRAIL_LENGTH :], point.voltages]
            delivered = self._held or self._equations.delivered(point.voltages)
            excess = self._excess(point, delivered)
            pulled = self._pulled_excess(point, excess)
            step = self._step(point, pulled, delivered)
            longest_v = step.longest_v
            if self._is_balanced(point, pulled):
                balanced_steps += 1
                is_settled = goes_round or balanced_steps > MOST_POLISHING_STEPS
                if is_settled or (longest_v <= SHORT_STEP_V and self._is_last(point, step)):
                    return self._ended(point, excess, delivered, count)
            bound_v = LONGEST_STEP_V * 2.0**long_steps
            is_long = longest_v > bound_v
            long_steps += is_long
            if goes_round or long_steps > MOST_LONG_STEPS:
                break
            point = self._descended(point, step.clipped(bound_v) if is_long else step)
        return Found(point.voltages, (), False, False, count, trail)

    def _is_last(self, point: WorkingPoint, step: SearchStep) -> bool:
        """Whether a short step does not lead off the kink of a law to its flat side."""
        moved_v = list(map(add, point.voltages, step.change_v))
        return _are_alike(self._equations.slopes(moved_v), point.slopes)

    def _ended(
        self, point: WorkingPoint, excess: Sequence[float], delivered: Sequence[float], count: int
    ) -> Found:
        """
        A last step, with the pull on loose nodes alone, unless it upsets the balance.

        That is judged by the laws: the pull is no excuse for a current without a way out.
        """
        self._pulled = loose = loose_indices(self._equations, point.voltages)
        step = self._step(point, self._pulled_excess(point, excess), delivered)
        is_balanced = self._is_balanced(point, excess)
        if step.longest_v <= PULLED_V or not is_balanced:
            last = self._moved(point, step, 1.0)
            delivered = self._held or self._equations.delivered(last.voltages)
            if self._is_balanced(last, self._excess(last, delivered)):
                point, is_balanced = last, True
        is_stable = self._linear is not None and self._linear.is_stable
        return Found(point.voltages, loose, is_balanced, is_stable, count, [point.voltages])

    def _excess(self, point: WorkingPoint, delivered: Sequence[float]) -> list[float]:
        """Current that leaves each index more than enters it, by the laws alone. [A]"""
        excess = list(point.leaving)
        for remote, current_a in zip(self._equations.remote, delivered, strict=True):
            excess[remote.plus] -= current_a
            excess[remote.minus] += current_a
        excess[-1] = 0.0
        return excess

    def _pulled_excess(self, point: WorkingPoint, excess: Sequence[float]) -> list[float]:
        """The like, with the pull. [A]"""
        if len(self._pulled) == self._equations.size:  # all; the reference is at zero
            pairs = zip(excess, point.voltages, strict=True)
            return [current_a + PULL_S * volts for current_a, volts in pairs]
        pulled = list(excess)
        for index in self._pulled:
            pulled[index] += PULL_S * point.voltages[index]
        return pulled

    def _is_balanced(self, point: WorkingPoint, excess: Sequence[float]) -> bool:
        worst_a = max(map(abs, excess))
        if worst_a <= BALANCE_A or worst_a > SURELY_OUT_A:
            return worst_a <= BALANCE_A
        through = self._equations.through(point.voltages)
        return all(
            abs(excess_a) <= BALANCE_A + BALANCE_RATIO * total_a
            for excess_a, total_a in zip(excess, through, strict=True)
        )

    def _step(
        self, point: WorkingPoint, pulled: Sequence[float], delivered: Sequence[float]
    ) -> SearchStep:
        linear = self._linear_at(point.slopes)
        step = SearchStep(list(map(neg, linear.factors.solve(pulled))), delivered)
        return self._regulated(point, step, linear) if linear.responses else step

    def _linear_at(self, slopes: list[float]) -> LinearNetwork:
        """The network made linear, or the last one if its tangents were nearly the same."""
        if self._linear is None or not _are_alike(slopes, self._linear.slopes):
            factors, is_positive = self._factors(slopes)
            remote = () if self._held else self._equations.remote
            responses = [factors.solve(self._equations.ampere_of(r)) for r in remote]
            pairs = zip(remote, responses, strict=True)
            is_opposing = all(r.sensed_v(response) > -ROUNDING_OHM for r, response in pairs)
            self._linear = LinearNetwork(slopes, factors, responses, is_positive and is_opposing)
        return self._linear

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

    def _regulated(
        self, point: WorkingPoint, step: SearchStep, linear: LinearNetwork
    ) -> SearchStep:
        """Add to a step what the remote regulators change."""
        changes = self._problem(point, step, linear).solved()
        if changes is None:
            return step
        change_v = step.change_v
        for response, change_a in zip(linear.responses, changes, strict=True):
            change_v = [v + change_a * z for v, z in zip(change_v, response, strict=True)]
        pairs = zip(step.delivered, changes, strict=True)
        return SearchStep(change_v, [given + change for given, change in pairs])

    def _problem(self, point: WorkingPoint, step: SearchStep, linear: LinearNetwork) -> Bounded:
        """What the remote regulators have to agree on at the end of a step without them."""
        remote = self._equations.remote
        matrix = [[r.sensed_v(response) for response in linear.responses] for r in remote]
        lacking_v = []
        for k, (regulator, given_a) in enumerate(zip(remote, step.delivered, strict=True)):
            element = regulator.element
            matrix[k][k] += element.droop_ohm
            reached_v = regulator.sensed_v(point.voltages) + regulator.sensed_v(step.change_v)
            lacking_v.append(element.set_point_v - element.droop_ohm * given_a - reached_v)
        lowest = [-given_a for given_a in step.delivered]
        highest = [r.element.limit_a + low for r, low in zip(remote, lowest, strict=True)]
        return Bounded(matrix, lacking_v, lowest, highest)

    def _descended(self, point: WorkingPoint, step: SearchStep) -> WorkingPoint:
        """Go along a step as far as it leads down; what the balance allows is no way up."""
        moved = self._moved(point, step, 1.0)
        overshoot = self._descent(moved, step)
        if overshoot <= BALANCE_A * sum(map(abs, step.change_v)):
            return moved
        first = self._descent(point, step)
        if overshoot <= OVERSHOOT_RATIO * abs(first):
            return moved
        return self._lowest(point, step, first, moved)

    def _lowest(
        self, point: WorkingPoint, step: SearchStep, first: float, best: WorkingPoint
    ) -> WorkingPoint:
        """Halve a step that overshoots until its end is just short of the lowest point."""
        low, high = 0.0, 1.0
        for _ in range(MOST_HALVINGS):
            middle = 0.5 * (low + high)
            moved = self._moved(point, step, middle)
            slope = self._descent(moved, step)
            if slope > 0.0:
                high = middle
                continue
            low, best = middle, moved
            if slope >= LEFT_OVER_RATIO * first:
                break
        return best

    def _descent(self, point: WorkingPoint, step: SearchStep) -> float:
        """Change of the potential along a step; below zero, it leads down. [W]"""
        excess = self._pulled_excess(point, self._excess(point, step.delivered))
        descent: float = sum(map(mul, step.change_v, excess))
        return descent

    def _moved(self, point: WorkingPoint, step: SearchStep, share: float) -> WorkingPoint:
        if share == 1.0:
            return self._equations.at(list(map(add, point.voltages, step.change_v)))
        pairs = zip(point.voltages, step.change_v, strict=True)
        return self._equations.at([v + share * change for v, change in pairs])


def _are_alike(slopes: Sequence[float], others: Sequence[float]) -> bool:
    for one, other in zip(slopes, others, strict=True):
        if one != other and abs(one - other) > LIKE_RATIO * abs(other):
            return False
    return True
