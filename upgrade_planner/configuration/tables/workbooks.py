"""
Workbooks of several sheets as XLSX content: no text becomes a formula, same rows same bytes.

For a list of one sheet see `kit.spreadsheet_writing`.
"""

import io
import re
import zipfile
from collections.abc import Sequence
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from attrs import frozen

from upgrade_planner.configuration.tables.spreadsheet import harmless

Cell = str | Decimal | int | None

MOST_TITLE = 31
"""Longest name of a sheet. Source: limit of the file format, from memory."""

_WIDTHS = (8, 60)
_OLDEST = (1980, 1, 1, 0, 0, 0)
_MODIFIED = re.compile(rb"(<dcterms:modified[^>]*>)[^<]*(</dcterms:modified>)")


@frozen(kw_only=True)
class Sheet:
    """
    One sheet.

    Attributes:
        title: Name on its tab, shortened if need be.
        rows: Cells; amounts of money as Decimal.
        headings: Numbers of the rows, from 0, that are printed bold.
        decimals: Digits after the mark of Decimal cells, at least.
    """

    title: str
    rows: tuple[tuple[Cell, ...], ...]
    headings: tuple[int, ...] = (0,)
    decimals: int = 2


def workbook_bytes(sheets: Sequence[Sheet], issued: date) -> bytes:
    """
    The sheets as an XLSX file.

    A number cell is a binary number in every such file; up to fifteen digits read back exactly.

    Args:
        sheets: At least one.
        issued: The only date that enters the file.
    """
    from openpyxl import Workbook

    book = Workbook()
    book.remove(book.worksheets[0])  # it comes with one
    for sheet in sheets:
        _fill(book.create_sheet(sheet.title[:MOST_TITLE]), sheet)
    book.properties.creator = "upgrade-planner"
    book.properties.created = datetime(issued.year, issued.month, issued.day)
    content = io.BytesIO()
    book.save(content)
    return undated(content.getvalue(), issued)


def _fill(page: Any, sheet: Sheet) -> None:
    from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE
    from openpyxl.styles import Alignment, Font
    from openpyxl.utils import get_column_letter

    bold, wrapped = Font(bold=True), Alignment(vertical="top", wrap_text=True)
    widths: dict[int, int] = {}
    for number, row in enumerate(sheet.rows):
        for column, value in enumerate(row, 1):
            if value is None:
                continue
            cell = page.cell(number + 1, column)
            if isinstance(value, str):
                cell.value = ILLEGAL_CHARACTERS_RE.sub(" ", harmless(value))
                cell.data_type = "s"
                cell.alignment = wrapped
            else:
                cell.value = value
                cell.number_format = _format(value, sheet.decimals)
            if number in sheet.headings:
                cell.font = bold
            widths[column] = max(widths.get(column, 0), len(str(value)) + 2)
    for column, width in widths.items():
        low, high = _WIDTHS
        page.column_dimensions[get_column_letter(column)].width = min(max(width, low), high)


def _format(value: Decimal | int, decimals: int) -> str:
    if isinstance(value, int):
        return "0"
    exponent = value.as_tuple().exponent
    digits = max(decimals, -exponent if isinstance(exponent, int) else 0)
    return f"0.{'0' * digits}" if digits else "0"


def undated(content: bytes, issued: date) -> bytes:
    """The same XLSX file with the date of issue in place of the time at which it was packed."""
    packed = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(content)) as old,
        zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as new,
    ):
        for name in old.namelist():
            part = old.read(name)
            if name == "docProps/core.xml":
                stamp = f"{issued.isoformat()}T00:00:00Z".encode()
                part = _MODIFIED.sub(rb"\g<1>" + stamp + rb"\g<2>", part)
            info = zipfile.ZipInfo(name, _OLDEST)
            info.compress_type = zipfile.ZIP_DEFLATED
            info.external_attr = 0o600 << 16
            new.writestr(info, part)
    return packed.getvalue()
