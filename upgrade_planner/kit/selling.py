"""
What of a line must be bought to have enough: whole packs and reels, lengths, the minimum.

Quantities and money are exact decimals. An amount is rounded once, to the hundredth of the
currency, so that a total is the sum of the amounts that are printed.
"""

from collections.abc import Iterable
from decimal import ROUND_HALF_UP, Decimal, localcontext

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.kit.cutting.reels import cut
from upgrade_planner.kit.prices.money import rounded_up
from upgrade_planner.kit.prices.price_list import PriceLine, SoldBy

HUNDREDTH = Decimal("0.01")
"""Shortest step of metres or feet at a counter, always upwards. Source: our assumption."""

UNIT_STEP = Decimal("0.000001")
"""A pack of 30 m has a price for a metre that never ends; a millionth is far below a cent.
Source: our assumption."""

_ZERO = Decimal(0)
_DIGITS = 60
"""Enough for every product of quantities and prices to be exact."""


@frozen(kw_only=True)
class Sale:
    """
    So many selling units of one line.

    Attributes:
        line: As it is sold: a reel that is cut to length by the metre.
        units: Selling units; a multiple of a hundredth for metres and feet, else whole.
        needed: What it is for, in the unit of the article.
        quantity: What the units hold, in the same unit; never less than needed.
        amount: Price of all units, to the hundredth; None if the line has no price.
    """

    line: PriceLine
    units: Decimal
    needed: Decimal
    quantity: Decimal
    amount: Decimal | None

    @property
    def off_cut(self) -> Decimal:
        """What is bought and not needed."""
        return self.quantity - self.needed


def sale(line: PriceLine, needed: Decimal, pieces: Iterable[Decimal] = ()) -> Sale | None:
    """
    What must be bought of a line.

    Args:
        line: The line.
        needed: In the unit of the article.
        pieces: Lengths that must each come from one reel, if it is sold by reel, pack or roll. [m]

    Returns:
        None if a piece is longer than a reel.

    Raises:
        ValueError: `needed` is negative.
    """
    if needed < 0:
        raise ValueError(f"a quantity of zero or more is wanted, found {needed}")
    cuts = tuple(pieces)
    if line.is_cut_to_length:
        if max(cuts, default=_ZERO) > line.contains and cut(cuts, line.lengths).uncut:
            return None
        line = _by_the_metre(line)
    with localcontext(prec=_DIGITS):
        units = _units(line, needed, cuts)
        if units is None:
            return None
        quantity = units * line.contains
        amount = None if line.price is None else to_hundredth(units * line.price)
    return Sale(line=line, units=units, needed=needed, quantity=quantity, amount=amount)


def _by_the_metre(line: PriceLine) -> PriceLine:
    return evolve(
        line, sold_by=SoldBy.METRE, contains=Decimal(1), price=price_of_one(line), minimum=_ZERO
    )


def price_of_one(line: PriceLine) -> Decimal | None:
    """Price of one metre, piece or millilitre, to a millionth; None if the line has none."""
    if line.price is None:
        return None
    with localcontext(prec=_DIGITS):
        return (line.price / line.contains).quantize(UNIT_STEP, ROUND_HALF_UP)


def to_hundredth(amount: Decimal) -> Decimal:
    """An amount of money to the hundredth, halves upwards."""
    with localcontext(prec=_DIGITS):
        return amount.quantize(HUNDREDTH, ROUND_HALF_UP)


def _units(line: PriceLine, needed: Decimal, pieces: tuple[Decimal, ...]) -> Decimal | None:
    if not needed:
        return Decimal(0)
    step = HUNDREDTH if line.sold_by.is_cut else Decimal(1)
    # In the unit of the article first: a division such as that by 0.3048 never ends.
    whole, rest = divmod(needed, line.contains * step)
    units = (whole + (rest > 0)) * step
    if pieces and not line.sold_by.is_cut:
        cutting = cut(pieces, (), new_reel=line.contains)
        if cutting.uncut:
            return None
        units = max(units, Decimal(cutting.new_reels))
    return max(units, rounded_up(line.minimum, step).quantize(step))
