"""A kit as CSV and XLSX: figures as figures, texts that no spreadsheet computes."""

from collections.abc import Iterator, Sequence
from datetime import date

from upgrade_planner.configuration.tables.cells import Cell
from upgrade_planner.configuration.tables.csv_files import csv_text
from upgrade_planner.configuration.tables.workbooks import WorkbookSheet, workbook_bytes
from upgrade_planner.documents.kit.bag_pages import bag_title, place_words, sheet_words
from upgrade_planner.documents.kit.kit_page import article_words, prices_words
from upgrade_planner.documents.kit.kit_views import KitView
from upgrade_planner.documents.kit.kit_words import alternative_words, excluding_words, why_words
from upgrade_planner.documents.shared.money_cells import money_cells
from upgrade_planner.documents.words.amounts import exact_text
from upgrade_planner.documents.words.articles import words_of
from upgrade_planner.errors import printable
from upgrade_planner.kit.cut_lines import cut_lines
from upgrade_planner.kit.orders import OrderLine
from upgrade_planner.kit.packing import Kit

COLUMNS = (
    "shelf",
    "article",
    "number",
    "unit",
    "needed",
    "to pack",
    "in stock",
    "missing",
    "sold by",
    "selling units",
    "left over",
    "price",
    "amount",
    "currency",
    "prices from",
    "open",
    "remark",
    "alternatives",
    "shelf place",
    "lead days",
    "on shelf",
)
PAPER_COLUMNS = ("job", "list", "date", "check code")
"""Of the CSV file, the same in each row, so that rows of several orders can stand together."""
BAG_COLUMNS = (
    "bag",
    "for",
    "place",
    "sheet",
    "article",
    "number",
    "unit",
    "to pack",
    "in stock",
    "missing",
    "pieces",
    "used for",
)
CUT_COLUMNS = ("article", "number", "reel", "reel m", "piece m", "wire", "bag")


def order_rows(kit: Kit) -> Iterator[tuple[Cell, ...]]:
    """One row a line of the order; None where there is no figure, never zero instead of it."""
    for line in kit.order.lines:
        yield tuple(_order_cells(line, kit))


def _order_cells(line: OrderLine, kit: Kit) -> Iterator[Cell]:
    first, listed, sale = line.articles[0], line.line, line.sale
    yield from (first.shelf, article_words(line), listed.number if listed else "", first.unit)
    yield from (line.needed, line.to_pack, line.in_stock, line.missing)
    sold = sale.line if sale else listed
    yield str(sold.sold_by) if sold else ""
    yield from (sale.units, sale.off_cut) if sale else (None, None)
    yield sold.price if sold else None
    yield from (sale.amount if sale else None, kit.order.currency, prices_words(kit))
    yield "" if not line.is_open else "no article" if listed is None else "no price"
    yield why_words(line)
    yield "; ".join(
        f"{other.line.number}: {alternative_words(other)}" for other in line.alternatives
    )
    yield from (
        (listed.shelf_place, listed.lead_days, listed.in_stock) if listed else ("", None, None)
    )


def bag_rows(kit: Kit) -> Iterator[tuple[Cell, ...]]:
    """One row an article of a bag."""
    for number, bag in enumerate(kit.order.bags, start=1):
        for line in bag.lines:
            yield (
                number,
                bag_title(kit, bag),
                place_words(kit, bag),
                sheet_words(kit, bag),
                words_of(line.article),
                line.line.number if line.line else "",
                line.article.unit,
                line.to_pack,
                line.in_stock,
                line.missing,
                " + ".join(exact_text(piece) for piece in line.pieces),
                ", ".join(line.wires),
            )


def cut_rows(kit: Kit) -> Iterator[tuple[Cell, ...]]:
    """One row a piece of cable."""
    for cutting in cut_lines(kit):
        listed = cutting.line.line
        for number, reel in enumerate(cutting.reels, start=1):
            for piece in reel.pieces:
                yield (
                    article_words(cutting.line),
                    listed.number if listed else "",
                    f"{number} ({reel.source})",
                    reel.length,
                    piece.length,
                    piece.wire,
                    piece.bag or None,
                )


def kit_csv(kit: Kit, view: KitView) -> str:
    """The lines of the order as CSV text, with a decimal point."""
    papers = ("; ".join(job.name for job in kit.jobs), view.number, view.date, view.code)
    rows = ((*row, *papers) for row in order_rows(kit))
    return csv_text([(*COLUMNS, *PAPER_COLUMNS), *_printable(rows)])


def kit_xlsx(kit: Kit, view: KitView, issued: date, paper: str = "A4") -> bytes:
    """The order, its bags and its cutting list as a workbook; equal input gives equal bytes."""
    sheets = (
        WorkbookSheet(
            title="Order",
            rows=(COLUMNS, *_printable(order_rows(kit))),
            is_list=True,
            money=_columns_of(COLUMNS, "price", "amount"),
            currency=money_cells(kit.currency, kit.order.currency),
            total=_total(kit),
        ),
        WorkbookSheet(title="Bags", rows=(BAG_COLUMNS, *_printable(bag_rows(kit))), is_list=True),
        WorkbookSheet(
            title="Cutting",
            rows=(CUT_COLUMNS, *_printable(cut_rows(kit))),
            is_list=True,
            metres=_columns_of(CUT_COLUMNS, "reel m", "piece m"),
        ),
    )
    footer = f"{view.number}, check code {view.code}, {view.date}"
    return workbook_bytes(sheets, issued, paper=paper, footer=footer)


def _columns_of(columns: Sequence[str], *names: str) -> tuple[int, ...]:
    return tuple(map(columns.index, names))


def _total(kit: Kit) -> tuple[Cell, ...]:
    """The row below the order; "" for an empty one."""
    order = kit.order
    if not order.lines:
        return ()
    told: dict[str, Cell] = {
        "article": "Total",
        "amount": order.total,
        "currency": order.currency,
        "remark": excluding_words(order),
    }
    return tuple(told.get(name) for name in COLUMNS)


def _printable(rows: Iterator[tuple[Cell, ...]]) -> Iterator[tuple[Cell, ...]]:
    for row in rows:
        yield tuple(printable(cell) if isinstance(cell, str) else cell for cell in row)
