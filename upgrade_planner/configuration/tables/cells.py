"""Cells of tables: texts that no spreadsheet computes, and decimal commas."""

import re
from decimal import Decimal

Cell = str | Decimal | int | None


class CellNumber(str):
    """A number of a workbook's cell as text with a decimal point, whatever other texts have."""

    __slots__ = ()


_LIVE = "=+-@"
_COMMA_NUMBER = re.compile(r"(?<![\d.,])(\d+),(\d+)(?![\d.,])", re.ASCII)
_AS_THOUSANDS = 3


def harmless(text: str) -> str:
    """
    The text with an apostrophe before it if a spreadsheet would take it for a formula.

    `plain` gives every text back exactly.

    Example:
        >>> harmless("=1+1"), harmless("RD"), plain(harmless("'=1"))
        ("'=1+1", 'RD', "'=1")
    """
    return f"'{text}" if _looks_live(text) else text


def plain(text: str) -> str:
    """The text without the apostrophe that `harmless` put before it."""
    return text[1:] if text.startswith("'") and _looks_live(text) else text


def is_live(text: str) -> bool:
    """Whether a spreadsheet would take the text for a formula; no apostrophe guards it."""
    return _looks_live(text) and not text.startswith("'")


def _looks_live(text: str) -> bool:
    """An apostrophe in front must make no difference, or `plain` could not undo `harmless`."""
    if text[:1].isalnum():  # most texts, told sooner
        return False
    first = text.lstrip("'")[:1]
    return first in ("\t", "\r") or text.lstrip("' \t\r\n")[:1] in tuple(_LIVE)


def decimal_point(text: str, *, is_european: bool = False) -> str:
    """
    The text with decimal points for decimal commas.

    A comma before three digits may part the thousands; it stays, for the reader of the quantity to
    refuse, unless the file itself shows that commas are decimal (`is_european`).

    Example:
        >>> decimal_point("1,35 ohm"), decimal_point("1,350 m")
        ('1.35 ohm', '1,350 m')
    """

    def with_point(match: re.Match[str]) -> str:
        if len(match[2]) == _AS_THOUSANDS and not is_european:
            return match[0]
        return f"{match[1]}.{match[2]}"

    return _COMMA_NUMBER.sub(with_point, text)
