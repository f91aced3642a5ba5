"""Numbers in a price list as people and spreadsheets write them: `12.50`, `1.234,56`, `12,50 €`."""

import re
import unicodedata
from collections.abc import Iterable
from decimal import Decimal

from upgrade_planner.configuration.tables.cells import CellNumber

MARKS = {"point": ".", "comma": ","}
"""Decimal marks by their words in the settings of a shop."""

OTHER = {".": ",", ",": "."}

CURRENCY_OF_SIGN = {"€": "EUR", "£": "GBP", "₹": "INR", "₺": "TRY", "₽": "RUB", "zł": "PLN"}
"""Signs of one currency alone; others, such as $ and kr, are of several. Source: ISO 4217."""

_SPACES = "\N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}\N{THIN SPACE}"
_GROUPING = rf"[ {_SPACES}'’]"
_NUMBERS = {
    mark: re.compile(
        rf"(?:\d{{1,9}}|[1-9]\d{{0,2}}(?:(?:{_GROUPING}\d{{3}})+|(?:{re.escape(other)}\d{{3}})+))"
        rf"(?:{re.escape(mark)}\d{{1,6}})?",
        re.ASCII,
    )
    for mark, other in OTHER.items()
}
_FIGURES = {mark: str.maketrans(",", ".", f" {_SPACES}'’{other}") for mark, other in OTHER.items()}
"""What makes the figures of a number one that Python reads."""
_BARE = re.compile(r"(?:[\d.,]*\d)?", re.ASCII)
"""A price that names no currency, and has its hundredths or none."""
_EVEN = re.compile(r"[.,][-–—]{1,2}$")
"""A price without its hundredths: `12,-`."""
_CODE = re.compile(r"^([A-Z]{3})\s*(?=\d)|(?<=[\d\s])([A-Z]{3})$")


def number_of(text: str, mark: str) -> Decimal | None:
    """
    The number of a text; None if it is none.

    Args:
        text: Figures, parted by thousands or not, and nothing else.
        mark: Decimal mark, `.` or `,`.

    Example:
        >>> number_of("1.234,56", ","), number_of("1 234.5", "."), number_of("12,50", ".")
        (Decimal('1234.56'), Decimal('1234.5'), None)
    """
    mark = "." if isinstance(text, CellNumber) else mark
    return Decimal(text.translate(_FIGURES[mark])) if _is_number(text, mark) else None


def _is_number(text: str, mark: str) -> bool:
    return _NUMBERS[mark].fullmatch(text) is not None


def without_currency(text: str) -> tuple[str, str]:
    """
    A price without its currency, and the three letters of that; "" if it names none.

    Example:
        >>> without_currency("12,50 €"), without_currency("GBP 3.10"), without_currency("12,-")
        (('12,50', 'EUR'), ('3.10', 'GBP'), ('12', ''))
    """
    if isinstance(text, CellNumber) or _BARE.fullmatch(text):
        return text, ""
    code = _CODE.search(text)
    named = next((code for sign, code in CURRENCY_OF_SIGN.items() if sign in text), "")
    if code:
        text, named = text.replace(code[0], ""), code[1] or code[2]
    bare = "".join(sign for sign in text.replace("zł", "") if unicodedata.category(sign) != "Sc")
    return _EVEN.sub("", bare.strip()), named


def mark_of(texts: Iterable[str]) -> str:
    """
    The decimal mark that the numbers of a list have; "" if none of them shows it.

    `12,5` and `1.234,56` show it; `1,234` and `12` do not. Of two marks the more frequent one.
    """
    votes = {".": 0, ",": 0}
    for text in texts:
        shown = "" if isinstance(text, CellNumber) else _shown_mark(without_currency(text)[0])
        if shown:
            votes[shown] += 1
    if votes["."] == votes[","]:
        return ""
    return max(votes, key=lambda mark: votes[mark])


def _shown_mark(text: str) -> str:
    """The mark that only a decimal one can be."""
    for mark, other in OTHER.items():
        is_alone = mark in text and not _is_number(text, other)
        if (is_alone or text.count(other) > 1) and _is_number(text, mark):
            return mark
    return ""


def is_ambiguous(text: str) -> bool:
    """True for `1,234`: more than a thousand with one mark, little more than one with the other."""
    found = {number_of(text, mark) for mark in OTHER}
    return not isinstance(text, CellNumber) and None not in found and len(found) > 1


def wanted_number(text: str, mark: str) -> str:
    """What should stand in place of a text that is no number."""
    other = OTHER[mark]
    words = {sign: word for word, sign in MARKS.items()}
    if other in text and number_of(text.lstrip("-"), other) is not None:
        return (
            f"a decimal {words[mark]}: {text.replace(other, mark)}"
            f' (or decimal = "{words[other]}" in the settings of the shop)'
        )
    if text.startswith("-") and number_of(text[1:], mark) is not None:
        return "zero or more, or an empty cell if it is not known"
    return f"a plain number such as 12{mark}5, or an empty cell"
