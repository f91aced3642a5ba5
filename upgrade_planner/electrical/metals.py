"""
Wires of aluminium, reckoned by the copper that behaves alike.

A conductor of aluminium has the resistance of a thinner one of copper, and the outside of its own
size. So its current is taken as the greater one that heats copper of that size as much.
"""

from math import sqrt

from upgrade_planner.configuration.model import Conductor, Wire
from upgrade_planner.electrical.withstand import ADIABATIC_FACTORS

PLAIN = (Conductor.COPPER, Conductor.ALUMINIUM)
"""Conductors that are there to carry current, and neither resist nor melt."""

ALUMINIUM_RATIO = 1.64
"""Resistance of aluminium by that of copper of the same size. [1] Source: 0.0283 Ω·mm²/m at 20 °C,
IEC 60889 (from memory), over 0.017241; how both rise with temperature differs by 2 % at 100 °C."""


def resistance_ratio(wire: Wire) -> float:
    """Resistance of a wire by that of plain copper of its size. [1]"""
    return ALUMINIUM_RATIO if wire.conductor is Conductor.ALUMINIUM else 1.0


def heating_current(wire: Wire, current_a: float) -> float:
    """The current that heats copper of the wire's size as much for good. [A]"""
    return current_a * sqrt(resistance_ratio(wire))


def shorting_current(wire: Wire, current_a: float) -> float:
    """
    The current that heats copper of the wire's size as much within seconds. [A]

    Source:
        Factors of IEC 60949, as at `withstand`.
    """
    if wire.conductor is not Conductor.ALUMINIUM:
        return current_a
    copper, _ = ADIABATIC_FACTORS["copper"]
    aluminium, _ = ADIABATIC_FACTORS["aluminium"]
    return current_a * copper / aluminium
