"""
Quantities as people write them, with their unit: `1.8 m`, `5 ft 6 in`, `63 A`, `1.35 Ω`.

Used at the edge only: text becomes a plain number on the way in (`parse_quantity`) and text again
on the way out. Inside the program a unit stands only in a name. The units are in data/units.csv.
"""

import enum
import re
from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from functools import cache, lru_cache
from math import ceil, isfinite

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.own_data import data_rows
from upgrade_planner.configuration.values.notation import (
    NO_BREAK_SPACE,
    NotationError,
    nearest_words,
    shown_scalar,
)

ABSOLUTE_ZERO_C = -273.15  # [°C] by definition
FOOT_M = Fraction("0.3048")  # [m] exact by definition (international foot, 1959)
INCHES_PER_FOOT = 12
INCH_M = FOOT_M / INCHES_PER_FOOT  # [m]
CUT_STEP_M = Fraction("0.01")  # [m] our assumption: lengths are cut to the next 10 mm
FORGIVEN_M = Fraction("0.005")  # [m] our assumption: not worth another whole inch
FLOAT_NOISE_M = Fraction("1e-6")  # [m] hides the last digits of sums such as 0.1 + 0.2

DUST = Fraction("1e-6")  # of the unit printed; our assumption: less is zero to a reader

LONGEST_TEXT = 60  # characters; our assumption, no quantity is longer
KEPT_TEXTS = (
    2000  # that have been read: profiles name the same currents and lengths again and again
)
LARGEST_EXPONENT = 400  # beyond the range of a float; keeps the exact arithmetic small

_SAME_CHARACTER = str.maketrans(
    {
        "\N{OHM SIGN}": "\N{GREEK CAPITAL LETTER OMEGA}",
        "\N{GREEK SMALL LETTER MU}": "\N{MICRO SIGN}",
        "\N{DOT OPERATOR}": "\N{MIDDLE DOT}",
        "\N{MINUS SIGN}": "-",
    }
)
_NUMBER = r"[+-]?(?:\d+(?:\.\d+)?|\.\d+)(?:[eE]([+-]?\d+))?"
_QUANTITY = re.compile(rf"({_NUMBER})\s*([^\d\s.,+-].*)?", re.ASCII)
_FEET_AND_INCHES = re.compile(r"([+-]?)(\d+)\s*ft\s*(\d+(?:\.\d+)?)\s*in", re.ASCII)
_DECIMAL_COMMA = re.compile(r"([+-]?\d+),(\d+)\s*(\D*)", re.ASCII)


class Dimension(enum.Enum):
    """
    Kinds of quantity that profiles state, each with the unit its number has inside the program.

    Charge is kept in ampere-hours, speed in revolutions per minute, temperature in °C and area of
    copper in mm², as the trade states them; everything else in SI units.
    """

    LENGTH = "length"  # [m]
    AREA = "area"  # [mm²]
    VOLTAGE = "voltage"  # [V]
    CURRENT = "current"  # [A]
    RESISTANCE = "resistance"  # [Ω]
    POWER = "power"  # [W]
    INDUCTANCE = "inductance"  # [H]
    CAPACITANCE = "capacitance"  # [F]
    CHARGE = "charge"  # [Ah]
    TEMPERATURE = "temperature"  # [°C]
    SPEED = "speed"  # [r/min]
    TORQUE = "torque"  # [N·m]
    FORCE = "force"  # [N]
    MASS = "mass"  # [kg]
    TIME = "time"  # [s]
    RATIO = "ratio"  # from 0 to 1; written in percent
    ENERGY = "energy"  # [J]


class QuantityError(NotationError):
    """A text that is not a quantity of the dimension wanted."""


@frozen(kw_only=True)
class _Unit:
    """One row of data/units.csv: inside = (written - zero) * factor."""

    symbol: str
    factor: Fraction
    zero: Fraction
    print_order: int | None
    example: str


@cache
def _table() -> dict[Dimension, dict[str, _Unit]]:
    table: dict[Dimension, dict[str, _Unit]] = {dimension: {} for dimension in Dimension}
    for row in data_rows(__package__, "units.csv"):
        table[Dimension(row["dimension"])][row["unit"]] = _unit(row)
    return table


def _unit(row: dict[str, str]) -> _Unit:
    return _Unit(
        symbol=row["unit"],
        factor=Fraction(row["factor"]),
        zero=Fraction(row["zero"]),
        print_order=int(row["print_order"]) if row["print_order"] else None,
        example=row["example"],
    )


def parse_quantity(text: object, dimension: Dimension, *, allow_negative: bool = False) -> float:
    """
    The number that a text such as `63 A` or `5 ft 6 in` stands for.

    Args:
        text: Number, decimal point only, and unit; spaces between them are free.
        dimension: What is wanted.
        allow_negative: Whether a value below zero makes sense here; a temperature always may be.

    Returns:
        The value in the unit named at `Dimension`.

    Raises:
        QuantityError: The text is no quantity of that dimension, or not a text at all.

    Example:
        >>> parse_quantity("45 mm", Dimension.LENGTH)
        0.045
        >>> parse_quantity("63 V", Dimension.CURRENT)
        Traceback (most recent call last):
        upgrade_planner.configuration.values.quantities.QuantityError: found "63 V", which is a \
voltage; expected a current, e.g. 63 A
    """
    if not isinstance(text, str):
        expected = f'{_noun(dimension)} as text in quotes, e.g. "{example_of(dimension)}"'
        raise QuantityError(shown_scalar(text), expected)
    return _in_range(_exact(text, dimension), text, dimension, allow_negative)


