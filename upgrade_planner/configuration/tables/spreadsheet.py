"""
Rows of a spreadsheet as people save them: separators, decimal commas, marks, stray empty cells.

Pure text in and values out; a fault has row and column, and the caller says what a cell means.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import islice

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.faults import one_of, quoted
from upgrade_planner.configuration.tables.cells import plain
from upgrade_planner.configuration.tables.csv_files import (
    COMMA_HINT,
    NoTable,
    csv_rows,
    separator_of,
)
from upgrade_planner.errors import ConfigurationError, Problem

LARGEST_TABLE = 5000
"""Rows; our assumption, no vehicle has as many wires."""


@frozen
class Row:
    """
    One row that is not empty.

    Attributes:
        line: Line of the file it begins in, from 1.
        cells: Text of each cell that is not empty, by the name of its column; as typed, but
            without the apostrophe of `harmless`.
        columns: Number of each column, from 1.
        page: Page of a filled PDF, from 1; 0 for other files.
    """

    file: str
    line: int
    cells: Mapping[str, str]
    columns: Mapping[str, int]
    page: int = 0

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
            page=self.page,
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


def column_names(text: str) -> tuple[str, ...]:
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
    except NoTable as error:
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
    mark = separator_of(text)
    return mark, list(islice(csv_rows(text, mark), LARGEST_TABLE * 2))


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
    if not counted.keys() & set(known):  # another file: none of its cells are shown
        found, expected = "no column of such a table", f"the columns {', '.join(needed)}"
        return [Problem(file=file, line=line, column=1, found=found, expected=expected)]
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
        expected=f"{len(header)}, as in the row of column names; {COMMA_HINT}",
    )
