"""A quotation as data and as spreadsheets: for the customer, and the shop's own."""

from collections.abc import Iterator, Sequence
from datetime import date
from decimal import Decimal
from pathlib import Path

from upgrade_planner.configuration.files.shipped import name_from
from upgrade_planner.configuration.tables.cells import Cell
from upgrade_planner.configuration.tables.workbooks import WorkbookSheet, workbook_bytes
from upgrade_planner.documents.quote.internal import InternalLine, InternalOffer, phase_words
from upgrade_planner.documents.quote.kept import with_digest
from upgrade_planner.documents.quote.quote_shape import (
    INTERNAL_QUOTATION,
    QUOTATION,
    BookedData,
    InternalLineData,
    InternalOfferData,
    InternalQuotationData,
    OfferData,
    QuotationData,
    RowData,
)
from upgrade_planner.documents.quote.quote_views import OfferView, PriceRow, QuoteView
from upgrade_planner.documents.shared.data_text import data_text, plain_number
from upgrade_planner.documents.shared.money_cells import money_cells
from upgrade_planner.documents.words.amounts import shown_in
from upgrade_planner.documents.words.speech import Speech
from upgrade_planner.kit.job_file import ESTIMATE
from upgrade_planner.quote.accounts import AccountRow
from upgrade_planner.quote.made import Made

# Customer ---------------------------------------------------------------------------------------


def quote_json(view: QuoteView, made: Sequence[Made], target: Path, names: Sequence[str]) -> str:
    """
    The customer's quotation as JSON text; money is text, so that none is rounded.

    Args:
        view: What its pages show.
        made: Its offers.
        target: The file it is for, from which it names those of the configurations.
        names: Of BEFORE and each AFTER, as the person named them.
    """
    files = [name_from(name, target) for name in names]
    return data_text(QUOTATION, with_digest(_quotation_data(view, made, files)))


def _quotation_data(view: QuoteView, made: Sequence[Made], files: Sequence[str]) -> QuotationData:
    """Nothing of the shop's own business is in it."""
    head, customer, comparison = view.letterhead, made[0].customer, made[0].plan.comparison
    return {
        "number": view.number,
        "is_draft": not made[0].own_number,
        "kind": view.kind,
        "language": view.speech.texts.language,
        "customer": list(view.customer),
        "vehicle_papers": view.papers,
        "order": view.order,
        "deposit": None if view.deposit is None else str(view.deposit),
        "delivery": view.delivery,
        "notes": list(view.notes),
        "date": customer.given.isoformat(),
        "valid_until": customer.valid_until.isoformat(),
        "invented": view.invented,
        "shop": {
            "name": head.name,
            "address": list(head.address),
            "contact": head.contact,
            "tax_number": head.tax_number,
        },
        "currency": view.currency.code,
        "vehicle": view.vehicle,
        "serial_number": view.serial_number,
        "owner": view.owner,
        "before": view.before,
        "before_file": files[0],
        "policy": str(comparison.policy),
        "terms": list(view.terms),
        "local_rules": view.local_rules,
        "offers": [
            _offer_data(offer, one, view, file)
            for offer, one, file in zip(view.offers, made, files[1:], strict=True)
        ],
        "digest": "",
        "accepted": None,
        "invoiced": None,
    }


def _offer_data(offer: OfferView, made: Made, view: QuoteView, file: str) -> OfferData:
    is_open = view.kind == ESTIMATE
    return {
        "letter": offer.letter,
        "number": offer.number,
        "after": offer.title,
        "after_file": file,
        "check_code": made.plan.check_code,
        "work": list(offer.work),
        "put_right": list(offer.settled),
        "figures": [
            {
                "subject": told.subject,
                "now": told.now_number,
                "after": told.after_number,
                "unit": told.unit,
                "now_words": told.now,
                "after_words": told.after,
                "verdict": told.verdict,
            }
            for told in offer.gains
        ],
        "price": [_row_data(row) for row in offer.price],
        "net": str(offer.net),
        "tax": [_row_data(row) for row in offer.taxes],
        "to_pay": str(offer.to_pay),
        "booked": [_booked_data(row) for row in made.customer.booked],
        "to_pay_covering_80_percent": str(offer.covering) if is_open else None,
        "hours": plain_number(offer.hours),
        "hours_covering_80_percent": plain_number(offer.covering_hours) if is_open else None,
        "without_a_price": list(offer.open_items),
        "options": [{"words": c.words, "to_pay": str(c.to_pay)} for c in offer.choices],
        "parts": [
            {
                "words": p.words,
                "quantity": plain_number(p.quantity),
                "unit": p.unit,
                "amount": str(p.amount),
                "tax": p.tax_words,
            }
            for p in offer.parts
        ],
        "assumed": [*view.assumed, *offer.assumed],
        "not_included": [*view.excluded, *offer.excluded],
        "left_as_found": list(offer.left),
        "danger_findings": offer.dangers,
    }