@lru_cache(KEPT_TEXTS)
def _exact(text: str, dimension: Dimension) -> Fraction:
    plain = " ".join(text.translate(_SAME_CHARACTER).split())
    if len(plain) > LONGEST_TEXT:
        raise QuantityError(shown_scalar(text), _wanted(dimension))
    if dimension is Dimension.LENGTH and (feet := _FEET_AND_INCHES.fullmatch(plain)):
        return _feet_and_inches(text, *feet.groups())
    return _number_and_unit(plain, text, dimension)


def _feet_and_inches(text: str, sign: str, feet: str, inches: str) -> Fraction:
    if Fraction(inches) >= INCHES_PER_FOOT:
        raise QuantityError(shown_scalar(text), "inches below 12 after feet, e.g. 5 ft 6 in")
    length_m = int(feet) * FOOT_M + Fraction(inches) * INCH_M
    return -length_m if sign == "-" else length_m


def _number_and_unit(plain: str, text: str, dimension: Dimension) -> Fraction:
    match = _QUANTITY.fullmatch(plain)
    if match is None:
        raise _not_a_number(plain, text, dimension)
    number, exponent, symbol = match.groups()
    if abs(int(exponent or 0)) > LARGEST_EXPONENT:
        raise QuantityError(f"{shown_scalar(text)}, beyond all bounds", _wanted(dimension))
    unit = _table()[dimension].get(symbol or "")
    if unit is None:
        raise _wrong_unit(text, number, symbol, dimension)
    # Exact arithmetic, so that 45 mm and 0.045 m give the very same number.
    return (Fraction(number) - unit.zero) * unit.factor


def _in_range(exact: Fraction, text: str, dimension: Dimension, allow_negative: bool) -> float:
    try:
        value = float(exact)
    except OverflowError as error:
        raise QuantityError(
            f"{shown_scalar(text)}, beyond all bounds", _wanted(dimension)
        ) from error
    if dimension is Dimension.TEMPERATURE:
        if value < ABSOLUTE_ZERO_C:
            raise QuantityError(
                shown_scalar(text), f"a temperature of {ABSOLUTE_ZERO_C} °C or above"
            )
    elif value < 0 and not allow_negative:
        raise QuantityError(shown_scalar(text), f"{_noun(dimension)} of zero or more")
    return value


def _noun(dimension: Dimension) -> str:
    article = "an" if dimension.value[0] in "aeiou" else "a"
    return f"{article} {dimension.value}"


def example_of(dimension: Dimension) -> str:
    """A quantity of that dimension as people write it: `63 A`."""
    units = _table()[dimension].values()
    return next(f"{unit.example} {unit.symbol}" for unit in units if unit.example)


def _wanted(dimension: Dimension, number: str = "") -> str:
    """What would be right; the number that was written is the example, for it fits the vehicle."""
    *others, last = _table()[dimension]
    allowed = f"{', '.join(others)} or {last}" if others else last
    shown = _with_units(number, dimension) if number else example_of(dimension)
    return f"{_noun(dimension)} with its unit ({allowed}), e.g. {shown}"


def _with_units(number: str, dimension: Dimension) -> str:
    """A number with the unit that it most likely lacks; ohms may as well be milliohms."""
    if dimension is Dimension.RATIO:  # 0.35 means 35 %
        return example_of(dimension)
    first = next(iter(_table()[dimension]))
    also = f" or {number} mohm" if dimension is Dimension.RESISTANCE else ""
    return f"{number} {first}{also}"


def _not_a_number(plain: str, text: str, dimension: Dimension) -> QuantityError:
    comma = _DECIMAL_COMMA.fullmatch(plain)
    if comma is None:
        return QuantityError(shown_scalar(text), _wanted(dimension))
    whole, decimals, unit = comma.groups()
    as_thousands = f" or {whole}{decimals} {unit}" if len(decimals) == len("000") else ""
    wanted = f"a decimal point: write {whole}.{decimals} {unit}{as_thousands}"
    return QuantityError(f"{shown_scalar(text)} with a comma", wanted.strip())


def _wrong_unit(text: str, number: str, symbol: str | None, wanted: Dimension) -> QuantityError:
    if symbol is None:
        return QuantityError(f"{shown_scalar(text)} without a unit", _wanted(wanted, number))
    units = _table()[wanted]
    others = [_noun(dimension) for dimension in Dimension if symbol in _table()[dimension]]
    if others:
        expected = f"{_noun(wanted)}, e.g. {number} {next(iter(units))}"
        unsquared = symbol.removesuffix("²")
        nearest = [f"{number} {unsquared}"] if unsquared in units else []
        return QuantityError(
            f"{shown_scalar(text)}, which is {' or '.join(others)}", expected, nearest
        )
    same_letters = [unit for unit in units if unit.lower() == symbol.lower()]
    likely = same_letters or nearest_words(symbol, units)
    nearest = [f"{number} {unit}" for unit in likely]
    return QuantityError(f"{shown_scalar(text)} with an unknown unit", _wanted(wanted), nearest)


