"""
What all elements share: the pieces of their laws, the checks on their values, their base class.

Sign of a current: positive from the first end through the element to the second end. A battery
that feeds the network therefore has a negative current.
"""

import math
from collections.abc import Hashable
from enum import StrEnum
from typing import TypeAlias

from upgrade_planner.attributes import frozen
from upgrade_planner.electrical.network.unsolvable import UnusableElement

Node: TypeAlias = Hashable

# Least resistance of any branch. Bolted copper bars have 5 to 15 µΩ (instrument maker's article);
# with a tenth of it, rounding of a voltage of 14 V alone is worth more than a nanoampere, and
# currents could not be told to balance. Source: our assumption. [Ω]
LEAST_RESISTANCE_OHM = 1e-5


# Voltage that a load of no rated voltage is first taken to have; only a search begins with it. [V]
NOMINAL_V = 12.0


class LawPiece(StrEnum):
    """The part of an element's law that holds at its working point."""

    OHMIC = "ohmic"
    DISCHARGING = "discharging"
    CHARGING = "charging"
    CONSTANT = "constant"
    STARVED = "starved"
    REVERSED = "reversed"
    GLOWING = "glowing"
    COLD = "cold"
    CONDUCTING = "conducting"
    BLOCKING = "blocking"
    IDLE = "idle"
    REGULATING = "regulating"
    AT_LIMIT = "at limit"


@frozen
class Element:
    """
    One element between two nodes, with a continuous law from voltage to current.

    What is bare here each kind of element says for itself. It is no abstract class of the standard
    library, for which `isinstance`, asked at every step, takes several times as long.

    Attributes:
        name: Unique in a network.
    """

    name: str

    @property
    def ends(self) -> tuple[Node, Node]:
        """The two nodes; voltage and current count from the first to the second."""
        raise NotImplementedError

    @property
    def is_active(self) -> bool:
        """Whether it can drive current by itself."""
        return False

    @property
    def start_line(self) -> tuple[float, float]:
        """
        A straight line near the law, with which a search without a guess begins.

        Returns:
            Current at zero volts [A]; slope [S].
        """
        raise NotImplementedError

    def law(self, across_v: float) -> tuple[float, float]:
        """
        Current and its slope at a voltage; at a kink the slope of one side.

        Args:
            across_v: Voltage of the first end against the second. [V]

        Returns:
            Current from the first end to the second [A]; its derivative by the voltage [S].
        """
        raise NotImplementedError

    def piece(self, across_v: float) -> LawPiece:
        """The piece of the law that holds at a voltage."""
        raise NotImplementedError


def require_at_least(least: float, value: float, element: Element, field: str) -> None:
    """
    Refuse a value that is too small or not a finite number.

    Raises:
        UnusableElement: It is; the message names element and field.
    """
    if not (math.isfinite(value) and value >= least):
        raise UnusableElement(element.name, f"{field} {value:g}", f"at least {least:g}")


def require_above(bound: float, value: float, element: Element, field: str) -> None:
    """
    Refuse a value that is not above a bound, or not a finite number.

    Raises:
        UnusableElement: It is; the message names element and field.
    """
    if not (math.isfinite(value) and value > bound):
        raise UnusableElement(element.name, f"{field} {value:g}", f"above {bound:g}")