def _booked_data(row: AccountRow) -> BookedData:
    return {
        "kind": row.kind,
        "tax_class": row.tax_class,
        "percent": str(row.percent),
        "net": str(row.net),
        "tax": str(row.tax),
        "gross": str(row.gross),
    }


def _row_data(row: PriceRow) -> RowData:
    data: RowData = {"words": row.words, "amount": str(row.amount)}
    return data if row.hours is None else {**data, "hours": plain_number(row.hours)}


def quote_xlsx(view: QuoteView, given: date, paper: str = "A4") -> bytes:
    """The customer's quotation as a workbook: comparison, offers, their parts."""
    say, sheets = view.speech.say, []
    if view.compared:
        offers = (
            say("compared.offer", letter=offer.letter, title=offer.title) for offer in view.offers
        )
        heading = ("", say("compared.now"), *offers)
        table = (heading, *((row.subject, row.now, *row.cells) for row in view.compared))
        sheets.append(WorkbookSheet(title=say("workbook.comparison"), rows=table, is_list=True))
    for offer in view.offers:
        sheets += [_offer_sheet(view, offer), _parts_sheet(view, offer)]
    return workbook_bytes(sheets, given, paper=paper, footer=f"{view.number}, {view.given}")


def _offer_sheet(view: QuoteView, offer: OfferView) -> WorkbookSheet:
    rows, headings = _offer_rows(view, offer)
    return WorkbookSheet(
        title=f"{view.speech.say('workbook.offer')} {offer.letter}".strip(),
        rows=rows,
        headings=headings,
        money=(2,),
        currency=money_cells(view.currency, figures=view.speech.figures),
    )


def _parts_sheet(view: QuoteView, offer: OfferView) -> WorkbookSheet:
    amounts, say = (part.amount for part in offer.parts), view.speech.say
    return WorkbookSheet(
        title=f"{say('workbook.parts')} {offer.letter}".strip(),
        rows=tuple(_part_rows(offer, view.speech)),
        is_list=True,
        money=(3,),
        currency=money_cells(view.currency, figures=view.speech.figures),
        total=(say("workbook.total"), None, None, sum(amounts, Decimal(0))) if offer.parts else (),
    )


def _offer_rows(
    view: QuoteView, offer: OfferView
) -> tuple[tuple[tuple[Cell, ...], ...], tuple[int, ...]]:
    say = view.speech.say
    rows: list[tuple[Cell, ...]] = [
        (view.letterhead.name,),
        (f"{offer.number}, {say('workbook.valid', day=view.given, until=view.valid_until)}",),
        (view.vehicle,),
        (offer.title,),
    ]
    if view.invented:
        rows.append((view.invented,))
    headings = [0, len(rows)]
    _, symbol = view.speech.figures.symbol(view.currency)
    rows.append((say("price.price"), say("price.hours"), symbol or view.currency.code))
    rows += [(row.words, row.hours, row.amount) for row in offer.price]
    rows.append((say("price.net"), offer.hours, offer.net))
    rows += [(row.words, None, row.amount) for row in offer.taxes]
    headings.append(len(rows))
    rows.append((say("price.to_pay"), None, offer.to_pay))
    if view.kind == ESTIMATE:
        rows.append((say("compared.covering"), offer.covering_hours, offer.covering))
    if offer.open_words:
        rows.append((say("open.sums", open=offer.open_words),))
        rows += [(item,) for item in offer.open_items]
    rows += [(choice.words, None, choice.to_pay) for choice in offer.choices]
    for title, texts in (
        ("work.heading", offer.work),
        ("workbook.put_right", offer.settled),
        ("assumed.heading", (*view.assumed, *offer.assumed)),
        ("excluded.heading", (*view.excluded, *offer.excluded)),
        ("workbook.left", offer.left),
        ("terms.heading", (*view.terms, offer.kind_words, view.local_rules)),
    ):
        if texts:
            headings.append(len(rows))
            rows.append((say(title),))
            rows += [(text,) for text in texts]
    return tuple(rows), tuple(headings)


