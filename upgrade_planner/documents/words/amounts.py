"""Amounts of articles and hours of work in words; cuts are never short, reels never long."""

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from upgrade_planner.configuration.values.quantities import format_length
from upgrade_planner.documents.words.wording import NBSP
from upgrade_planner.kit.articles import EACH, METRE, MILLILITRE
from upgrade_planner.kit.labour_table import Minutes
from upgrade_planner.kit.prices.price_list import FOOT_M

CENTIMETRE = Decimal("0.01")
ML_PER_FLUID_OUNCE = Decimal("29.5735295625")
"""US fluid ounce: 231/128 cubic inches, exact. Source: NIST Handbook 44, appendix C."""

_FOR_US = {METRE: ("ft", FOOT_M), MILLILITRE: ("fl oz", ML_PER_FLUID_OUNCE)}


def shown_in(quantity: Decimal, unit: str, units: str) -> tuple[Decimal, str]:
    """The figure and its unit: as they are, or in US units, to the next higher hundredth."""
    if units == "us" and unit in _FOR_US:
        name, size = _FOR_US[unit]
        return (quantity / size).quantize(CENTIMETRE, ROUND_CEILING), name
    return quantity, unit


def number_words(quantity: Decimal, unit: str, units: str = "both") -> str:
    """
    The figure for a column that has its unit beside it; US units to the next higher hundredth.

    Example:
        >>> number_words(Decimal("2.4"), "m"), number_words(Decimal("7.50"), "ml")
        ('2.40', '7.5')
    """
    shown, shown_unit = shown_in(quantity, unit, units)
    if shown_unit != unit:
        return f"{shown}"
    text = exact_text(quantity)
    is_short = unit == METRE and len(text.partition(".")[2]) <= 2
    return f"{quantity:.2f}" if is_short else text


def unit_words(unit: str, units: str) -> str:
    """The unit of a column of figures."""
    if units == "us" and unit in _FOR_US:
        return _FOR_US[unit][0]
    return "pcs" if unit == EACH else unit


def amount_words(quantity: Decimal, unit: str, units: str = "both") -> str:
    """`4 ×`, `2.40 m`, `7.5 ml`."""
    if unit == METRE and units == "us":
        return format_length(float(quantity), "us")
    number = number_words(quantity, unit, units)
    return f"{number}{NBSP}{'×' if unit == EACH else unit_words(unit, units)}"


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
        return amount_words(length_m, METRE, units)
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


def hours_range_words(minutes: Minutes) -> str:
    """`9.5 h (5.2 to 19.1)`; tenths of an hour, as the trade writes them."""
    low, likely, high = minutes.hours
    return f"{likely:.1f}{NBSP}h ({low:.1f} to {high:.1f})"
