"""
Rows of a spreadsheet as people save them: separators, decimal commas, marks, stray empty cells.

Pure text in and values out; a fault has row and column, and the caller says what a cell means.
"""

import csv
import io
import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import islice

from attrs import frozen

from upgrade_planner.configuration.files.faults import one_of, quoted
from upgrade_planner.errors import ConfigurationError, Problem

SEPARATORS = {",": "commas", ";": "semicolons", "\t": "tabs"}
LARGEST_TABLE = 5000
"""Rows; our assumption, no vehicle has as many wires."""

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


def _looks_live(text: str) -> bool:
    """An apostrophe in front must make no difference, or `plain` could not undo `harmless`."""
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


@frozen
class Row:
    """
    One row that is not empty.

    Attributes:
        line: Line of the file it begins in, from 1.
        cells: Text of each cell that is not empty, by the name of its column; as typed, but
            without the apostrophe of `harmless`.
        columns: Number of each column, from 1.
    """

    file: str
    line: int
    cells: Mapping[str, str]
    columns: Mapping[str, int]

    def problem(self, column: str, found: str, expected: str, subject: str = "") -> Problem:
        """What is wrong with one cell."""
        named = f"{subject}, {column}" if subject else column
        return Problem(
            file=self.file,
            line=self.line,
            column=self.columns.get(column, 1),
            subject=named,
            found=found,
            expected=expected,
        )


@frozen
class Table:
    """
    A whole file.

    Attributes:
        is_european: True if its cells are not parted by commas, so that commas are decimal.
    """

    file: str
    header: tuple[str, ...]
    rows: tuple[Row, ...]
    is_european: bool


def header_of(text: str) -> tuple[str, ...]:
    """The column names of a table, small letters; empty if there are none."""
    _, lines = _parted(text)
    first = next(iter(lines), (1, []))[1]
    return tuple(_column_name(cell) for cell in first if cell.strip())


def read_table(
    file: str, text: str, known: Sequence[str], needed: Iterable[str], wanted: str
) -> Table:
    """
    The rows of a spreadsheet.

    Args:
        file: Its name, for messages.
        text: Its content, byte order mark or not.
        known: Columns it may have, in any order.
        needed: Columns it must have.
        wanted: What the file should be, such as `a filled survey form`.

    Raises:
        ConfigurationError: no table, unknown, missing or repeated columns, cells without a column;
            all of them.
    """
    try:
        mark, lines = _parted(text)
    except csv.Error as error:
        raise ConfigurationError(
            [Problem(file=file, found=f"no table ({error})", expected=wanted)]
        ) from error
    if not lines:
        raise ConfigurationError(
            [Problem(file=file, found="rows without anything in them", expected=wanted)]
        )
    (line, cells), *body = lines
    header = _trimmed([_column_name(cell) for cell in cells])
    problems = _header_problems(file, line, header, known, needed)
    if not problems:
        problems = [
            _stray(file, row, header) for row in body if len(_trimmed(row[1])) > len(header)
        ]
    if len(body) > LARGEST_TABLE:
        problems.append(
            Problem(file=file, found=f"{len(body)} rows", expected=f"at most {LARGEST_TABLE}")
        )
    if problems:
        raise ConfigurationError(problems)
    rows = tuple(_row(file, number, row, header) for number, row in body)
    return Table(file, tuple(header), rows, is_european=mark != ",")


def _parted(text: str) -> tuple[str, list[tuple[int, list[str]]]]:
    """The separator and every row that is not empty, with the line it begins in."""
    text = text.removeprefix("\N{BYTE ORDER MARK}")
    first = next((line for line in text.splitlines() if line.strip(" ,;\t\"'")), "")
    mark = max(SEPARATORS, key=first.count)  # the first wins if none occurs
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=mark)
    lines, line = [], 1
    for cells in islice(reader, LARGEST_TABLE * 2):
        if any(cell.strip() for cell in cells):
            lines.append((line, cells))
        line = reader.line_num + 1
    return mark, lines


def _column_name(cell: str) -> str:
    return "_".join(plain(cell.strip()).lower().split())


def _trimmed(cells: list[str]) -> list[str]:
    """Without the empty cells at the end that spreadsheets leave."""
    while cells and not cells[-1].strip():
        cells = cells[:-1]
    return cells


def _row(file: str, line: int, cells: list[str], header: list[str]) -> Row:
    pairs = zip(header, cells, strict=False)
    held = {name: plain(cell) for name, cell in pairs if name and cell.strip()}
    return Row(file, line, held, {name: n for n, name in enumerate(header, 1) if name})


def _header_problems(
    file: str, line: int, header: list[str], known: Sequence[str], needed: Iterable[str]
) -> list[Problem]:
    counted = Counter(header)
    problems = []
    for number, name in enumerate(header, 1):
        found = expected = ""
        if not name:
            found, expected = "a column without a name", "a name, or no column"
        elif name not in known:
            found, expected = f"unknown column {quoted(name)}", one_of(name, known, limit=40)
        elif counted[name] > 1 and name in header[: number - 1]:
            found, expected = f"column {quoted(name)} a second time", "each column once"
        if found:
            problems.append(
                Problem(file=file, line=line, column=number, found=found, expected=expected)
            )
    missing = [name for name in needed if name not in counted]
    if missing:
        words = ", ".join(missing)
        problems.append(
            Problem(
                file=file,
                line=line,
                column=len(header),
                found=f"no column {words}",
                expected=f"the columns {', '.join(needed)}, and more if wanted",
            )
        )
    return problems


def _stray(file: str, row: tuple[int, list[str]], header: list[str]) -> Problem:
    line, cells = row
    return Problem(
        file=file,
        line=line,
        column=len(header) + 1,
        found=f"{len(_trimmed(cells))} cells in a row",
        expected=f"{len(header)}, as in the row of column names",
    )