def _part_rows(offer: OfferView, speech: Speech) -> Iterator[tuple[Cell, ...]]:
    columns = ("part", "quantity", "unit", "amount", "tax")
    yield tuple(speech.say(f"workbook.{name}") for name in columns)
    for part in offer.parts:
        shown, unit = shown_in(part.quantity, part.unit, speech.units)
        yield part.words, shown, speech.say(f"unit.{unit}"), part.amount, part.tax_words


# The shop's own ---------------------------------------------------------------------------------

_COLUMNS = (
    "section",
    "work",
    "words",
    "phase",
    "place",
    "low_min",
    "likely_min",
    "high_min",
    "quantity",
    "unit",
    "rate",
    "amount",
    "tax_class",
    "cost",
    "margin",
)


def internal_json(
    offers: Sequence[InternalOffer], given: date, invented: str, currency: str
) -> str:
    """Every line as JSON text; money is text."""
    data: InternalQuotationData = {
        "date": given.isoformat(),
        "invented": invented,
        "currency": currency,
        "offers": [_internal_data(offer) for offer in offers],
    }
    return data_text(INTERNAL_QUOTATION, data)


def _internal_data(offer: InternalOffer) -> InternalOfferData:
    return {
        "letter": offer.letter,
        "number": offer.number,
        "after": offer.title,
        "lines": [_line_data(line) for line in offer.lines],
        "sums": [{"words": words, "amount": str(amount)} for words, amount in offer.sums],
        "about_hours": list(offer.together),
        "without_a_price": list(offer.open_items),
    }


def _line_data(line: InternalLine) -> InternalLineData:
    return {
        "section": line.section,
        "work": line.work,
        "words": line.words,
        "phase": line.phase,
        "place": line.place,
        "low_min": _number(line.low_min),
        "likely_min": _number(line.likely_min),
        "high_min": _number(line.high_min),
        "quantity": plain_number(line.quantity),
        "unit": line.unit,
        "rate": str(line.rate),
        "amount": str(line.amount),
        "tax_class": line.tax_class,
        "cost": None if line.cost is None else str(line.cost),
        "margin": None if line.margin is None else str(line.margin),
    }


def _number(minutes: Decimal | None) -> int | float | None:
    return None if minutes is None else plain_number(minutes)


def internal_xlsx(
    view: QuoteView, offers: Sequence[InternalOffer], given: date, paper: str = "A4"
) -> bytes:
    """Every line as a workbook: a sheet of lines and one of sums for each offer."""
    sheets = []
    for offer in offers:
        sheets += [_lines_sheet(view, offer), _sums_sheet(view, offer)]
    footer = f"{view.number}, {view.given}, for the shop only"
    return workbook_bytes(sheets, given, paper=paper, footer=footer)


def _lines_sheet(view: QuoteView, offer: InternalOffer) -> WorkbookSheet:
    lines: list[tuple[Cell, ...]] = [
        tuple(
            phase_words(line.phase) if name == "phase" else getattr(line, name) for name in _COLUMNS
        )
        for line in offer.lines
    ]
    summed = {name: _sum_of(offer, name) for name in ("amount", "cost", "margin")}
    total: dict[str, Cell] = {"section": "Total", **summed}
    return WorkbookSheet(
        title=f"Lines {offer.letter}".strip(),
        rows=(tuple(name.replace("_", " ") for name in _COLUMNS), *lines),
        is_list=True,
        money=tuple(map(_COLUMNS.index, ("rate", "amount", "cost", "margin"))),
        currency=money_cells(view.currency),
        total=tuple(total.get(name) for name in _COLUMNS) if lines else (),
    )


def _sum_of(offer: InternalOffer, name: str) -> Decimal:
    values = (getattr(line, name) for line in offer.lines)
    return sum((value for value in values if value is not None), Decimal(0))


def _sums_sheet(view: QuoteView, offer: InternalOffer) -> WorkbookSheet:
    sums: list[tuple[Cell, ...]] = [(offer.title, None), *offer.sums]
    sums += [(text,) for text in (*offer.together, view.invented) if text]
    sums += [(f"Without a price: {item}",) for item in offer.open_items]
    return WorkbookSheet(
        title=f"Sums {offer.letter}".strip(),
        rows=tuple(sums),
        money=(1,),
        currency=money_cells(view.currency),
    )
