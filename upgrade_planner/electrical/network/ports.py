"""
The few elements of a network that are not straight lines, or no longer the same: their voltages.

The rest is a linear network that answers a current of each of them by its transfer resistances.
Newton's method on the voltages that they depend on takes steps that are exact for every resistor.
"""

from collections.abc import Iterable, Sequence
from operator import add, mul, sub
from typing import NamedTuple

from upgrade_planner.electrical.network.elements import Resistor
from upgrade_planner.electrical.network.laws import Element
from upgrade_planner.electrical.network.line_search import ROUNDING_OHM
from upgrade_planner.electrical.network.regulators import dense

Columns = Sequence[Sequence[float]]
"""Transfer resistances: for an ampere of each port, the voltages of all ports. [Ω]"""

Beyond = tuple[float, float]
"""Current that a port takes beyond its line [A], and the slope of that [S]."""

ON_LINE: Beyond = (0.0, 0.0)

ROUNDING_A = 1e-12
"""So little beyond its line is rounding, where an element has the slope of that. [A] Source: our
assumption; a thousandth of what a search calls balanced."""

SETTLED_V = 1e-7
"""The search ends with a step no longer than this. [V]"""

NEXT_V = 1e-8
"""So it does where the step after it would be no longer than this, if steps go on to shrink as they
did. [V]"""

SHORT_V = 0.1
"""Only steps shorter than this are trusted to. [V]"""

MOST_STEPS = 8
"""What has not settled then goes round."""

FIRST_STEPS = 4
"""So does what takes longer steps than `SHORT_V` after these."""

SLIGHT = 0.01
"""An element that stiffens or weakens the network less than this is left to the next step. [1]"""

LEAST_LEFT = 1e-7
"""Least part of a conductance seen from its ends that may stay when it is taken out: with less, the
digits that are left are too few. [1]"""


class Port(NamedTuple):
    """
    An element seen from the linear network.

    Attributes:
        ends: Indices of the nodes between which its current flows.
        senses: Indices of the nodes whose voltage its law depends on.
        element: What follows the law now; None if it is removed.
        response_v: Voltages of all indices for an ampere put in at the first end and taken out at
            the second. [Ω]
        base_v: The voltage it depended on. [V]
        base_a: Its current. [A]
        slope_s: Of its line in the linear network. [S]
    """

    ends: tuple[int, int]
    senses: tuple[int, int]
    element: Element | None
    response_v: Sequence[float]
    base_v: float
    base_a: float
    slope_s: float

    def sensed(self, values: Sequence[float]) -> float:
        """Difference of the values of all indices that its law depends on."""
        return values[self.senses[0]] - values[self.senses[1]]

    def beyond(self, across_v: float) -> Beyond:
        """What it takes at a voltage beyond its line; nothing where that is its law."""
        current_a, slope_s = self.element.law(across_v) if self.element else (0.0, 0.0)
        beyond_a = current_a - self.base_a - self.slope_s * (across_v - self.base_v)
        if -ROUNDING_A < beyond_a < ROUNDING_A and slope_s == self.slope_s:
            return ON_LINE
        return beyond_a, slope_s - self.slope_s


def settled(ports: Sequence[Port], columns: Columns, first: Sequence[Beyond]) -> list[float] | None:
    """
    The voltages that the ports depend on, by Newton's method; None if that is not sure. [V]

    Args:
        ports: All that is not a straight line, or no longer the same.
        columns: Their transfer resistances.
        first: What they take beyond their lines at the voltages of the base.
    """
    across, beyond, last_v = [port.base_v for port in ports], first, 0.0
    for count in range(1, MOST_STEPS + 1):
        bent = _bent(columns, beyond)
        if bent is None:
            return None
        step = _answered(columns, bent, _lacking(ports, columns, across, beyond))
        if step is None:
            return None
        after = list(map(add, across, step))
        if min(map(mul, after, across)) < 0.0:
            after = [_short_of_zero(*move) for move in zip(ports, across, after, strict=True)]
        moved_v = max(map(abs, map(sub, after, across)))
        across = after
        if moved_v <= SETTLED_V or moved_v * moved_v <= NEXT_V * last_v:
            return None if _opposes(ports, columns, bent) else across
        if count >= FIRST_STEPS and moved_v >= SHORT_V:
            return None
        beyond, last_v = beyond_at(ports, across, first), moved_v if moved_v < SHORT_V else 0.0
    return None


def beyond_at(
    ports: Sequence[Port], across: Sequence[float], first: Sequence[Beyond]
) -> list[Beyond]:
    """What the ports take beyond their lines; what rests at its voltage of the base is known."""
    return [
        known if across_v == port.base_v else port.beyond(across_v)
        for port, across_v, known in zip(ports, across, first, strict=True)
    ]


def _short_of_zero(port: Port, across_v: float, after_v: float) -> float:
    """A step that stops at zero, near which loads follow another line than at their voltage. [V]"""
    is_past = after_v * across_v < 0.0 and port.element is not None
    return 0.0 if is_past and not isinstance(port.element, Resistor) else after_v


def _lacking(
    ports: Sequence[Port], columns: Columns, across: Sequence[float], beyond: Iterable[Beyond]
) -> list[float]:
    """How far the voltages are from those that the linear network answers with. [V]"""
    lacking_v = [port.base_v - across_v for port, across_v in zip(ports, across, strict=True)]
    return less(lacking_v, zip(columns, (current_a for current_a, _ in beyond), strict=True))


def less(voltages: Sequence[float], drawn: Iterable[tuple[Sequence[float], float]]) -> list[float]:
    """Voltages less what currents [A], each with its transfer resistances [Ω], take off. [V]"""
    left = list(voltages)
    for resistances, current_a in drawn:
        if current_a:
            left = [v - current_a * ohms for v, ohms in zip(left, resistances, strict=True)]
    return left


def _bent(columns: Columns, beyond: Iterable[Beyond]) -> list[tuple[int, float]] | None:
    """The ports whose slope is no longer that of their line; None if digits would be lost."""
    bent = []
    for number, (_, slope_s) in enumerate(beyond):
        if slope_s:
            share = columns[number][number] * slope_s
            if 1.0 + share < LEAST_LEFT:
                return None
            if abs(share) > SLIGHT:
                bent.append((number, slope_s))
    return bent


def _answered(
    columns: Columns, bent: Sequence[tuple[int, float]], voltages: Sequence[float]
) -> Sequence[float] | None:
    """Voltages of the linear network, as the bent ports change them. [V]"""
    if not bent:
        return voltages
    drawn = [(columns[number], slope_s, number) for number, slope_s in bent]
    rows = []
    for k, _ in bent:
        row = [column[k] * slope_s + (k == number) for column, slope_s, number in drawn]
        row.append(voltages[k])
        rows.append(row)
    solved = dense(rows)
    if solved is None:
        return None
    pairs = zip(drawn, solved, strict=True)
    return less(voltages, ((column, slope_s * volts) for (column, slope_s, _), volts in pairs))


def _opposes(ports: Sequence[Port], columns: Columns, bent: Sequence[tuple[int, float]]) -> bool:
    """Whether a regulator pushes the voltage down that it senses elsewhere."""
    for number, port in enumerate(ports):
        if port.senses != port.ends:
            others = [(k, slope_s) for k, slope_s in bent if k != number]
            response = _answered(columns, others, columns[number])
            if response is None or response[number] < -ROUNDING_OHM:
                return True
    return False
