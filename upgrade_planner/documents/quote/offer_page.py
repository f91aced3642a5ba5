"""The customer's pages of a quotation, from `CustomerOffer`, which knows no cost and no margin."""

from collections.abc import Iterator, Sequence
from decimal import Decimal

from attrs import evolve

from upgrade_planner.documents.quote.line_words import (
    choice_words,
    labour_words,
    line_words,
    needs_words,
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
    gains_told,
    left_count_words,
    left_words,
    settled_words,
    work_words,
)
from upgrade_planner.documents.words.speech import Speech
from upgrade_planner.documents.words.wording import sentence
from upgrade_planner.kit.job_file import ESTIMATE, FIXED_PRICE, NO_JOB_FILE, Customer, JobFile
from upgrade_planner.planning.plan import Plan
from upgrade_planner.quote.made import Choice, Made
from upgrade_planner.quote.offer import CustomerLine, CustomerOffer
from upgrade_planner.quote.priced import Section
from upgrade_planner.quote.rates import Letterhead
from upgrade_planner.quote.remarks import Bearing
from upgrade_planner.quote.rows import is_small, labour_sums, small_items


def quote_view(
    made: Sequence[Made],
    speech: Speech,
    *,
    invented: Sequence[str] = (),
    job: JobFile = NO_JOB_FILE,
    logo: str = "",
) -> QuoteView:
    """
    The view of a quotation.

    Args:
        made: Its offers, for one vehicle.
        speech: How it speaks.
        invented: What of it is invented: `shop`, `labour`, `prices`.
        job: What the shop writes down about the job.
        logo: As at `QuoteView`.
    """
    customer, before = made[0].customer, made[0].plan.comparison.before
    vehicle, texts = before.vehicle, customer.texts
    assumed, excluded = _common(made, speech)
    offers = tuple(_offer_view(one, speech, (*assumed, *excluded)) for one in made)
    return QuoteView(
        speech=speech,
        kind=customer.kind,
        title=_title(made, speech),
        number=_number(made, speech),
        customer=_customer_lines(job.customer),
        papers=job.vehicle.words,
        order=job.job.order,
        deposit=job.job.deposit,
        delivery=job.job.delivery,
        notes=job.job.notes,
        letterhead=_letterhead(customer, speech),
        logo=logo,
        currency=customer.currency,
        vehicle=speech.own(vehicle.title),
        serial_number=vehicle.serial_number,
        owner="" if job.customer else speech.own(vehicle.owner),
        before=speech.own(before.title),
        given=speech.day(customer.given),
        valid_until=speech.day(customer.valid_until),
        greeting=speech.own(texts.greeting),
        closing=speech.own(texts.closing),
        terms=tuple(map(speech.own, texts.terms)),
        invented=invented_words(invented, speech),
        local_rules=speech.say("terms.local_rules"),
        offers=offers,
        compared=tuple(_compared(offers, customer, speech)) if len(made) > 1 else (),
        assumed=assumed,
        excluded=excluded,
    )


def invented_words(invented: Sequence[str], speech: Speech) -> str:
    """What of an example is invented, as a sentence; "" for nothing."""
    names = [speech.say(f"invented.{one}") for one in invented]
    if not names:
        return ""
    first = ", ".join(names[:-1])
    what = speech.say("invented.and", first=first, last=names[-1]) if first else names[-1]
    return speech.say("invented.sentence", what=what)


def _title(made: Sequence[Made], speech: Speech) -> str:
    kind = made[0].customer.kind
    title = speech.say(f"title.{kind}" if made[0].own_number else f"title.draft {kind}")
    several = len(made) > 1
    return speech.say("title.compared", title=title, count=len(made)) if several else title


def _number(made: Sequence[Made], speech: Speech) -> str:
    first = made[0]
    if first.own_number or len(made) == 1:
        return first.own_number or first.number
    return speech.say("title.others", number=first.number)


