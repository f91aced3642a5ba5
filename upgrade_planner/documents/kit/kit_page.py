"""Fills the view of a kit: every word and number that its pages show."""

from collections.abc import Iterable, Iterator
from decimal import ROUND_FLOOR, Decimal
from itertools import groupby
from pathlib import Path

from upgrade_planner import __version__
from upgrade_planner.documents.kit.bag_pages import bag_view
from upgrade_planner.documents.kit.kit_views import (
    BackRow,
    CutGroup,
    KitJobRow,
    KitView,
    OpenRow,
    PickLine,
    PickShelf,
    ReelRow,
)
from upgrade_planner.documents.kit.kit_words import (
    alternative_words,
    excluding_words,
    money_words,
    needed_lines,
    used_for_words,
    why_words,
)
from upgrade_planner.documents.kit.scanned import qr_code
from upgrade_planner.documents.words.amounts import (
    CENTIMETRE,
    amount_words,
    cut_words,
    exact_text,
    number_words,
    reel_words,
    unit_words,
)
from upgrade_planner.documents.words.articles import words_of
from upgrade_planner.documents.words.needs import needs_heading
from upgrade_planner.documents.words.quantities import counted
from upgrade_planner.documents.words.shelves import SHELVES
from upgrade_planner.documents.words.wording import NBSP, role_words
from upgrade_planner.kit.articles import EACH, METRE, sorts, totals
from upgrade_planner.kit.cut_lines import SPARE, CutLine, CutReel, cut_lines
from upgrade_planner.kit.orders import OrderLine
from upgrade_planner.kit.packing import Kit, Piece, PlannedJob, check_code, counted_pieces
from upgrade_planner.kit.prices.price_list import PriceLine, PriceList, SoldBy
from upgrade_planner.kit.selling import Sale

DEMO = "invented demo prices"
LONGEST_OWN = 30
"""Characters of a shop's own column that are printed. Source: our assumption."""

BY_PLACE = "By place on the shelves; what has none comes last"


def kit_view(
    kit: Kit,
    *,
    date: str,
    units: str = "both",
    number: str = "",
    whose: str = "",
    shows_amounts: bool = False,
    shows_codes: bool = False,
) -> KitView:
    """
    The pick list.

    Args:
        kit: The order.
        date: Date of issue, as printed.
        units: `metric`, `us` or `both`; columns of figures have one only.
        number: Number of the list; from its check code if empty.
        whose: Customer and order, as printed.
        shows_amounts: Whether each line says what it costs.
        shows_codes: Whether each line has its number as a code to scan.
    """
    order, code = kit.order, check_code(kit)
    return KitView(
        title=f"Pick list: {counted(len(kit.jobs), 'job', space=NBSP)}",
        number=number or f"KT-{code[:4].upper()}",
        code=code,
        whose=whose,
        date=date,
        prices=", ".join([prices_words(kit), *_left_out(kit.prices)]),
        is_demo=kit.is_demo,
        spare=f"{exact_text(kit.spare_percent)} %",
        program=f"upgrade-planner {__version__}",
        dangers=tuple(_dangers(kit.jobs)),
        jobs=tuple(_job_row(number, job) for number, job in enumerate(kit.jobs, start=1)),
        shelves=tuple(_shelves(kit, units, shows_codes=shows_codes)),
        shows_amounts=shows_amounts,
        shows_codes=shows_codes,
        open_rows=tuple(_open_row(line, units) for line in order.open_lines),
        missing_count=sum(line.missing > 0 for line in order.lines),
        cuts=tuple(_cut_group(line, units) for line in cut_lines(kit)),
        bags=tuple(
            bag_view(kit, bag, number, units) for number, bag in enumerate(order.bags, start=1)
        ),
        back=tuple(_back(kit, units)),
        needs_heading=needs_heading(),
        needs=tuple(needed_lines(kit)),
        pieces=exact_text(counted_pieces(kit)),
        total=money_words(order.total, order.currency, kit.currency),
        excluding=excluding_words(order),
    )


def prices_words(kit: Kit) -> str:
    """Where prices and stock come from."""
    return DEMO if kit.is_demo else Path(kit.prices.file).name


def _left_out(prices: PriceList) -> Iterator[str]:
    """How many rows of the list were not taken as they stand."""
    if prices.foreign_rows:
        yield f"{counted(prices.foreign_rows, 'row', space=NBSP)} of other goods skipped"
    if faulty := len({problem.line for problem in prices.warnings}):
        yield f"{counted(faulty, 'row', space=NBSP)} with faults"


def _dangers(jobs: Iterable[PlannedJob]) -> Iterator[str]:
    for number, job in enumerate(jobs, start=1):
        if job.has_danger:
            yield (
                f"Job {number}: a danger finding stands in the vehicle it leads to. Change that "
                "first, before anything is cut; the work sheet says what."
            )


def _job_row(number: int, job: PlannedJob) -> KitJobRow:
    before, after = job.plans[0].comparison.before, job.plans[-1].comparison.after
    serial = before.vehicle.serial_number
    return KitJobRow(
        number=str(number),
        vehicle=", ".join(filter(None, (before.vehicle.title, serial, job.whose))),
        before=before.title,
        after=after.title,
        times=str(job.times),
        sheets=", ".join(plan.sheet_number for plan in job.plans),
    )


# Pick list --------------------------------------------------------------------------------------


