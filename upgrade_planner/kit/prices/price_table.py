"""
Rows of a price list from CSV or XLSX, as texts; what a cell means is decided in `price_lines`.

`shop` opens the file. Numbers of an XLSX cell come with the decimal mark of the list,
so that both files are read by the same rules.
"""

import csv
import io
import zipfile
from collections.abc import Iterable, Iterator
from datetime import date, time
from typing import Any

from attrs import frozen

from upgrade_planner.configuration.tables.spreadsheet import SEPARATORS
from upgrade_planner.errors import ConfigurationError, Problem

MOST_ROWS = 200_000
"""Source: our assumption; four times the largest list that a parts counter is likely to have."""

MOST_COLUMNS = 200
LARGEST_UNPACKED_BYTES = 600_000_000
"""Content of an XLSX file, which is packed. Source: our assumption."""

REFUSED = "\0"
"""Stands for a cell that has been refused already."""

_WANTED = "a price list: a row of column names, then one article a row"
_LIVE = tuple("=+-@\t\r")


@frozen
class PriceTable:
    """
    Rows that are not empty.

    Attributes:
        rows: Line of the file, from 1, and its cells; the first row has the column names.
        problems: Cells that hold no plain value.
    """

    file: str
    rows: tuple[tuple[int, tuple[str, ...]], ...]
    problems: tuple[Problem, ...] = ()


def table_of(file: str, content: bytes, mark: str) -> PriceTable:
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
        return _gathered(file, _xlsx_rows(file, content), mark)
    return _gathered(file, _csv_rows(file, content), mark)


def _gathered(file: str, found: Iterable[tuple[int, Iterable[Any]]], mark: str) -> PriceTable:
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
    return PriceTable(file, tuple(rows), tuple(problems))


def _refused(file: str, found: str, expected: str = _WANTED) -> ConfigurationError:
    return ConfigurationError([Problem(file=file, found=found, expected=expected)])


def _csv_rows(file: str, content: bytes) -> Iterator[tuple[int, list[str]]]:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        found = f"byte 0x{content[error.start]:02X}, which is not UTF-8 text"
        raise ConfigurationError(
            [
                Problem(
                    file=file,
                    line=line,
                    column=1,
                    found=found,
                    expected="a CSV file saved as UTF-8, or an XLSX file",
                )
            ]
        ) from error
    first = next((line for line in text.splitlines() if line.strip(" ,;\t\"'")), "")
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=max(SEPARATORS, key=first.count))
    line = 1
    try:
        for cells in reader:
            yield line, cells
            line = reader.line_num + 1
    except csv.Error as error:
        raise _refused(file, f"no table from line {line} on ({error})") from error


class _Formula:
    """A cell that a spreadsheet computes."""


def _xlsx_rows(file: str, content: bytes) -> Iterator[tuple[int, list[Any]]]:
    from openpyxl import load_workbook

    _refuse_bomb(file, content)
    try:
        book = load_workbook(io.BytesIO(content), read_only=True, data_only=False)
        sheet = book.worksheets[0]
        sheet.reset_dimensions()  # the file may claim a size that it does not have
        for number, cells in enumerate(sheet.iter_rows(), 1):
            yield number, [_Formula() if cell.data_type == "f" else cell.value for cell in cells]
    except ConfigurationError:
        raise
    except Exception as error:  # damaged files fail in many ways inside the reader
        raise _refused(
            file,
            "an XLSX file that cannot be opened",
            "a sound XLSX file, or a CSV file saved as UTF-8",
        ) from error


def _refuse_bomb(file: str, content: bytes) -> None:
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            unpacked = sum(entry.file_size for entry in packed.infolist())
    except zipfile.BadZipFile as error:
        raise _refused(file, "a damaged XLSX file", "a sound XLSX file, or a CSV file") from error
    if unpacked > LARGEST_UNPACKED_BYTES:
        raise _refused(
            file,
            f"an XLSX file that unpacks to {unpacked / 1e6:.0f} MB",
            f"at most {LARGEST_UNPACKED_BYTES / 1e6:.0f} MB",
        )


def _value(
    value: Any, file: str, place: tuple[int, int], mark: str, problems: list[Problem]
) -> str:
    match value:
        case None:
            return ""
        case bool() | _Formula() | date() | time():
            found = {bool: "true or false", _Formula: "a formula"}.get(
                type(value), "a date or time"
            )
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


def is_live(text: str) -> bool:
    """Whether a spreadsheet might take the text for a formula."""
    return text.startswith(_LIVE)
