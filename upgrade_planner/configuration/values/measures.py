"""A number with its kind of quantity, so that whoever prints it knows the unit."""

from attrs import frozen

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