def _shelves(kit: Kit, units: str, *, shows_codes: bool) -> Iterator[PickShelf]:
    """Lines along the places, or by shelf; one heading for all if the shelves lie mixed."""
    all_lines = kit.order.lines
    runs = [
        (shelf, tuple(own))
        for shelf, own in groupby(all_lines, lambda line: line.articles[0].shelf)
    ]
    if len(runs) > len({shelf for shelf, _ in runs}):
        picked = tuple(_pick_line(kit, line, units, with_code=shows_codes) for line in all_lines)
        yield PickShelf(heading=BY_PLACE, lines=picked)
        return
    for shelf, own in runs:
        picked = tuple(_pick_line(kit, line, units, with_code=shows_codes) for line in own)
        yield PickShelf(heading=SHELVES[shelf], lines=picked)


def _pick_line(kit: Kit, line: OrderLine, units: str, *, with_code: bool) -> PickLine:
    unit, sold = line.articles[0].unit, line.sale
    number = line.line.number if line.line else ""
    amount = sold.amount if sold else None

    def figure(quantity: Decimal) -> str:
        return number_words(quantity, unit, units)

    return PickLine(
        article=article_words(line, units),
        number=number,
        code=qr_code(number) if with_code and number else None,
        shelf_place=line.line.shelf_place if line.line else "",
        unit=unit_words(unit, units),
        needed=figure(line.needed),
        to_pack=figure(line.to_pack),
        in_stock=figure(line.in_stock),
        on_shelf=figure(_on_shelf(line.line)) if line.line and line.in_stock else "",
        missing=figure(line.missing) if line.missing else "",
        left_over=_left_over(line, units),
        amount="" if amount is None else money_words(amount, kit.order.currency, kit.currency),
        sold_as=_sold_as(sold, units) if sold else "",
        notes=tuple(_notes(line, units)),
        is_open=line.is_open,
    )


def _on_shelf(line: PriceLine) -> Decimal:
    """All that lies there; metres rounded down, for feet of them never end."""
    is_long = sorts()[line.sort].unit == METRE
    return line.in_stock.quantize(CENTIMETRE, ROUND_FLOOR) if is_long else line.in_stock


def _left_over(line: OrderLine, units: str) -> str:
    """What whole selling units hold beyond the need, rounded down; "" for less than a hundredth."""
    if line.sale is None:
        return ""
    left = line.sale.off_cut.quantize(CENTIMETRE, ROUND_FLOOR)
    return number_words(left, line.articles[0].unit, units) if left else ""


def article_words(line: OrderLine, units: str = "both") -> str:
    """The articles of a line in words."""
    return "; or ".join(words_of(article, units) for article in line.articles)


def _sold_as(sale: Sale, units: str) -> str:
    """`2 reels of 30.00 m`; "" where the selling unit says nothing new."""
    line = sale.line
    if line.sold_by.is_cut or (line.sold_by is SoldBy.EACH and line.contains == 1):
        return ""
    unit = sorts()[line.sort].unit
    inside = exact_text(line.contains)
    if unit != EACH:
        inside = amount_words(line.contains, unit, units)
    units_words = exact_text(sale.units)
    if line.sold_by is not SoldBy.EACH:
        units_words = counted(int(sale.units), str(line.sold_by), space=NBSP)
    return f"{units_words} of {inside}"


def _notes(line: OrderLine, units: str) -> Iterator[str]:
    if line.line is not None:
        own = [f"{role_words(name)}: {text[:LONGEST_OWN]}" for name, text in line.line.printed]
        if own:
            yield "; ".join(own)
    if why := why_words(line, units):
        yield f"open: {why}" if line.is_open else f"PACK INSTEAD: {why}"
    if line.missing and line.line is not None and line.line.lead_days is not None:
        yield f"{counted(line.line.lead_days, 'day', space=NBSP)} to get it"
    is_settled = not line.missing and not line.is_open
    for other in line.alternatives:
        if other.line is not line.line and not is_settled:
            yield f"may be replaced by {other.line.number}: {alternative_words(other, units)}"


def _open_row(line: OrderLine, units: str) -> OpenRow:
    return OpenRow(
        what="no article" if line.line is None else "no price",
        article=article_words(line, units),
        quantity=amount_words(line.to_pack, line.articles[0].unit, units),
        why=why_words(line, units),
    )


# Cutting list -----------------------------------------------------------------------------------


def _cut_group(cutting: CutLine, units: str) -> CutGroup:
    notes = [] if cutting.is_proven else ["a good way to cut; a better one may exist"]
    if cutting.line.stand_ins and not cutting.line.is_open:
        notes.insert(0, f"INSTEAD: {why_words(cutting.line, units)}")
    return CutGroup(
        article=article_words(cutting.line, units),
        number=cutting.line.line.number if cutting.line.line else "",
        reels=tuple(_reel_row(reel, units) for reel in cutting.reels),
        note="; ".join(notes),
    )


def _reel_row(reel: CutReel, units: str) -> ReelRow:
    length = "" if reel.length is None else reel_words(reel.length, units)
    words = {
        "stock": f"reel of {length}",
        "new": f"NEW reel of {length}",
        "by length": "TO GET, by length",
        "none": "TO GET, not listed or longer than a reel",
    }
    return ReelRow(
        reel=words[reel.source],
        cuts=tuple(_cut_words(piece, units) for piece in reel.pieces),
        rest="" if reel.rest is None else reel_words(reel.rest, units),
    )


def _cut_words(piece: Piece, units: str) -> str:
    where = "bag of the spares" if piece.bag == SPARE else f"{piece.wire}, bag {piece.bag}"
    return f"{cut_words(piece.length, units)} · {where}"


# Given back -------------------------------------------------------------------------------------


def _back(kit: Kit, units: str) -> Iterator[BackRow]:
    for material in totals(kit.order.given_back):
        yield BackRow(
            quantity=amount_words(-material.quantity, material.article.unit, units),
            article=words_of(material.article, units),
            used_for=used_for_words([role_words(name) for name in material.wires]),
        )
