"""
Rows of a long list from CSV or XLSX, as texts; what a cell means is for the caller to say.

Numbers of an XLSX cell are told from texts (`CellNumber`): whatever decimal mark the texts have,
they have a point.
"""

import re
from collections.abc import Iterable, Iterator
from datetime import date, time
from typing import Any

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.texts import decoded, refused
from upgrade_planner.configuration.tables.cells import CellNumber
from upgrade_planner.configuration.tables.csv_files import (
    BYTE_ORDER_MARK,
    NoTable,
    csv_rows,
    separator_of,
)
from upgrade_planner.configuration.tables.workbooks import Formula, workbook_rows
from upgrade_planner.errors import ConfigurationError, Problem

MOST_ROWS = 200_000
"""Source: our assumption; four times the largest list that a parts counter is likely to have."""

MOST_COLUMNS = 200

REFUSED = "\0"
"""Stands for a cell that has been refused already."""

WESTERN = "cp1252"
"""What spreadsheets of Western Europe save as CSV where they do not save UTF-8."""

_MISREAD = re.compile("[ÂÃâ][\x80-\xbf€-™]")
"""Two bytes of UTF-8 taken for two signs of CP1252."""

_WANTED = "a price list: a row of column names, then one article a row"


Row = tuple[int, tuple[str, ...]]
"""Line of the file, from 1, and the texts of its cells."""


@frozen
class ListTable:
    """
    Rows that are not empty.

    Attributes:
        rows: The first one has the column names.
        problems: Cells that hold no plain value.
    """

    file: str
    rows: tuple[Row, ...]
    problems: tuple[Problem, ...] = ()


def table_of(file: str, content: bytes, encoding: str = "") -> ListTable:
    """
    The rows of a list; XLSX if the content is packed as such, else CSV.

    Args:
        file: Its name, for messages.
        content: All of it.
        encoding: Of a CSV; "" for UTF-8, UTF-16 with its mark, or else CP1252.

    Raises:
        ConfigurationError: neither CSV in that encoding nor XLSX, nothing in it, or too much.
    """
    problems: list[Problem] = []
    if content.startswith(b"PK\3\4"):
        found = workbook_rows(file, content)
        rows = _gathered(file, ((n, _texts_of(cells, file, n, problems)) for n, cells in found))
    else:
        read = _csv_rows(file, content, encoding)
        rows = _gathered(file, ((n, tuple(map(str.strip, cells))) for n, cells in read))
    return ListTable(file, rows, tuple(problems))


def _texts_of(
    cells: Iterable[Any], file: str, line: int, problems: list[Problem]
) -> tuple[str, ...]:
    """The cells of a row of a workbook."""
    return tuple(
        cell.strip() if type(cell) is str else _value(cell, file, (line, number), problems)
        for number, cell in enumerate(cells, 1)
    )


def _gathered(file: str, found: Iterable[Row]) -> tuple[Row, ...]:
    """The rows that have anything in them."""
    rows: list[Row] = []
    for line, texts in found:
        if any(texts):
            rows.append((line, texts))
        if len(rows) > MOST_ROWS or len(texts) > MOST_COLUMNS:
            most = f"at most {MOST_ROWS} rows and {MOST_COLUMNS} columns"
            raise ConfigurationError([refused(file, "more cells than any price list has", most)])
    if not rows:
        raise ConfigurationError([refused(file, "rows without anything in them", _WANTED)])
    return tuple(rows)


def _csv_rows(file: str, content: bytes, encoding: str) -> Iterator[tuple[int, list[str]]]:
    text = list_text(file, content, encoding)
    try:
        yield from csv_rows(text, separator_of(text))
    except NoTable as error:
        found = f"no table from line {error.line} on ({error})"
        raise ConfigurationError([refused(file, found, _WANTED)]) from error


def list_text(file: str, content: bytes, encoding: str = "") -> str:
    """
    Text of a list.

    Raises:
        ConfigurationError: it is not in the encoding that is said, or in none that is recognised.
    """
    if not encoding:
        try:
            return decoded(file, content)
        except ConfigurationError:
            text = _western(content)
            if text is None:
                raise
            return text
    try:
        return content.decode(encoding).removeprefix(BYTE_ORDER_MARK)
    except UnicodeDecodeError as error:
        found = f"byte 0x{content[error.start]:02X}, which is not {encoding} text"
        expected = f"one of {WESTERN} and the other encodings that the settings may name"
        raise ConfigurationError([refused(file, found, expected)]) from error


def _western(content: bytes) -> str | None:
    """The text as CP1252; None if that makes no sense, for a spoilt UTF-8 file is none."""
    if b"\0" in content:
        return None
    try:
        text = content.decode(WESTERN)
    except UnicodeDecodeError:
        return None
    return None if _MISREAD.search(text) else text


def _value(value: Any, file: str, place: tuple[int, int], problems: list[Problem]) -> str:
    match value:
        case None:
            return ""
        case bool() | Formula() | date() | time():
            found = {bool: "true or false", Formula: "a formula"}.get(type(value), "a date or time")
        case int() | float():
            # Fifteen digits are what a spreadsheet shows; 0.1+0.2 stays 0.3.
            return CellNumber(f"{value:.15g}")
        case _:
            return str(value).strip()
    problems.append(
        Problem(
            file=file,
            line=place[0],
            column=place[1],
            found=found,
            expected="a plain value; paste formulas as values",
        )
    )
    return REFUSED
