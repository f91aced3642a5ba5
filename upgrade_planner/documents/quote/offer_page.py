"""The customer's pages of a quotation, from `CustomerOffer`, which knows no cost and no margin."""

from collections.abc import Iterator, Sequence

from upgrade_planner.documents.quote.quote_views import (
    ChoiceRow,
    ComparedRow,
    OfferView,
    PriceRow,
    QuoteView,
    hours_words,
    quantity_words,
)
from upgrade_planner.documents.quote.quote_words import (
    date_words,
    gains_told,
    left_count_words,
    left_words,
    settled_words,
    work_words,
)
from upgrade_planner.documents.words.quantities import counted
from upgrade_planner.kit.prices.money import ZERO, Currency
from upgrade_planner.quote.lines import SETTING_UP
from upgrade_planner.quote.made import Made
from upgrade_planner.quote.offer import CustomerLine, CustomerOffer
from upgrade_planner.quote.priced import Section
from upgrade_planner.quote.remarks import Sort
from upgrade_planner.quote.supplies import PART

LOCAL_RULES = "Local rules for vehicles and the makers' manuals come before anything in this offer."
"""On every page that a customer gets."""

_NO_CERTIFICATE = (
    "The wiring was computed and checked; that is no certificate. Condition of what stays in the "
    "vehicle is taken to be sound until it has been looked at."
)

_GROUPS = (
    ("AB", "Making safe, opening up, recording what is there"),
    ("CD", "Taking out what goes, insulating what stays unused"),
    ("EFG", "Fitting parts, running and joining new wires"),
    ("HIJ", "Joining the battery and testing, dead and live"),
    ("KL", "Running the engine, road test, handing over"),
)
"""Letters of the phases, and what a customer calls them."""

_DIAGNOSIS = "Finding out what was altered before"
_OLD_VEHICLE = "Allowance for the age of the vehicle"
_SMALL = "Cable, terminals, fuses and other small items"


def quote_view(made: Sequence[Made], invented: str) -> QuoteView:
    """
    The view of a quotation.

    Args:
        made: Its offers, for one vehicle.
        invented: What of shop, times and prices is invented, as a sentence; "" if nothing.
    """
    first = made[0]
    customer, before = first.customer, first.plan.comparison.before
    vehicle, texts = before.vehicle, customer.texts
    offers = tuple(_offer_view(one) for one in made)
    return QuoteView(
        title="Quotation" if len(made) == 1 else f"Quotation: {len(made)} offers compared",
        number=first.number if len(made) == 1 else f"{first.number} and others",
        letterhead=customer.letterhead,
        currency=customer.currency,
        vehicle=vehicle.title,
        serial_number=vehicle.serial_number,
        owner=vehicle.owner,
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
    )


def _offer_view(made: Made) -> OfferView:
    customer, totals = made.customer, made.customer.expected
    open_count = len(customer.open_lines)
    return OfferView(
        letter=made.letter,
        number=made.number,
        title=made.plan.comparison.after.title,
        work=work_words(made.plan.comparison),
        settled=settled_words(made.plan),
        gains=gains_told(made.gains),
        price=(*_labour_rows(customer.lines), *_other_rows(made)),
        net=totals.net,
        taxes=tuple(_tax_rows(customer)),
        to_pay=totals.to_pay,
        covering=customer.covering.to_pay,
        hours=customer.hours,
        covering_hours=customer.covering_hours,
        open_words=_open_words(open_count),
        open_items=tuple(
            f"{line.words}, {quantity_words(line.quantity, line.unit)}"
            for line in customer.open_lines
        ),
        choices=tuple(_choices(made)),
        parts=tuple(line for line in customer.lines if line.section is Section.PARTS),
        assumed=tuple(one.words for one in customer.remarks if one.sort is Sort.ASSUMED),
        excluded=tuple(_excluded(made)),
        left=left_words(made.left),
        left_count=left_count_words(made.left),
        left_dangers=left_words(made.dangers),
        dangers=len(made.dangers),
    )


def _open_words(count: int) -> str:
    return f"excluding {counted(count, 'item')} without a price" if count else ""


# Prices -----------------------------------------------------------------------------------------


