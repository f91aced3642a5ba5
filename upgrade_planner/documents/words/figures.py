"""
Amounts of money, numbers and dates as people of a language and country write them.

The only module that asks Babel, whose figures come from the Unicode Common Locale Data Repository.
"""

import re
from copy import copy
from datetime import date
from decimal import Decimal
from functools import cache

from babel import Locale
from babel.dates import format_date
from babel.numbers import get_currency_symbol, get_decimal_symbol

from upgrade_planner.attributes import frozen
from upgrade_planner.kit.prices.money import Currency

LOCALES = {
    "en": "en_001",
    "en-GB": "en_GB",
    "en-US": "en_US",
    "de": "de",
    "de-AT": "de_AT",
    "de-CH": "de_CH",
}
"""By the language of a paper; English of no country is that of the world."""

ENGLISH = "en"

_MINUS = "\N{MINUS SIGN}"
_LETTER_AND_DIGIT = re.compile(r"(?<=[A-Za-z])(?=\d)")
_NARROW, _NBSP = "\u202f", "\N{NO-BREAK SPACE}"


@frozen
class Figures:
    """How figures are written in one language and country."""

    _locale: Locale

    @property
    def decimal_mark(self) -> str:
        """What stands before the decimals."""
        return get_decimal_symbol(self._locale)

    def money(self, amount: Decimal, currency: Currency) -> str:
        """
        An amount with its currency.

        Raises:
            ValueError: the amount is finer than the currency; nothing is rounded in printing.

        Example:
            >>> pounds = Currency(code="GBP", decimals=2)
            >>> figures_of("en-GB").money(Decimal("-1234.5"), pounds)
            '−£1,234.50'
        """
        if amount != amount.quantize(currency.step):
            raise ValueError(f"{amount} is finer than {currency.step}")
        pattern = copy(self._locale.currency_formats["standard"])
        pattern.frac_prec = (currency.decimals, currency.decimals)
        text = pattern.apply(abs(amount), self._locale, currency.code, currency_digits=False)
        return _signed(text, is_negative=amount < 0)

    def number(self, number: Decimal) -> str:
        """
        A number with all its digits.

        Example:
            >>> figures_of("de").number(Decimal("1234.50"))
            '1.234,50'
        """
        digits = max(0, -int(number.as_tuple().exponent))
        pattern = copy(self._locale.decimal_formats[None])
        pattern.frac_prec = (digits, digits)
        return _signed(pattern.apply(abs(number), self._locale), is_negative=number < 0)

    def day(self, day: date) -> str:
        """
        A date in words.

        Example:
            >>> figures_of("de").day(date(2026, 3, 2)), figures_of("en-US").day(date(2026, 3, 2))
            ('2. März 2026', 'March 2, 2026')
        """
        return format_date(day, "long", locale=self._locale)

    def symbol(self, currency: Currency) -> tuple[str, str]:
        """
        What stands before an amount and what behind it; one of them is empty.

        Example:
            >>> figures_of("de").symbol(Currency(code="EUR", decimals=2))
            ('', '€')
        """
        symbol = get_currency_symbol(currency.code, self._locale)
        is_before = self._locale.currency_formats["standard"].prefix[0].startswith("¤")
        return (symbol, "") if is_before else ("", symbol)


@cache
def figures_of(language: str) -> Figures:
    """
    The figures of a language, one of `LOCALES`.

    Raises:
        KeyError: another one.
    """
    return Figures(Locale.parse(LOCALES[language]))


def _signed(text: str, *, is_negative: bool) -> str:
    """With a true minus sign in front, and spaces that a line does not break at."""
    text = _LETTER_AND_DIGIT.sub(_NBSP, text.replace(_NARROW, _NBSP).replace(" ", _NBSP))
    return f"{_MINUS}{text}" if is_negative else text
