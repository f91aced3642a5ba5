"""The customer's pages of a quotation, from `CustomerOffer`, which knows no cost and no margin."""

from collections.abc import Iterator, Sequence

from upgrade_planner.documents.quote.line_words import (
    choice_words,
    labour_words,
    line_words,
    open_item_words,
    open_words,
    remark_words,
)
from upgrade_planner.documents.quote.quote_views import (
    ArticleRow,
    ChoiceRow,
    ComparedRow,
    OfferView,
    PriceRow,
    QuoteView,
)
from upgrade_planner.documents.quote.quote_words import (
    date_words,
    gains_told,
    left_count_words,
    left_words,
    settled_words,
    work_words,
)
from upgrade_planner.documents.words.amounts import amount_words, hours_words
from upgrade_planner.documents.words.wording import sentence
from upgrade_planner.kit.job_file import NO_JOB_FILE, Customer, JobFile
from upgrade_planner.kit.prices.money import Currency
from upgrade_planner.quote.made import Choice, Made
from upgrade_planner.quote.offer import CustomerLine, CustomerOffer
from upgrade_planner.quote.priced import Section
from upgrade_planner.quote.remarks import Bearing
from upgrade_planner.quote.rows import LabourSum, is_small, labour_sums, small_items

LOCAL_RULES = "Local rules for vehicles and the makers' manuals come before anything in this offer."
"""On every page that a customer gets."""

_SMALL = "Cable, terminals, fuses and other small items"


def quote_view(
    made: Sequence[Made], invented: str, units: str = "both", job: JobFile = NO_JOB_FILE
) -> QuoteView:
    """
    The view of a quotation.

    Args:
        made: Its offers, for one vehicle.
        invented: What of shop, times and prices is invented, as a sentence; "" if nothing.
        units: `metric`, `us` or `both`; where a number can be told in one system only, both is
            metric.
        job: What the shop writes down about the job.
    """
    first = made[0]
    customer, before = first.customer, first.plan.comparison.before
    vehicle, texts = before.vehicle, customer.texts
    offers = tuple(_offer_view(one, units) for one in made)
    title = "Quotation" if first.own_number else "Draft of a quotation"
    return QuoteView(
        title=title if len(made) == 1 else f"{title}: {len(made)} offers compared",
        number=_number(made),
        customer=_customer_lines(job.customer),
        papers=job.vehicle.words,
        order=job.job.order,
        deposit=job.job.deposit,
        delivery=job.job.delivery,
        notes=job.job.notes,
        letterhead=customer.letterhead,
        currency=customer.currency,
        vehicle=vehicle.title,
        serial_number=vehicle.serial_number,
        owner="" if job.customer else vehicle.owner,
        before=before.title,
        given=date_words(customer.given),
        valid_until=date_words(customer.valid_until),
        greeting=texts.greeting,
        closing=texts.closing,
        terms=texts.terms,
        invented=invented,
        local_rules=LOCAL_RULES,
        offers=offers,
        compared=tuple(_compared(offers, customer.currency)) if len(made) > 1 else (),
        units=units,
    )


def _number(made: Sequence[Made]) -> str:
    first = made[0]
    if first.own_number or len(made) == 1:
        return first.own_number or first.number
    return f"{first.number} and others"


def _customer_lines(customer: Customer | None) -> tuple[str, ...]:
    if customer is None:
        return ()
    return tuple(filter(None, (customer.name, *customer.address, customer.contact)))


def _offer_view(made: Made, units: str) -> OfferView:
    customer, totals = made.customer, made.customer.expected
    return OfferView(
        letter=made.letter,
        number=made.number,
        title=made.plan.comparison.after.title,
        work=work_words(made.plan.comparison),
        settled=settled_words(made.plan),
        gains=gains_told(made.gains, units),
        price=(*map(_labour_row, labour_sums(customer.lines)), *_other_rows(customer, units)),
        net=totals.net,
        taxes=tuple(_tax_rows(customer)),
        to_pay=totals.to_pay,
        covering=customer.covering.to_pay,
        hours=customer.hours,
        covering_hours=customer.covering_hours,
        without_price=open_words(len(customer.open_lines)),
        open_items=tuple(
            open_item_words(one.article, one.quantity, units) for one in customer.open_lines
        ),
        choices=tuple(map(_choice_row, made.choices)),
        parts=tuple(
            _part_row(line, units) for line in customer.lines if line.section is Section.PARTS
        ),
        assumed=tuple(_remarks(customer, Bearing.ASSUMED)),
        excluded=tuple(_remarks(customer, Bearing.EXCLUDED, Bearing.NOT_VOUCHED)),
        left=left_words(made.left, units),
        left_count=left_count_words(made.left),
        left_dangers=left_words(made.dangers, units),
        dangers=len(made.dangers),
    )


