"""
Rows of values as CSV or XLSX content, safe to open: no text becomes a formula.

Pure values to bytes; `documents.writing` puts them into files.
"""

import csv
import io
from collections.abc import Iterable, Sequence
from decimal import Decimal

from upgrade_planner.configuration.tables.spreadsheet import harmless

Cell = str | Decimal | int | None


def csv_bytes(rows: Iterable[Sequence[Cell]], *, mark: str = ".") -> bytes:
    """
    Rows as CSV in UTF-8; with decimal commas the cells are parted by semicolons.

    Args:
        rows: The first one has the column names.
        mark: Decimal mark, `.` or `,`.
    """
    text = io.StringIO()
    writer = csv.writer(text, delimiter=";" if mark == "," else ",", lineterminator="\r\n")
    for row in rows:
        writer.writerow([_text(cell, mark) for cell in row])
    return text.getvalue().encode()


def _text(cell: Cell, mark: str) -> str:
    match cell:
        case None:
            return ""
        case str():
            return harmless(cell)
    return f"{cell:f}".replace(".", mark) if isinstance(cell, Decimal) else str(cell)


def xlsx_bytes(rows: Iterable[Sequence[Cell]], title: str = "list") -> bytes:
    """
    Rows as an XLSX file with one sheet; numbers are number cells, texts are never formulas.

    Args:
        rows: The first one has the column names.
        title: Name of the sheet.
    """
    from openpyxl import Workbook
    from openpyxl.cell import WriteOnlyCell
    from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE

    book = Workbook(write_only=True)
    sheet = book.create_sheet(title)
    for row in rows:
        cells = []
        for value in row:
            if isinstance(value, str):
                cell = WriteOnlyCell(sheet, ILLEGAL_CHARACTERS_RE.sub(" ", harmless(value)))
                cell.data_type = "s"
            else:
                # A number cell is a float in the file whatever is given; fifteen digits stay exact.
                cell = WriteOnlyCell(sheet, None if value is None else float(value))
            cells.append(cell)
        sheet.append(cells)
    content = io.BytesIO()
    book.save(content)
    return content.getvalue()
