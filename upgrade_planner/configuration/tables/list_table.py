"""
Rows of a long list from CSV or XLSX, as texts; what a cell means is for the caller to say.

Numbers of an XLSX cell come with the decimal mark of the list, so that both files are read by the
same rules.
"""

from collections.abc import Iterable, Iterator
from datetime import date, time
from typing import Any

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.texts import decoded
from upgrade_planner.configuration.tables.csv_files import NoTable, csv_rows, separator_of
from upgrade_planner.configuration.tables.workbooks import Formula, workbook_rows
from upgrade_planner.errors import ConfigurationError, Problem

MOST_ROWS = 200_000
"""Source: our assumption; four times the largest list that a parts counter is likely to have."""

MOST_COLUMNS = 200

REFUSED = "\0"
"""Stands for a cell that has been refused already."""

_WANTED = "a price list: a row of column names, then one article a row"


@frozen
class ListTable:
    """
    Rows that are not empty.

    Attributes:
        rows: Line of the file, from 1, and its cells; the first row has the column names.
        problems: Cells that hold no plain value.
    """

    file: str
    rows: tuple[tuple[int, tuple[str, ...]], ...]
    problems: tuple[Problem, ...] = ()


def table_of(file: str, content: bytes, mark: str) -> ListTable:
    """
    The rows of a list; XLSX if the content is packed as such, else CSV.

    Args:
        file: Its name, for messages.
        content: All of it.
        mark: Decimal mark of the list.

    Raises:
        ConfigurationError: neither CSV in UTF-8 nor XLSX, nothing in it, or too much.
    """
    if content.startswith(b"PK\3\4"):
        return _gathered(file, workbook_rows(file, content), mark)
    return _gathered(file, _csv_rows(file, content), mark)


def _gathered(file: str, found: Iterable[tuple[int, Iterable[Any]]], mark: str) -> ListTable:
    rows: list[tuple[int, tuple[str, ...]]] = []
    problems: list[Problem] = []
    for line, cells in found:
        texts = tuple(
            cell.strip()
            if type(cell) is str
            else _value(cell, file, (line, number), mark, problems)
            for number, cell in enumerate(cells, 1)
        )
        if any(texts):
            rows.append((line, texts))
        if len(rows) > MOST_ROWS or len(texts) > MOST_COLUMNS:
            raise _refused(
                file,
                "more cells than any price list has",
                f"at most {MOST_ROWS} rows and {MOST_COLUMNS} columns",
            )
    if not rows:
        raise _refused(file, "rows without anything in them")
    return ListTable(file, tuple(rows), tuple(problems))


def _refused(file: str, found: str, expected: str = _WANTED) -> ConfigurationError:
    return ConfigurationError([Problem(file=file, found=found, expected=expected)])


def _csv_rows(file: str, content: bytes) -> Iterator[tuple[int, list[str]]]:
    text = decoded(file, content)
    try:
        yield from csv_rows(text, separator_of(text))
    except NoTable as error:
        raise _refused(file, f"no table from line {error.line} on ({error})") from error


def _value(
    value: Any, file: str, place: tuple[int, int], mark: str, problems: list[Problem]
) -> str:
    match value:
        case None:
            return ""
        case bool() | Formula() | date() | time():
            found = {bool: "true or false", Formula: "a formula"}.get(type(value), "a date or time")
        case int() | float():
            # Fifteen digits are what a spreadsheet shows; 0.1+0.2 stays 0.3.
            return f"{value:.15g}".replace(".", mark)
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
