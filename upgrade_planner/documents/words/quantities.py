"""Numbers as text, in the units asked for; the only place that rounds what findings say."""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence

from upgrade_planner.configuration.values.measures import Quantity
from upgrade_planner.configuration.values.quantities import Dimension, in_unit, unit_inside
from upgrade_planner.configuration.values.sizes import (
    METRIC,
    SAE,
    WireSize,
    other_system_label,
    sizes_in,
)
from upgrade_planner.documents.words.wording import NBSP

US_UNITS = {
    "m": "ft",
    "mm": "in",
    "mm²": "cmil",
    "°C": "°F",
    "N·m": "lbf·ft",
    "N": "lbf",
    "kg": "lb",
}
"""For each metric unit the one that a US reader gets instead; all other units are the same."""

MORE_DIGITS = {"in": 1}
"""Digits that a US unit needs beyond those of the metric one, because it is so much larger."""

MILE_M = 1609.344
"""[m] international mile (1959): exact."""

SMALL_CURRENT = "mA"
"""The unit of currents below an ampere; from there on nobody counts in it."""

LEAST = "least"
MOST = "most"

MOST_DIGITS = 6
CMIL_DIGITS = 3
SURE_DIGITS = 10
"""So many digits of a solution are sure."""


def quantity_words(
    quantity: Quantity, number: str, units: str, *, unit: str = "", space: str = NBSP
) -> str:
    """
    A quantity with its unit.

    Args:
        quantity: What to write.
        number: How to write the number, as Python does: `.1f`, `g`.
        units: `us` writes US units; `metric` and `both` write metric ones.
        unit: The metric unit wanted; "" is the one that the number has inside the program.
        space: What stands between number and unit.

    Example:
        >>> from upgrade_planner.configuration.values.quantities import Dimension
        >>> quantity_words(Quantity(105.0, Dimension.TEMPERATURE), ".0f", "us", space=" ")
        '221 °F'
        >>> amps = (Quantity(number, Dimension.CURRENT) for number in (0.05, 56.699))
        >>> [quantity_words(item, ".0f", "metric", unit="mA", space=" ") for item in amps]
        ['50 mA', '56.7 A']
    """
    if unit == SMALL_CURRENT and abs(quantity.number) >= 1.0:
        return quantity_words(quantity, ".1f", units, space=space)
    symbol = _symbol(quantity, units, unit)
    written = in_unit(quantity.number, quantity.dimension, symbol)
    return f"{_number(written, number, symbol)}{space}{symbol}"


def bare_number_words(quantity: Quantity, number: str, units: str) -> str:
    """The number alone, for the first of two that share a unit: `13.5` in `13.5 to 14.9 V`."""
    symbol = _symbol(quantity, units)
    return _number(in_unit(quantity.number, quantity.dimension, symbol), number, symbol)


def small_length_words(length_m: float, units: str) -> str:
    """A length in millimetres, or in inches where US units are asked for."""
    return quantity_words(Quantity(length_m, Dimension.LENGTH), ".0f", units, unit="mm")


def _symbol(quantity: Quantity, units: str, unit: str = "") -> str:
    metric = unit or unit_inside(quantity.dimension)
    return US_UNITS.get(metric, metric) if units == "us" else metric


def _number(written: float, number: str, symbol: str) -> str:
    written = without_dust(written)
    if symbol == "cmil":
        return f"{float(f'{written:.{CMIL_DIGITS}g}'):.0f}"
    if number.endswith("f") and symbol in MORE_DIGITS:
        digits = int(number.strip(".f")) + MORE_DIGITS[symbol]
        return _without_minus_zero(f"{written:.{digits}f}")
    return _without_minus_zero(format(written, number))


def without_dust(number: float) -> float:
    """
    A computed number to the digits that are sure, so that halves are always rounded alike.

    Example:
        >>> without_dust(3.2500000000000813), without_dust(3.249999999999914)
        (3.25, 3.25)
    """
    return float(f"{number:.{SURE_DIGITS}g}")