def _letterhead(customer: CustomerOffer, speech: Speech) -> Letterhead:
    head = customer.letterhead
    return evolve(
        head,
        name=speech.own(head.name),
        address=tuple(map(speech.own, head.address)),
        contact=speech.own(head.contact),
    )


def _customer_lines(customer: Customer | None) -> tuple[str, ...]:
    if customer is None:
        return ()
    return tuple(filter(None, (customer.name, *customer.address, customer.contact)))


def _offer_view(made: Made, speech: Speech, elsewhere: Sequence[str]) -> OfferView:
    customer, totals, plan = made.customer, made.customer.expected, made.plan
    count = open_words(len(customer.open_lines), speech)
    return OfferView(
        letter=made.letter,
        number=made.number,
        title=speech.own(plan.comparison.after.title),
        work=work_words(plan.comparison, speech),
        settled=settled_words(plan, speech),
        gains=gains_told(made.gains, speech),
        price=tuple(_price_rows(customer, speech)),
        net=totals.net,
        taxes=tuple(_tax_rows(customer, speech)),
        to_pay=totals.to_pay,
        covering=customer.covering.to_pay,
        hours=customer.hours,
        covering_hours=customer.covering_hours,
        open_words=speech.say("price.excluding", items=count) if count else "",
        open_items=tuple(
            open_item_words(one.article, one.quantity, speech) for one in customer.open_lines
        ),
        choices=tuple(_choice_row(choice, plan, speech) for choice in made.choices),
        parts=tuple(
            _part_row(line, speech) for line in customer.lines if line.section is Section.PARTS
        ),
        kind_words=_kind_words(customer, speech),
        assumed=_without(_remarks(made, speech, *_ASSUMED), elsewhere),
        excluded=_without(_remarks(made, speech, *_EXCLUDED), elsewhere),
        left=left_words(made.left, plan, speech),
        left_count=left_count_words(made.left, speech),
        left_dangers=left_words(made.dangers, plan, speech),
        dangers=len(made.dangers),
    )


def _kind_words(customer: CustomerOffer, speech: Speech) -> str:
    """What of the sum binds; a fixed price cannot hold what has no price yet."""
    is_open = customer.kind == FIXED_PRICE and customer.open_lines
    return speech.say(
        f"kind.{customer.kind}{' open' if is_open else ''}",
        covering=speech.money(customer.covering.to_pay, customer.currency),
        hours=speech.say("price.hour", hours=speech.number(customer.covering_hours)),
    )


# Remarks ----------------------------------------------------------------------------------------

_ASSUMED = (Bearing.ASSUMED,)
_EXCLUDED = (Bearing.EXCLUDED, Bearing.NOT_VOUCHED)


