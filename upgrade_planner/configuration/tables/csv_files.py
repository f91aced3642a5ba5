"""CSV text in and out: the one reader of rows and the one writer, safe to open in a spreadsheet."""

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from upgrade_planner.configuration.tables.cells import Cell, harmless

SEPARATORS = {",": "commas", ";": "semicolons", "\t": "tabs"}

COMMA_HINT = "a cell with a comma in it, such as a decimal comma, stands in double quotes"

BYTE_ORDER_MARK = "\N{BYTE ORDER MARK}"


def separator_of(text: str) -> str:
    """The separator of a table: the most frequent one of its first row that says anything."""
    empty = f" ,;\t\"'{BYTE_ORDER_MARK}"
    first = next((line for line in text.splitlines() if line.strip(empty)), "")
    return max(SEPARATORS, key=first.count)  # the first wins if none occurs


def csv_rows(text: str, separator: str = ",") -> Iterator[tuple[int, list[str]]]:
    """
    Every row that is not empty, with the line it begins in, from 1.

    Raises:
        NoTable: the text cannot be parted into cells, from a line on.
    """
    text = text.removeprefix(BYTE_ORDER_MARK)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    line = 1
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                yield line, cells
            line = reader.line_num + 1
    except csv.Error as error:
        raise NoTable(line, str(error)) from error


class NoTable(ValueError):
    """
    Text that is no table.

    Attributes:
        line: Line from which on it cannot be read.
    """

    def __init__(self, line: int, why: str) -> None:
        self.line = line
        super().__init__(why)


def csv_text(rows: Iterable[Sequence[Cell]], *, mark: str = ".") -> str:
    """
    Rows as CSV text; with decimal commas the cells are parted by semicolons.

    Args:
        rows: The first one has the column names.
        mark: Decimal mark, `.` or `,`.
    """
    text = io.StringIO()
    # With this line end the writer quotes a cell that holds either of its characters.
    writer = csv.writer(text, delimiter=";" if mark == "," else ",", lineterminator="\r\n")
    writer.writerows([_written(cell, mark) for cell in row] for row in rows)
    return text.getvalue()


def csv_bytes(text: str) -> bytes:
    """
    Content of a CSV file.

    A byte order mark goes first: without it a spreadsheet that is opened by a double click takes
    the text for an older code page and spoils `mm²`, `Ω` and every accent.
    """
    return (BYTE_ORDER_MARK + text).encode()


def _written(cell: Cell, mark: str) -> str:
    match cell:
        case None:
            return ""
        case str():
            return harmless(cell)
        case Decimal():
            return f"{cell:f}".replace(".", mark)
    return str(cell)