def _labour_rows(lines: Sequence[CustomerLine]) -> Iterator[PriceRow]:
    """Labour by what a customer sees being done; the rates by kind of work stay inside."""
    groups: dict[str, list[CustomerLine]] = {}
    for line in lines:
        if line.section is Section.LABOUR:
            groups.setdefault(_group_of(line), []).append(line)
    known = [_DIAGNOSIS, *(words for _, words in _GROUPS)]
    for words in sorted(groups, key=lambda one: known.index(one) if one in known else len(known)):
        own = groups[words]
        hours = sum((line.quantity for line in own), ZERO)
        amount = sum((line.amount for line in own), ZERO)
        if hours or amount:
            yield PriceRow(words=words, hours=hours, amount=amount)


def _group_of(line: CustomerLine) -> str:
    if line.phase:
        return next(words for letters, words in _GROUPS if line.phase in letters)
    if line.words.endswith(SETTING_UP):
        return _GROUPS[0][1]
    if "diagnostic block" in line.words:
        return _DIAGNOSIS
    return _OLD_VEHICLE if "old vehicle" in line.words else line.words


def _other_rows(made: Made) -> Iterator[PriceRow]:
    """Parts by name, small items in one row, then sundries and deposits."""
    lines = made.customer.lines
    bought = [supply for supply in made.supplies if supply.cost is not None]
    priced = [line for line in lines if line.section is Section.PARTS]
    small = ZERO
    for supply, line in zip(bought, priced, strict=True):
        if supply.sort == PART:
            yield _row(line)
        else:
            small += line.amount
    if small:
        yield PriceRow(words=_SMALL, hours=None, amount=small)
    for line in lines:
        if line.section in (Section.SUNDRIES, Section.CORES):
            yield _row(line)


def _row(line: CustomerLine) -> PriceRow:
    count = "" if line.quantity == 1 else f"{quantity_words(line.quantity, line.unit)} × "
    return PriceRow(words=f"{count}{line.words}", hours=None, amount=line.amount)


def _tax_rows(customer: CustomerOffer) -> Iterator[PriceRow]:
    totals, currency = customer.expected, customer.currency
    for tax in totals.taxes:
        words = f"{tax.words[:1].upper()}{tax.words[1:]} on {currency.words(tax.base)}"
        yield PriceRow(words=words, hours=None, amount=tax.amount)
    if totals.rounding:
        yield PriceRow(words="Rounding", hours=None, amount=totals.rounding)


def _choices(made: Made) -> Iterator[ChoiceRow]:
    base = made.customer.expected.to_pay
    for one in made.choices:
        yield ChoiceRow(
            words=one.words,
            to_pay=one.to_pay,
            difference=one.to_pay - base,
            note=_open_words(one.open_lines),
        )


# Words ------------------------------------------------------------------------------------------


def _excluded(made: Made) -> Iterator[str]:
    """What the offer leaves out; findings that stand are told apart from it, in `left`."""
    for remark in made.customer.remarks:
        if remark.sort is Sort.EXCLUDED and remark.finding is None:
            names = ", ".join(name.replace("-", " ") for name in remark.where)
            yield f"{remark.words.rstrip('.')}: {names}." if names else remark.words
    not_computed = [r.words for r in made.customer.remarks if r.sort is Sort.NOT_VOUCHED]
    yield from not_computed[:-1]  # the last one is told in our own words
    yield _NO_CERTIFICATE


def _compared(offers: Sequence[OfferView], currency: Currency) -> Iterator[ComparedRow]:
    def row(
        subject: str, cells: Iterator[str], now: str = "", *, is_strong: bool = False
    ) -> ComparedRow:
        return ComparedRow(subject=subject, now=now, cells=tuple(cells), is_strong=is_strong)

    yield row("To pay, tax included", (currency.words(o.to_pay) for o in offers), is_strong=True)
    yield row("Enough in 80 of 100 such jobs", (currency.words(o.covering) for o in offers))
    if any(o.open_items for o in offers):
        left_out = (o.open_words.removeprefix("excluding ") or "nothing" for o in offers)
        yield row("Not in these sums", left_out)
    yield row("Working hours, expected", (hours_words(o.hours, currency) for o in offers))
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
