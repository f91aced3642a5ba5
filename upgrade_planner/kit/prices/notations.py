"""Single values of a shop's files: money, percent, counts, words; each fault says what is right."""

import re
from decimal import Decimal
from typing import Annotated, Any

from upgrade_planner.configuration.files.faults import FieldFault, shown
from upgrade_planner.configuration.structuring.single_values import text_from

LARGEST_MONEY = Decimal(10_000_000)
LARGEST_PERCENT = Decimal(1000)
LONGEST_VALIDITY = 3660
LARGEST_HOURS = Decimal(1000)
LONGEST_PRINTED = 40
FIRST_YEAR, LAST_YEAR = 1880, 2100
"""All: our assumption; a slip of the finger is larger, and a title block holds no longer text."""

_NUMBER = re.compile(r"\d{1,12}(\.\d{1,6})?", re.ASCII)
_CURRENCY = re.compile(r"[A-Z]{3}", re.ASCII)
_INEXACT = "; a bare number with a point is not kept exactly"


def _decimal(value: Any, largest: Decimal, wanted: str) -> Decimal:
    if isinstance(value, float):
        raise FieldFault(f"{shown(value)}{_INEXACT}", f"{wanted} in quotes")
    if isinstance(value, bool) or not isinstance(value, str | int):
        raise FieldFault(shown(value), wanted)
    if (isinstance(value, int) and value < 0) or (isinstance(value, str) and value.startswith("-")):
        raise FieldFault(f"{shown(value)}, which is negative", f"{wanted}, zero or more")
    if isinstance(value, str) and not _NUMBER.fullmatch(value):
        raise FieldFault(shown(value), f"{wanted}, a point before the decimals, nothing else")
    if (isinstance(value, int) and value > largest) or Decimal(value) > largest:
        raise FieldFault(shown(value), f"{wanted}, at most {largest}")
    return Decimal(value)


def money_from(value: Any) -> Decimal:
    """An amount of money, zero or more."""
    return _decimal(value, LARGEST_MONEY, 'an amount such as "12.50" or 12')


def step_from(value: Any) -> Decimal:
    """The step to which something is rounded, above zero."""
    step = _decimal(value, LARGEST_MONEY, 'a step such as "0.05" or 1')
    if step == 0:
        raise FieldFault(shown(value), 'a step above zero, such as "0.05" or 1')
    return step


def rate_from(value: Any) -> Decimal:
    """Money for an hour, above zero."""
    rate = _decimal(value, LARGEST_MONEY, 'an amount such as "58.00" or 58')
    if rate == 0:
        raise FieldFault(shown(value), 'an amount above zero, such as "58.00"')
    return rate


def percent_from(value: Any) -> Decimal:
    """Percent, zero or more."""
    return _decimal(value, LARGEST_PERCENT, 'a percentage such as "2.5" or 20')


def _whole(value: Any, least: int, most: int) -> int:
    wanted = f"a whole number from {least} to {most}, without quotes"
    if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
        raise FieldFault(shown(value), wanted)
    return value


def year_from(value: Any) -> int:
    """Year in which a vehicle was built."""
    return _whole(value, FIRST_YEAR, LAST_YEAR)


def decimals_from(value: Any) -> int:
    """Decimals of a currency."""
    return _whole(value, 0, 4)


def days_from(value: Any) -> int:
    """Days of validity."""
    return _whole(value, 1, LONGEST_VALIDITY)


def words_from(value: Any) -> str:
    """A text that is not empty."""
    text = text_from(value)
    if not text.strip():
        raise FieldFault(shown(text), "a text that is not empty")
    return text


def currency_code_from(value: Any) -> str:
    """The three letters of a currency (ISO 4217)."""
    text = text_from(value)
    if not _CURRENCY.fullmatch(text):
        raise FieldFault(shown(text), 'three capital letters, such as "EUR"')
    return text


def hours_from(value: Any) -> Decimal:
    """Hours of work, zero or more."""
    return _decimal(value, LARGEST_HOURS, 'hours such as "1.5" or 2')


def printed_from(value: Any) -> str:
    """A short text for a title block, without control or direction characters."""
    text = text_from(value)
    if not text.isprintable() or len(text) > LONGEST_PRINTED:
        raise FieldFault(shown(text), f"at most {LONGEST_PRINTED} characters that can be printed")
    return text


Money = Annotated[Decimal, money_from]
HourlyRate = Annotated[Decimal, rate_from]
Step = Annotated[Decimal, step_from]
Percent = Annotated[Decimal, percent_from]
Count = Annotated[int, decimals_from]
Year = Annotated[int, year_from]
Days = Annotated[int, days_from]
Hours = Annotated[Decimal, hours_from]
Printed = Annotated[str, printed_from]
Text = Annotated[str, words_from]
CurrencyCode = Annotated[str, currency_code_from]
