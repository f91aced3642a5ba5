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

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.tables.cells import Cell, harmless
from upgrade_planner.configuration.tables.workbook_room import column_widths, row_height
from upgrade_planner.errors import ConfigurationError, Problem

MOST_TITLE = 31
"""Longest name of a sheet. Source: limit of the file format, from memory."""

CREATOR = "upgrade-planner"
"""Who made a workbook, as its properties say."""

METRE_DIGITS = 2
"""A cut is read to the centimetre."""

_PAPERS = {"A4": 9, "Letter": 1}
"""Codes of the file format. Source: ECMA-376, part 1, 18.3.1.63, from memory."""

_OLDEST = (1980, 1, 1, 0, 0, 0)
_MODIFIED = re.compile(rb"(<dcterms:modified[^>]*>)[^<]*(</dcterms:modified>)")


@frozen(kw_only=True)
class MoneyCells:
    """How amounts are shown: what stands before and after them, and digits after the mark."""

    before: str = ""
    after: str = ""
    decimals: int = 2


@frozen(kw_only=True)
class WorkbookSheet:
    """
    One sheet.

    Attributes:
        title: Name on its tab, shortened if need be.
        rows: Cells; figures that are not whole as Decimal.
        headings: Numbers of the rows, from 0, that are printed bold.
        is_list: True if the first row names columns: it stays in sight when a person scrolls, is
            printed on every page, and has a filter.
        money, metres: Numbers of the columns, from 0, that hold amounts and lengths.
        currency: How amounts are shown.
        total: A row below the list, which the filter leaves alone.
    """

    title: str
    rows: tuple[tuple[Cell, ...], ...]
    headings: tuple[int, ...] = (0,)
    is_list: bool = False
    money: tuple[int, ...] = ()
    metres: tuple[int, ...] = ()
    currency: MoneyCells = MoneyCells()
    total: tuple[Cell, ...] = ()


def workbook_bytes(
    sheets: Sequence[WorkbookSheet], issued: date, *, paper: str = "A4", footer: str = ""
) -> bytes:
    """
    The sheets as an XLSX file.

    A number cell is a binary number in every such file; up to fifteen digits read back exactly.

    Args:
        sheets: At least one.
        issued: The only date that enters the file.
        paper: `A4` or `Letter`.
        footer: Printed below every page, beside its number.
    """
    from openpyxl import Workbook

    book = Workbook()
    book.remove(book.worksheets[0])  # it comes with one
    for sheet in sheets:
        page = book.create_sheet(sheet.title[:MOST_TITLE])
        _fill(page, sheet)
        _set_up(page, sheet, paper, footer)
    book.properties.creator = CREATOR
    book.properties.created = datetime(issued.year, issued.month, issued.day)
    content = io.BytesIO()
    book.save(content)
    return undated(content.getvalue(), issued)


def _fill(page: Any, sheet: WorkbookSheet) -> None:
    from openpyxl.utils import get_column_letter

    rows = (*sheet.rows, *((sheet.total,) if sheet.total else ()))
    shown = [[_shown(value, column, sheet) for column, value in enumerate(row)] for row in rows]
    widths = column_widths(shown, sheet.is_list)
    for column, width in enumerate(widths, 1):
        page.column_dimensions[get_column_letter(column)].width = width
    for number, row in enumerate(rows):
        page.row_dimensions[number + 1].height = row_height(shown[number], widths)
        for column, value in enumerate(row):
            if value is not None:
                _write(page.cell(number + 1, column + 1), value, column, sheet)
    for number in (*sheet.headings, *((len(sheet.rows),) if sheet.total else ())):
        _embolden(page[number + 1])
    if sheet.is_list:
        _rule_off(page, sheet)


def _write(cell: Any, value: str | int | Decimal, column: int, sheet: WorkbookSheet) -> None:
    from openpyxl.styles import Alignment

    if isinstance(value, str):
        cell.value, cell.data_type = _clean(value), "s"
        cell.alignment = Alignment(
            horizontal="left", vertical="top", wrap_text=True, indent=1 if column else 0
        )
    else:
        cell.value, cell.number_format = value, _format(value, column, sheet)
        cell.alignment = Alignment(vertical="top", horizontal="right")


def _embolden(cells: Sequence[Any]) -> None:
    from openpyxl.styles import Font

    for cell in cells:
        cell.font = Font(bold=True)


def _rule_off(page: Any, sheet: WorkbookSheet) -> None:
    """A line below the head and above the total; heads stand over their figures."""
    from openpyxl.styles import Alignment, Border, Side

    line = Side(style="thin")
    for cell in page[1]:
        cell.border = Border(bottom=line)
        if _has_figures(sheet, cell.column - 1):
            cell.alignment = Alignment(vertical="top", wrap_text=True, horizontal="right")
    if sheet.total:
        for cell in page[len(sheet.rows) + 1]:
            cell.border = Border(top=line)


def _has_figures(sheet: WorkbookSheet, column: int) -> bool:
    values = (row[column] for row in sheet.rows[1:] if column < len(row))
    return any(isinstance(value, int | Decimal) for value in values)


def _clean(text: str) -> str:
    from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE

    return harmless(ILLEGAL_CHARACTERS_RE.sub(" ", text))


def _shown(value: Cell, column: int, sheet: WorkbookSheet) -> str:
    """What a cell takes room for."""
    if value is None or isinstance(value, str):
        return value or ""
    number = f"{value:,.{_digits(value, column, sheet)}f}"
    money = sheet.currency if column in sheet.money else MoneyCells()
    return f"{money.before}{number} {money.after}".rstrip()


def _set_up(page: Any, sheet: WorkbookSheet, paper: str, footer: str) -> None:
    """What a person would set before printing: one page wide, heading and number on every page."""
    from openpyxl.worksheet.page import PageMargins

    if sheet.is_list:
        last = page.cell(max(len(sheet.rows), 1), max(map(len, sheet.rows)))
        page.freeze_panes = "A2"
        page.auto_filter.ref = f"A1:{last.coordinate}"
        page.print_title_rows = "1:1"
    page.page_margins = PageMargins(left=0.5, right=0.5, top=0.5, bottom=0.7)  # inches
    page.page_setup.orientation = "landscape" if sheet.is_list else "portrait"
    page.page_setup.paperSize = _PAPERS[paper]
    page.sheet_properties.pageSetUpPr.fitToPage = True
    page.page_setup.fitToHeight = 0  # as many pages as it takes
    page.oddFooter.left.text = footer.replace("&", "&&")
    page.oddFooter.right.text = "&P / &N"


def _format(value: Decimal | int, column: int, sheet: WorkbookSheet) -> str:
    digits = _digits(value, column, sheet)
    places = f".{'0' * digits}" if digits else ""
    if column not in sheet.money:
        return f"0{places}"
    before, after = (_literal(text) for text in (sheet.currency.before, sheet.currency.after))
    return f"{before}#,##0{places}{' ' if after else ''}{after}"


def _digits(value: Decimal | int, column: int, sheet: WorkbookSheet) -> int:
    """Digits after the mark: as many as the value has, and at least those of its column."""
    usual = METRE_DIGITS if column in sheet.metres else 0
    least = sheet.currency.decimals if column in sheet.money else usual
    exponent = value.as_tuple().exponent if isinstance(value, Decimal) else 0
    return max(least, -exponent if isinstance(exponent, int) else 0)


def _literal(text: str) -> str:
    """Text that a number format shows as it is."""
    return '"' + text.replace('"', "") + '"' if text else ""


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