def format_quantity(
    value: float, dimension: Dimension, unit: str | None = None, digits: int = 3
) -> str:
    """
    A quantity for people: rounded, in a handy unit, with a no-break space.

    Args:
        value: The value in the unit named at `Dimension`.
        dimension: What it is.
        unit: Unit to print; None chooses the largest that gives a number of 1 or more.
        digits: Significant digits; zeros at the end of decimals are dropped.

    Raises:
        ValueError: The value is not finite, or the unit does not belong to the dimension.

    Example:
        >>> format_quantity(0.0457, Dimension.VOLTAGE).replace(NO_BREAK_SPACE, " ")
        '45.7 mV'
    """
    if not isfinite(value):
        raise ValueError(f"only finite values can be printed, found {value}")
    units = _table()[dimension]
    if unit is not None and unit not in units:
        raise ValueError(f"{unit} is not a unit of {dimension.value}")
    chosen = units[unit] if unit else _handy_unit(value, dimension, digits)
    number = _rounded(value, chosen, digits)
    plain = format(number.normalize(), "f") if number else "0"
    signed = plain.replace("-", "\N{MINUS SIGN}")
    return f"{signed}{NO_BREAK_SPACE}{chosen.symbol}"


def in_unit(value: float, dimension: Dimension, unit: str) -> float:
    """
    The number to write before a unit.

    Raises:
        KeyError: The unit does not belong to the dimension.

    Example:
        >>> in_unit(105.0, Dimension.TEMPERATURE, "°F")
        221.0
    """
    chosen = _table()[dimension][unit]
    return float(Fraction(repr(float(value))) / chosen.factor + chosen.zero)


def unit_inside(dimension: Dimension) -> str:
    """
    Symbol of the unit that numbers of a dimension have inside the program; "" for a ratio.

    Example:
        >>> unit_inside(Dimension.VOLTAGE)
        'V'
    """
    units = _table()[dimension].values()
    return next((unit.symbol for unit in units if unit.factor == 1 and unit.print_order), "")


def _rounded(value: float, unit: _Unit, digits: int) -> Decimal:
    written = Fraction(repr(float(value))) / unit.factor + unit.zero
    if abs(written) < DUST:
        return Decimal(0)
    context = Context(prec=digits, rounding=ROUND_HALF_UP)
    return context.divide(Decimal(written.numerator), Decimal(written.denominator))


def _handy_unit(value: float, dimension: Dimension, digits: int) -> _Unit:
    units = [unit for unit in _table()[dimension].values() if unit.print_order]
    units.sort(key=lambda unit: unit.print_order or 0)
    if _rounded(value, units[-1], digits) == 0:
        return next(unit for unit in units if unit.factor == 1 or len(units) == 1)
    large = (unit for unit in units if abs(_rounded(value, unit, digits)) >= 1)
    return next(large, units[-1])


def format_length(length_m: float, units: str = "metric") -> str:
    """
    A length to cut, never short by more than 5 mm.

    Args:
        length_m: The length. [m]
        units: `metric` rounds up to the next 10 mm; `us` to the next inch, forgiving 5 mm; `both`
            prints metric with US in brackets.

    Raises:
        ValueError: The length is negative or not finite, or `units` is none of the three.

    Source:
        Our assumption: a cut length may be generous, not short.

    Example:
        >>> format_length(1.346, "both").replace(NO_BREAK_SPACE, " ")
        '1.35 m (4 ft 5 in)'
    """
    if not isfinite(length_m) or length_m < 0:
        raise ValueError(f"a length of zero or more is wanted, found {length_m}")
    exact_m = round(Fraction(length_m) / FLOAT_NOISE_M) * FLOAT_NOISE_M
    metric, us = _metric_length(exact_m), _us_length(exact_m)
    texts = {"metric": metric, "us": us, "both": f"{metric} ({us})"}
    if units not in texts:
        raise ValueError(f"metric, us or both are wanted, found {units}")
    return texts[units]


def _metric_length(length_m: Fraction) -> str:
    cut_m = ceil(length_m / CUT_STEP_M) * CUT_STEP_M
    return f"{float(cut_m):.2f}{NO_BREAK_SPACE}m"


def _us_length(length_m: Fraction) -> str:
    least = 1 if length_m else 0
    generous = ceil((length_m - FORGIVEN_M) / INCH_M)
    feet, inches = divmod(max(generous, least), INCHES_PER_FOOT)
    parts = [f"{feet}{NO_BREAK_SPACE}ft"] if feet else []
    if inches or not feet:
        parts.append(f"{inches}{NO_BREAK_SPACE}in")
    return NO_BREAK_SPACE.join(parts)
