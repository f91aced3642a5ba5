"""
XLSX workbooks in and out: what is read is a plain value or marked as none; no text that is written
becomes a formula, and the same rows give the same bytes.
"""

import io
import re
import zipfile
from collections.abc import Iterator, Sequence
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from attrs import frozen

from upgrade_planner.configuration.tables.cells import Cell, harmless
from upgrade_planner.errors import ConfigurationError, Problem

MOST_TITLE = 31
"""Longest name of a sheet. Source: limit of the file format, from memory."""

_WIDTHS = (8, 60)
_OLDEST = (1980, 1, 1, 0, 0, 0)
_MODIFIED = re.compile(rb"(<dcterms:modified[^>]*>)[^<]*(</dcterms:modified>)")


@frozen(kw_only=True)
class WorkbookSheet:
    """
    One sheet.

    Attributes:
        title: Name on its tab, shortened if need be.
        rows: Cells; amounts of money as Decimal.
        headings: Numbers of the rows, from 0, that are printed bold.
        decimals: Digits after the mark of Decimal cells, at least.
        is_list: True if the first row stays in sight when a person scrolls.
    """

    title: str
    rows: tuple[tuple[Cell, ...], ...]
    headings: tuple[int, ...] = (0,)
    decimals: int = 2
    is_list: bool = False


def workbook_bytes(sheets: Sequence[WorkbookSheet], issued: date) -> bytes:
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


def _fill(page: Any, sheet: WorkbookSheet) -> None:
    from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE
    from openpyxl.styles import Alignment, Font
    from openpyxl.utils import get_column_letter

    if sheet.is_list:
        page.freeze_panes = "A2"
    bold, wrapped = Font(bold=True), Alignment(vertical="top", wrap_text=True)
    widths: dict[int, int] = {}
    for number, row in enumerate(sheet.rows):
        for column, value in enumerate(row, 1):
            if value is None:
                continue
            cell = page.cell(number + 1, column)
            if isinstance(value, str):
                cell.value = harmless(ILLEGAL_CHARACTERS_RE.sub(" ", value))
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


# Reading ----------------------------------------------------------------------------------------

LARGEST_UNPACKED_BYTES = 600_000_000
"""Content of an XLSX file, which is packed. Source: our assumption."""


class Formula:
    """A cell that a spreadsheet computes."""


def workbook_rows(file: str, content: bytes) -> Iterator[tuple[int, list[Any]]]:
    """
    Rows of the first sheet, from 1, with the values of their cells; `Formula` for a computed one.

    Raises:
        ConfigurationError: no sound XLSX file, or one that unpacks to too much.
    """
    from openpyxl import load_workbook

    _refuse_bomb(file, content)
    try:
        book = load_workbook(io.BytesIO(content), read_only=True, data_only=False)
        sheet = book.worksheets[0]
        sheet.reset_dimensions()  # the file may claim a size that it does not have
        for number, cells in enumerate(sheet.iter_rows(), 1):
            yield number, [Formula() if cell.data_type == "f" else cell.value for cell in cells]
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


def _refused(file: str, found: str, expected: str) -> ConfigurationError:
    return ConfigurationError([Problem(file=file, found=found, expected=expected)])
