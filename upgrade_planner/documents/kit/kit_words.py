"""Quantities and money of a kit in words; what is on a reel is rounded down, cuts never."""

from collections.abc import Sequence
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from upgrade_planner.configuration.values.quantities import format_length
from upgrade_planner.documents.words.quantities import counted
from upgrade_planner.documents.words.wording import NBSP, role_words
from upgrade_planner.kit.articles import EACH, METRE
from upgrade_planner.kit.orders import Order
from upgrade_planner.kit.prices.money import Currency
from upgrade_planner.kit.prices.price_list import FOOT_M

CENTIMETRE = Decimal("0.01")
MOST_NAMED = 4
"""Wires named for one article. Source: our assumption; more nobody reads."""


def number_words(quantity: Decimal, unit: str, units: str = "both") -> str:
    """
    The figure for a column that has its unit beside it; feet to the next higher hundredth.

    Example:
        >>> number_words(Decimal("2.4"), "m"), number_words(Decimal("7.50"), "ml")
        ('2.40', '7.5')
    """
    if unit == METRE and units == "us":
        return f"{(quantity / FOOT_M).quantize(CENTIMETRE, ROUND_CEILING)}"
    if unit == METRE:
        text = exact_text(quantity)
        digits = len(text.partition(".")[2])
        return text if digits > 2 else f"{quantity:.2f}"
    return exact_text(quantity)


def unit_words(unit: str, units: str) -> str:
    """The unit of a column of figures."""
    if unit == METRE and units == "us":
        return "ft"
    return "pcs" if unit == EACH else unit


def quantity_words(quantity: Decimal, unit: str, units: str = "both") -> str:
    """`4 ×`, `2.40 m`, `7.5 ml`."""
    if unit == METRE and units == "us":
        return format_length(float(quantity), "us")
    number = number_words(quantity, unit, units)
    return f"{number}{NBSP}{'×' if unit == EACH else unit}"


def cut_words(length_m: Decimal, units: str) -> str:
    """A length to cut: exact in metres, and in feet and inches where those are asked for."""
    metric = f"{number_words(length_m, METRE)}{NBSP}m"
    if units == "metric":
        return metric
    us = format_length(float(length_m), "us")
    return us if units == "us" else f"{metric} ({us})"


def reel_words(length_m: Decimal, units: str) -> str:
    """A length on a reel, in whole centimetres: never more than there is."""
    return cut_words(length_m.quantize(CENTIMETRE, ROUND_FLOOR), units)


def piece_words(length_m: Decimal, units: str) -> str:
    """A short piece: millimetres below a metre, if they are whole."""
    millimetres = length_m * 1000
    if units == "us" or length_m >= 1 or millimetres % 1:
        return quantity_words(length_m, METRE, units)
    return f"{exact_text(millimetres)}{NBSP}mm"


def exact_text(quantity: Decimal) -> str:
    """
    The decimal without an exponent and without needless zeros.

    Example:
        >>> exact_text(Decimal("2.50")), exact_text(Decimal("1E+2")), exact_text(Decimal("0.00"))
        ('2.5', '100', '0')
    """
    text = f"{quantity:f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return text or "0"


def money_words(amount: Decimal, code: str, currency: Currency | None) -> str:
    """
    An amount as the shop prints it; with three letters if nothing better is known.

    A currency that the shop prints with fewer decimals than the amount has is not rounded.
    """
    if currency is None or amount != amount.quantize(currency.step):
        return f"{amount:.2f}{NBSP}{code}"
    return currency.words(amount)


def excluding_words(order: Order) -> str:
    """`excluding 2 open lines`; "" if all lines have a price."""
    count = len(order.open_lines)
    return f"excluding {counted(count, 'open line', space=NBSP)}" if count else ""


def used_for_words(names: Sequence[str]) -> str:
    """The wires and parts that an article is for, the first few by name."""
    words = [role_words(name) for name in names]
    if len(words) > MOST_NAMED:
        words[MOST_NAMED - 1 :] = [f"{len(words) - MOST_NAMED + 1} more"]
    return ", ".join(words)