def _common(made: Sequence[Made], speech: Speech) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What is assumed and what is excluded in every one of several offers."""
    if len(made) == 1:
        return (), ()
    assumed, excluded = (_in_all(made, speech, one) for one in (_ASSUMED, _EXCLUDED))
    return assumed, excluded


def _in_all(made: Sequence[Made], speech: Speech, bearings: Sequence[Bearing]) -> tuple[str, ...]:
    each = [_remarks(one, speech, *bearings) for one in made]
    return tuple(text for text in each[0] if all(text in texts for texts in each))


def _without(texts: Sequence[str], elsewhere: Sequence[str]) -> tuple[str, ...]:
    return tuple(text for text in texts if text not in elsewhere)


def _remarks(made: Made, speech: Speech, *bearings: Bearing) -> tuple[str, ...]:
    """What is commonly needed in one; findings that stand are told apart from them, in `left`."""
    own = [
        one
        for one in made.customer.remarks
        if one.bearing in bearings and one.finding is None and one.need is None
    ]
    needs = [one.need for one in made.customer.remarks if one.bearing in bearings and one.need]
    told = tuple(remark_words(remark, made.plan, speech) for remark in own)
    return (needs_words(needs, speech), *told) if needs else told


# Prices -----------------------------------------------------------------------------------------


def _price_rows(customer: CustomerOffer, speech: Speech) -> Iterator[PriceRow]:
    """Labour, parts by name, small items in one row, then sundries, deposits and discounts."""
    for labour in labour_sums(customer.lines):
        words = labour_words(labour, speech)
        yield PriceRow(words=words, hours=labour.hours, amount=labour.amount)
    others = [line for line in customer.lines if line.section is not Section.LABOUR]
    rows = [(line, _row(line, speech)) for line in others if not is_small(line)]
    yield from (row for line, row in rows if line.section is Section.PARTS)
    if small := small_items(customer.lines):
        yield PriceRow(words=speech.say("price.small"), hours=None, amount=small)
    yield from (row for line, row in rows if line.section is not Section.PARTS)


def _row(line: CustomerLine, speech: Speech) -> PriceRow:
    words = line_words(line, speech)
    if line.quantity != 1:
        words = f"{speech.amount(line.quantity, line.unit)} {words}"
    return PriceRow(words=words, hours=None, amount=line.amount)


def _part_row(line: CustomerLine, speech: Speech) -> ArticleRow:
    return ArticleRow(
        words=line_words(line, speech),
        quantity=line.quantity,
        unit=line.unit,
        amount=line.amount,
        tax_words=speech.own(line.tax_words),
    )


def _choice_row(choice: Choice, plan: Plan, speech: Speech) -> ChoiceRow:
    count = open_words(choice.open_lines, speech)
    note = speech.say("price.excluding", items=count) if count else ""
    return ChoiceRow(words=choice_words(choice, plan, speech), to_pay=choice.to_pay, note=note)


def _tax_rows(customer: CustomerOffer, speech: Speech) -> Iterator[PriceRow]:
    totals, currency = customer.expected, customer.currency
    for tax in (tax for tax in totals.taxes if tax.amount):
        base = speech.money(tax.base, currency)
        words = speech.say("price.tax", words=sentence(speech.own(tax.words)), base=base)
        yield PriceRow(words=words, hours=None, amount=tax.amount)
    if totals.rounding:
        words = speech.say("price.rounding")
        yield PriceRow(words=words, hours=None, amount=totals.rounding)


# Side by side -----------------------------------------------------------------------------------


def _compared(
    offers: Sequence[OfferView], customer: CustomerOffer, speech: Speech
) -> Iterator[ComparedRow]:
    def row(
        subject: str, cells: Iterator[str], now: str = "", *, is_strong: bool = False
    ) -> ComparedRow:
        return ComparedRow(subject=subject, now=now, cells=tuple(cells), is_strong=is_strong)

    def money(amounts: Iterator[Decimal]) -> Iterator[str]:
        return (speech.money(amount, customer.currency) for amount in amounts)

    say = speech.say
    yield row(say("compared.to_pay"), money(o.to_pay for o in offers), is_strong=True)
    if customer.kind == ESTIMATE:
        yield row(say("compared.covering"), money(o.covering for o in offers))
    if any(o.open_items for o in offers):
        counts = (open_words(len(o.open_items), speech) for o in offers)
        yield row(say("compared.open"), (one or say("compared.nothing") for one in counts))
    yield row(say("compared.hours"), (speech.number(o.hours) for o in offers))
    yes, no = say("compared.yes"), say("compared.no")
    for words in dict.fromkeys(text for o in offers for text in o.settled):
        yield row(words, (yes if words in o.settled else no for o in offers))
    subjects = {told.subject: told.now for o in offers for told in o.gains}
    for subject, now in subjects.items():
        yield row(subject, (_after(o, subject, speech) for o in offers), now)
    is_dangerous = any(o.dangers for o in offers)
    yield row(say("compared.left"), (o.left_count for o in offers), is_strong=is_dangerous)


def _after(view: OfferView, subject: str, speech: Speech) -> str:
    told = next((one for one in view.gains if one.subject == subject), None)
    if told is None:
        return speech.say("compared.same")
    return f"{told.after} {told.verdict_words}".strip()
