"""
Room of rows and columns of a workbook, so that it prints as it is opened: no program is relied on
to make a row as high as its text.
"""

import textwrap
from collections.abc import Iterable, Sequence

LINE_HEIGHT = 15.0
"""Height of a line of 11 pt type, points. Source: ECMA-376, part 1, 18.3.1.81, an example."""

_NARROWEST = 6
_WIDEST_IN_LIST = 48
_WIDEST = 84
"""A list is printed across the page, so its columns are narrower than lines of running text."""


def column_widths(rows: Iterable[Sequence[str]], is_list: bool) -> list[int]:
    """
    Width of each column, in characters.

    Args:
        rows: Texts as shown, the head of a list first; its words may stand below one another.
        is_list: False for running text, whose first column is wide.
    """
    widths: list[int] = []
    for number, row in enumerate(rows):
        for column, text in enumerate(row):
            if column == len(widths):
                widths.append(_NARROWEST)
            head = is_list and number == 0
            needed = max(map(len, text.split()), default=0) + 3 if head else len(text) + 2
            widths[column] = max(widths[column], needed)
    wide = _WIDEST_IN_LIST
    return [min(w, wide if is_list or column else _WIDEST) for column, w in enumerate(widths)]


def row_height(texts: Sequence[str], widths: Sequence[int]) -> float:
    """Height of a row in points: lines of the longest text in its column."""
    pairs = zip(texts, widths, strict=False)
    return LINE_HEIGHT * max((_lines(text, width) for text, width in pairs), default=1)


def _lines(text: str, width: int) -> int:
    return sum(max(len(textwrap.wrap(part, width)), 1) for part in text.split("\n"))
