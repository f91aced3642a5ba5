"""Exact amounts: rounding, dividing without loss, printing. Money is Decimal, never float."""

from collections.abc import Sequence
from decimal import ROUND_CEILING, ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from enum import StrEnum
from fractions import Fraction
from typing import Any, ClassVar

from attrs import Attribute

from upgrade_planner.attributes import frozen
from upgrade_planner.kit.prices.notations import Count, CurrencyCode

ZERO = Decimal(0)


class Mode(StrEnum):
    """What happens to a half."""

    HALF_UP = "half up"
    HALF_EVEN = "half even"


_MODES = {Mode.HALF_UP: ROUND_HALF_UP, Mode.HALF_EVEN: ROUND_HALF_EVEN}


def exact(_: object, attribute: "Attribute[Any]", value: object) -> None:
    """
    Validator of every field that holds money or a billed quantity.

    Raises:
        TypeError: the value is a float or anything else that is not a finite Decimal.
    """
    if type(value) is not Decimal or not value.is_finite():
        raise TypeError(f"{attribute.name} is {value!r}, not an exact Decimal")


def rounded(amount: Decimal, step: Decimal, mode: str = Mode.HALF_UP) -> Decimal:
    """
    The multiple of `step` nearest to an amount; a half goes away from zero, or to the even one.

    Example:
        >>> rounded(Decimal("2.345"), Decimal("0.01")), rounded(Decimal("7.03"), Decimal("0.05"))
        (Decimal('2.35'), Decimal('7.05'))
    """
    if step <= 0:
        raise ValueError(f"step {step} is not above zero")
    (amounts, parts), (steps, step_parts) = amount.as_integer_ratio(), step.as_integer_ratio()
    one = parts * steps  # whole numbers are exact: a third of a cent has no Decimal
    whole, rest = divmod(amounts * step_parts, one)
    away = (mode == Mode.HALF_EVEN and whole % 2 == 1) or (mode == Mode.HALF_UP and amounts > 0)
    return (whole + (2 * rest > one or (2 * rest == one and away))) * step


def spread(total: Decimal, weights: Sequence[Fraction], step: Decimal) -> tuple[Decimal, ...]:
    """
    A total divided in the ratio of weights into multiples of `step` that add up to it exactly.

    Every share is its exact value rounded down, and what is left goes, a step each, to the largest
    remainders, the first of equals first. Source: common practice (largest remainder).

    Args:
        total: A multiple of `step`, from zero.
        weights: From zero; if all are zero, so must be the total.
        step: Smallest piece.

    Example:
        >>> spread(Decimal("1.0"), [Fraction(1)] * 3, Decimal("0.1"))
        (Decimal('0.4'), Decimal('0.3'), Decimal('0.3'))
    """
    units = Fraction(total) / Fraction(step)
    if units.denominator != 1 or units < 0:
        raise ValueError(f"{total} is not a number of steps of {step}")
    whole = sum(weights, Fraction(0))
    if whole == 0:
        if units:
            raise ValueError(f"{total} cannot be divided: all weights are zero")
        return tuple(0 * step for _ in weights)
    shares = [units * weight / whole for weight in weights]
    floors = [share.numerator // share.denominator for share in shares]
    left = units.numerator - sum(floors)
    by_rest = sorted(range(len(shares)), key=lambda i: (floors[i] - shares[i], i))
    for index in by_rest[:left]:
        floors[index] += 1
    return tuple(floor * step for floor in floors)


@frozen(kw_only=True)
class Currency:
    """The money of a shop: the `[currency]` table; how it is written is a matter of language."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[dict[str, str]] = {"code": '"GBP"', "decimals": "2"}
    code: CurrencyCode
    decimals: Count

    @property
    def step(self) -> Decimal:
        """The smallest amount that is printed."""
        return Decimal(1).scaleb(-self.decimals)


def rounded_up(quantity: Decimal, step: Decimal) -> Decimal:
    """
    The next multiple of the step that is not less.

    Example:
        >>> rounded_up(Decimal("2.551"), Decimal("0.01"))
        Decimal('2.56')
        >>> rounded_up(Decimal("2.7"), Decimal("0.01"))  # no digit is added
        Decimal('2.7')
    """
    return (quantity / step).to_integral_value(ROUND_CEILING) * step