def _without_minus_zero(text: str) -> str:
    """What rounds to zero has no sign."""
    return text.removeprefix("-") if not text.strip("-0.") else text


def told_apart(
    value: Quantity, limit: Quantity, number: str, units: str, *, space: str = NBSP
) -> tuple[str, str]:
    """
    A value and its limit, with as many digits as it takes to tell them apart.

    Example:
        >>> from upgrade_planner.configuration.values.quantities import Dimension
        >>> volts = Dimension.VOLTAGE
        >>> told_apart(Quantity(0.1012, volts), Quantity(0.1, volts), ".2f", "metric", space=" ")
        ('0.101 V', '0.100 V')
    """
    digits = int(number.strip(".f"))
    for more in range(digits, max(digits + 1, MOST_DIGITS)):
        shown, other = (
            quantity_words(item, f".{more}f", units, space=space) for item in (value, limit)
        )
        if shown != other:
            break
    return shown, other


def counted(number: int, noun: str, plural: str = "", *, space: str = " ") -> str:
    """
    A number of things.

    Example:
        >>> counted(1, "wire"), counted(2, "wire"), counted(2, "box", "boxes")
        ('1 wire', '2 wires', '2 boxes')
    """
    return f"{number}{space}{noun if number == 1 else plural or noun + 's'}"


def way_words(distance: Quantity, units: str) -> str:
    """A distance on the road; miles to one digit, for it is a rule of thumb."""
    if units == "us":
        return f"{float(f'{distance.number / MILE_M:.1g}'):,.0f} miles"
    return f"{distance.number / 1000:,.0f} km"


def size_for_us(size: WireSize, *, bound: str = "") -> str:
    """
    A size in the gauges of the US trade: its own, or the standard one nearest to its area.

    Args:
        size: Any size.
        bound: `least` for a size that is the least to fit: its gauge is never thinner; `most` for
            a link, which protects no more if it is thicker: its gauge is never thicker, but where
            the trade has none so thin.

    Example:
        >>> from upgrade_planner.configuration.values.sizes import parse_wire_size
        >>> link = parse_wire_size("4 mm²")
        >>> [size_for_us(link, bound=bound).replace(NBSP, " ") for bound in ("", "most")]
        ['about 10 SAE', '12 SAE']
    """
    if size.system != METRIC:
        return size.label
    gauges = sizes_in(SAE)
    if bound == LEAST:
        return next((gauge for gauge in gauges if gauge >= size), gauges[-1]).label
    if bound == MOST:
        return next((gauge for gauge in reversed(gauges) if gauge <= size), gauges[0]).label
    return other_system_label(size, SAE)


def sizes_for_us(sizes: Collection[WireSize]) -> Mapping[WireSize, str]:
    """
    Sizes that stand in one sentence; those whose gauge would be the same say their area, too.

    Example:
        >>> from upgrade_planner.configuration.values.sizes import parse_wire_size
        >>> words = sizes_for_us([parse_wire_size("5 mm²"), parse_wire_size("6 mm²")])
        >>> [word.replace(NBSP, " ") for word in words.values()]
        ['about 10 SAE (9870 cmil)', 'about 10 SAE (11800 cmil)']
    """
    words = {size: size_for_us(size) for size in sizes}
    told = Counter(words.values())
    return {
        size: word if told[word] == 1 else f"{word} ({area_for_us(size)})"
        for size, word in words.items()
    }


def area_for_us(size: WireSize) -> str:
    """Copper of a size in circular mils."""
    return quantity_words(Quantity(size.area_mm2, Dimension.AREA), "g", "us")


def of_system(sizes: Sequence[WireSize], units: str) -> Sequence[WireSize]:
    """Of sizes that will do alike, those of the US trade where US units are asked for."""
    return [s for s in sizes if s.system != METRIC] or sizes if units == "us" else sizes