def _remarks(customer: CustomerOffer, *bearings: Bearing) -> Iterator[str]:
    """Findings that stand are told apart from them, in `left`."""
    for remark in customer.remarks:
        if remark.bearing in bearings and remark.finding is None:
            yield remark_words(remark)


# Prices -----------------------------------------------------------------------------------------


def _labour_row(labour: LabourSum) -> PriceRow:
    return PriceRow(words=labour_words(labour), hours=labour.hours, amount=labour.amount)


def _other_rows(customer: CustomerOffer, units: str) -> Iterator[PriceRow]:
    """Parts by name, small items in one row, then sundries and deposits."""
    others = [line for line in customer.lines if line.section is not Section.LABOUR]
    rows = [(line, _row(line, units)) for line in others if not is_small(line)]
    yield from (row for line, row in rows if line.section is Section.PARTS)
    if small := small_items(customer.lines):
        yield PriceRow(words=_SMALL, hours=None, amount=small)
    yield from (row for line, row in rows if line.section is not Section.PARTS)


def _row(line: CustomerLine, units: str) -> PriceRow:
    words = line_words(line, units)
    if line.quantity != 1:
        words = f"{amount_words(line.quantity, line.unit, units)} {words}"
    return PriceRow(words=words, hours=None, amount=line.amount)


def _part_row(line: CustomerLine, units: str) -> ArticleRow:
    return ArticleRow(
        words=line_words(line, units),
        quantity=line.quantity,
        unit=line.unit,
        amount=line.amount,
        tax_words=line.tax_words,
    )


def _choice_row(choice: Choice) -> ChoiceRow:
    count = open_words(choice.open_lines)
    note = f"excluding {count}" if count else ""
    return ChoiceRow(words=choice_words(choice), to_pay=choice.to_pay, note=note)


def _tax_rows(customer: CustomerOffer) -> Iterator[PriceRow]:
    totals, currency = customer.expected, customer.currency
    for tax in totals.taxes:
        words = f"{sentence(tax.words)} on {currency.words(tax.base)}"
        yield PriceRow(words=words, hours=None, amount=tax.amount)
    if totals.rounding:
        yield PriceRow(words="Rounding", hours=None, amount=totals.rounding)


# Side by side -----------------------------------------------------------------------------------


def _compared(offers: Sequence[OfferView], currency: Currency) -> Iterator[ComparedRow]:
    def row(
        subject: str, cells: Iterator[str], now: str = "", *, is_strong: bool = False
    ) -> ComparedRow:
        return ComparedRow(subject=subject, now=now, cells=tuple(cells), is_strong=is_strong)

    yield row("To pay, tax included", (currency.words(o.to_pay) for o in offers), is_strong=True)
    yield row("Enough in 80 of 100 such jobs", (currency.words(o.covering) for o in offers))
    if any(o.open_items for o in offers):
        yield row("Not in these sums", (o.without_price or "nothing" for o in offers))
    yield row(
        "Working hours, expected", (hours_words(o.hours, currency.decimal_mark) for o in offers)
    )
    for words in dict.fromkeys(text for o in offers for text in o.settled):
        yield row(words, ("yes" if words in o.settled else "no" for o in offers))
    subjects = {told.subject: told.now for o in offers for told in o.gains}
    for subject, now in subjects.items():
        yield row(subject, (_after(o, subject) for o in offers), now)
    is_dangerous = any(o.dangers for o in offers)
    yield row("Known faults left", (o.left_count for o in offers), is_strong=is_dangerous)


def _after(view: OfferView, subject: str) -> str:
    told = next((one for one in view.gains if one.subject == subject), None)
    return "about as now" if told is None else f"{told.after} {told.verdict}".strip()
