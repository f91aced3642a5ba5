"""
The few elements of a network that are not straight lines, or no longer the same: their voltages.

The rest is a linear network that answers a current of each of them by its transfer resistances.
Newton's method on the voltages that they depend on takes steps that are exact for every resistor.
"""

from collections.abc import Sequence
from operator import mul
from typing import NamedTuple

from upgrade_planner.electrical.network.elements import Resistor
from upgrade_planner.electrical.network.laws import Element
from upgrade_planner.electrical.network.line_search import ROUNDING_OHM
from upgrade_planner.electrical.network.regulators import dense

Rows = Sequence[Sequence[float]]
"""Transfer resistances: of each port, for an ampere of every port. [Ω]"""

SETTLED_V = 1e-7
"""The search ends with a step no longer than this. [V]"""

MOST_STEPS = 12

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

    def beyond(self, across_v: float) -> tuple[float, float]:
        """What it takes at a voltage beyond its line [A], and the slope of that [S]."""
        current_a, slope_s = self.element.law(across_v) if self.element else (0.0, 0.0)
        line_a = self.base_a + self.slope_s * (across_v - self.base_v)
        return current_a - line_a, slope_s - self.slope_s


def settled(ports: Sequence[Port], rows: Rows) -> list[float] | None:
    """The voltages that the ports depend on, by Newton's method; None if that is not sure. [V]"""
    across = [port.base_v for port in ports]
    for _ in range(MOST_STEPS):
        beyond = [port.beyond(across_v) for port, across_v in zip(ports, across, strict=True)]
        bent = _bent(rows, [slope_s for _, slope_s in beyond])
        if bent is None:
            return None
        lacking_v = _lacking(ports, rows, across, [current_a for current_a, _ in beyond])
        step = _answered(rows, bent, lacking_v)
        if step is None:
            return None
        after = [_short_of_zero(*move) for move in zip(ports, across, step, strict=True)]
        moved_v = max(abs(one - other) for one, other in zip(after, across, strict=True))
        across = after
        if moved_v <= SETTLED_V:
            return None if _opposes(ports, rows, bent) else across
    return None


def _short_of_zero(port: Port, across_v: float, step_v: float) -> float:
    """A step that stops at zero, near which loads follow another line than at their voltage. [V]"""
    after_v = across_v + step_v
    is_past = after_v * across_v < 0.0 and port.element is not None
    return 0.0 if is_past and not isinstance(port.element, Resistor) else after_v


def _lacking(
    ports: Sequence[Port], rows: Rows, across: Sequence[float], beyond_a: Sequence[float]
) -> list[float]:
    """How far the voltages are from those that the linear network answers with. [V]"""
    return [
        port.base_v - across_v - sum(map(mul, row, beyond_a))
        for port, across_v, row in zip(ports, across, rows, strict=True)
    ]


def _bent(rows: Rows, slopes: Sequence[float]) -> list[tuple[int, float]] | None:
    """The ports whose slope is no longer that of their line; None if digits would be lost."""
    bent = []
    for number, slope_s in enumerate(slopes):
        share = rows[number][number] * slope_s
        if 1.0 + share < LEAST_LEFT:
            return None
        if abs(share) > SLIGHT:
            bent.append((number, slope_s))
    return bent


def _answered(
    rows: Rows, bent: Sequence[tuple[int, float]], voltages: Sequence[float]
) -> list[float] | None:
    """Voltages of the linear network, as the bent ports change them. [V]"""
    solved = dense(
        [
            [rows[k][number] * slope_s + (k == number) for number, slope_s in bent] + [voltages[k]]
            for k, _ in bent
        ]
    )
    if solved is None:
        return None
    drawn_a = [0.0] * len(rows)
    for (number, slope_s), volts in zip(bent, solved, strict=True):
        drawn_a[number] = slope_s * volts
    return [volts - sum(map(mul, row, drawn_a)) for volts, row in zip(voltages, rows, strict=True)]


def _opposes(ports: Sequence[Port], rows: Rows, bent: Sequence[tuple[int, float]]) -> bool:
    """Whether a regulator pushes the voltage down that it senses elsewhere."""
    for number, port in enumerate(ports):
        if port.senses != port.ends:
            others = [(k, slope_s) for k, slope_s in bent if k != number]
            response = _answered(rows, others, [row[number] for row in rows])
            if response is None or response[number] < -ROUNDING_OHM:
                return True
    return False
