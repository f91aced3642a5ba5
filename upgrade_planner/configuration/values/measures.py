"""A number with its kind of quantity, so that whoever prints it knows the unit."""

from types import MappingProxyType

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.values.quantities import Dimension


@frozen
class Quantity:
    """
    A number that is still to be rounded and printed.

    Attributes:
        number: In the unit named at `Dimension`.
        dimension: What it measures.
    """

    number: float
    dimension: Dimension


TOLERANCES = MappingProxyType(
    {
        Dimension.VOLTAGE: 0.005,
        Dimension.CURRENT: 0.05,
        Dimension.LENGTH: 0.002,
        Dimension.TEMPERATURE: 0.5,
    }
)
"""Smaller differences from a limit are none. Source: our assumption: half a step of the instrument
that a workshop reads, 10 mV, 0.1 A and 1 °C; a tape is read to 2 mm."""


def is_above(value: Quantity, limit: Quantity) -> bool:
    """
    True if a value lies above a limit by more than the tolerance of its quantity.

    Example:
        >>> is_above(metre(0.230), metre(0.229)), is_above(volt(0.21), volt(0.2))
        (False, True)
    """
    return value.number > limit.number + TOLERANCES.get(value.dimension, 0.0)


def volt(number: float) -> Quantity:
    """A voltage. [V]"""
    return Quantity(number, Dimension.VOLTAGE)


def ampere(number: float) -> Quantity:
    """A current. [A]"""
    return Quantity(number, Dimension.CURRENT)


def ohm(number: float) -> Quantity:
    """A resistance. [Ω]"""
    return Quantity(number, Dimension.RESISTANCE)


def watt(number: float) -> Quantity:
    """A power. [W]"""
    return Quantity(number, Dimension.POWER)


def metre(number: float) -> Quantity:
    """A length. [m]"""
    return Quantity(number, Dimension.LENGTH)


def square_mm(number: float) -> Quantity:
    """An area of copper. [mm²]"""
    return Quantity(number, Dimension.AREA)


def celsius(number: float) -> Quantity:
    """A temperature. [°C]"""
    return Quantity(number, Dimension.TEMPERATURE)


def second(number: float) -> Quantity:
    """A time. [s]"""
    return Quantity(number, Dimension.TIME)


def rpm(number: float) -> Quantity:
    """A speed of turning. [r/min]"""
    return Quantity(number, Dimension.SPEED)


def newton_metre(number: float) -> Quantity:
    """A torque. [N·m]"""
    return Quantity(number, Dimension.TORQUE)


def newton(number: float) -> Quantity:
    """A force. [N]"""
    return Quantity(number, Dimension.FORCE)


def ratio(number: float) -> Quantity:
    """A share, from 0 to 1; written in percent."""
    return Quantity(number, Dimension.RATIO)
