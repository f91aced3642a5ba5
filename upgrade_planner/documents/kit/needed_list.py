"""What a kit needs and the price list has not, as rows of such a list: to fill, and to copy in."""

from collections.abc import Iterator
from datetime import date

from upgrade_planner.configuration.tables.cells import Cell
from upgrade_planner.configuration.tables.csv_files import csv_text
from upgrade_planner.configuration.tables.workbooks import WorkbookSheet, workbook_bytes
from upgrade_planner.kit.articles import EACH, METRE, Article
from upgrade_planner.kit.orders import OrderLine
from upgrade_planner.kit.packing import Kit
from upgrade_planner.kit.prices.list_style import ListStyle
from upgrade_planner.kit.prices.price_columns import trait_columns
from upgrade_planner.kit.prices.price_list import SoldBy

TO_FILL = ("number", "price", "stock", "supplier", "supplier_number", "lead_days", "shelf_place")
"""Columns that only the shop knows."""

NEEDED, UNIT = "needed", "needed_unit"
"""Columns beyond those of a price list: a list that they are copied into keeps them."""

_ROW = ("number", "article", *trait_columns(), "sold_by", "contains", *TO_FILL[1:])


def needed_rows(kit: Kit, style: ListStyle) -> Iterator[tuple[Cell, ...]]:
    """
    The row of titles, and one row an article.

    Args:
        kit: The order; of the invented list no line counts.
        style: Whose titles, words and decimal mark are written.
    """
    articles = tuple(_unlisted(kit))
    traits = {name for one, _ in articles for name, value in one.traits if value}
    columns = [name for name in _ROW if name not in trait_columns() or name in traits]
    yield (*(style.said(name) for name in columns), NEEDED, UNIT)
    for one, line in articles:
        known = _known(one, style)
        quantity = line.to_pack if len(line.articles) == 1 else None
        yield (*(known.get(name, "") for name in columns), quantity, one.unit)


def _unlisted(kit: Kit) -> Iterator[tuple[Article, OrderLine]]:
    for line in kit.order.lines:
        if kit.is_demo or line.line is None:
            yield from ((one, line) for one in line.articles)


def _known(one: Article, style: ListStyle) -> dict[str, Cell]:
    sold_by = {METRE: SoldBy.METRE, EACH: SoldBy.EACH}.get(one.unit, SoldBy.PACK)
    found: dict[str, Cell] = {name: _written(value, style) for name, value in one.traits}
    found |= {"article": style.said(one.sort), "sold_by": style.said(sold_by)}
    return found


def _written(trait: str, style: ListStyle) -> str:
    """With the decimal mark of the list: else a spreadsheet takes 1.5 for a day in May."""
    return trait.replace(".", ",") if style.mark == "," and trait[:1].isdigit() else trait


def needed_csv(kit: Kit, style: ListStyle) -> str:
    """The rows as CSV text, parted as the shop's list is."""
    return csv_text(needed_rows(kit, style), mark=style.mark or ".")


def needed_xlsx(kit: Kit, style: ListStyle, issued: date, paper: str) -> bytes:
    """The rows as a workbook."""
    sheet = WorkbookSheet(title="Needed", rows=tuple(needed_rows(kit, style)), is_list=True)
    return workbook_bytes((sheet,), issued, paper=paper)


def needed_count(kit: Kit) -> int:
    """Rows below the titles."""
    return sum(1 for _ in _unlisted(kit))
