"""What `kit` and `quote` say when they are done."""

from collections.abc import Iterator
from pathlib import Path

from upgrade_planner.documents.kit.kit_page import DEMO
from upgrade_planner.documents.kit.kit_words import money_words
from upgrade_planner.documents.kit.needed_list import needed_count
from upgrade_planner.documents.quote.quote_views import QuoteView
from upgrade_planner.documents.words.amounts import exact_text
from upgrade_planner.documents.words.quantities import counted
from upgrade_planner.documents.words.wording import NBSP
from upgrade_planner.kit.packing import Kit, counted_pieces
from upgrade_planner.kit.prices.price_list import PriceList


def kit_line(target: Path, kit: Kit) -> str:
    """What was packed and what it costs."""
    order = kit.order
    total = money_words(order.total, order.currency, kit.currency)
    words = [
        counted(len(order.lines), "line"),
        f"{exact_text(counted_pieces(kit))} pieces",
        counted(len(order.bags), "bag"),
        f"{counted(sum(line.missing > 0 for line in order.lines), 'line')} short of stock",
        counted(len(order.open_lines), "open line"),
        f"total {total}" + (" without the open lines" if order.open_lines else ""),
    ]
    if kit.is_demo:
        words.append(DEMO)
    return f"{target}: {', '.join(words)}".replace(NBSP, " ")


def needed_line(target: Path, kit: Kit) -> str:
    """How many rows there are to fill."""
    rows = counted(needed_count(kit), "row")
    return f"{target}: {rows} to fill and copy into the price list".replace(NBSP, " ")


MOST_TOLD = 10
"""Faulty rows of a list that are told one by one. Source: our assumption."""


def list_lines(prices: PriceList) -> Iterator[str]:
    """What of a price list was not taken; nothing if all of it was."""
    count, more = len(prices.warnings), len(prices.warnings) - MOST_TOLD
    if prices.foreign_rows:
        rows = counted(prices.foreign_rows, "row")
        yield f"{prices.file}: {rows} of other goods skipped".replace(NBSP, " ")
    yield from map(str, prices.warnings[:MOST_TOLD])
    if more > 0:
        yield f"{prices.file}: {counted(more, 'more fault')}; --strict tells all".replace(NBSP, " ")
    if count:
        yield f"{prices.file}: a row with a fault is an open line, or left out"


def quotation_lines(target: Path, view: QuoteView) -> Iterator[str]:
    """The offers with their sums."""
    yield f"{target}: {counted(len(view.offers), 'offer')}"
    for offer in view.offers:
        excluding = f", {offer.open_words}" if offer.open_words else ""
        yield (
            f"  {offer.title}: {view.money(offer.to_pay)}, {offer.hours} h; enough in 80 of 100 "
            f"such jobs: {view.money(offer.covering)}{excluding}"
        ).replace(NBSP, " ")
