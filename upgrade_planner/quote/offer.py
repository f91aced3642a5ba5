"""
An offer: every line with its price, what is expected to pay, and what covers 80 % of such jobs.

Two views, two classes: `Offer` is the shop's own and knows cost and margin; `CustomerOffer` has no
field for either, so that no paper made from it can show them.
"""

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from decimal import Decimal

from attrs import Factory, field

from upgrade_planner.attributes import frozen
from upgrade_planner.kit.articles import Article
from upgrade_planner.kit.job_file import NO_JOB_FILE, JobFile
from upgrade_planner.kit.kinds_of_work import WORKS
from upgrade_planner.kit.labour_table import AgeAndFinds, LabourTable, shipped_labour_table
from upgrade_planner.kit.prices.money import ZERO, Currency, exact
from upgrade_planner.planning.plan import Plan
from upgrade_planner.quote.accounts import AccountRow, account_rows
from upgrade_planner.quote.lines import (
    Charge,
    Overlap,
    WorkLine,
    extras_of,
    finds_of,
    job_estimate,
    overlap,
    work_lines,
)
from upgrade_planner.quote.priced import (
    PricedLine,
    Section,
    Supply,
    Totals,
    allowance_priced,
    cores_priced,
    discounts_priced,
    hours_billed,
    items_priced,
    labour_priced,
    parts_priced,
    reserve_priced,
    sundries_priced,
    totals_of,
)
from upgrade_planner.quote.rates import Letterhead, OfferTexts, Rates, shipped_rates
from upgrade_planner.quote.remarks import Remark, remarks

COVERED = 0.8
"""Share of jobs that cost no more than the covering total. Source: our assumption."""


@frozen(kw_only=True)
class Shop:
    """A shop's own files; those that ship with the program, all figures invented, if not given."""

    rates: Rates = Factory(shipped_rates)
    labour: LabourTable = Factory(shipped_labour_table)


@frozen(kw_only=True)
class Offer:
    """
    The shop's own view of an offer.

    Attributes:
        kind: `fixed price` or `estimate`.
        lines: Labour, parts, sundries, deposits; amounts before tax.
        reserve: Line that the covering total has besides; its amount may be zero.
        bought: All that the job takes.
        open_lines: Supplies without a price, in no sum.
        expected: What is to pay if all goes as expected.
        covering: What is to pay at most in 80 of 100 such jobs, as far as labour decides it.
        hours: Sum of the labour lines. [h]
        bounds_h: Hours if every line goes well, and if every line goes badly. [h]
        covering_hours: Hours that are enough in 80 of 100 such jobs, at least `hours`. [h]
    """

    rates: Rates
    kind: str
    lines: tuple[PricedLine, ...]
    reserve: PricedLine
    bought: tuple[Supply, ...]
    open_lines: tuple[Supply, ...]
    expected: Totals
    covering: Totals
    hours: Decimal = field(validator=exact)
    covering_hours: Decimal = field(validator=exact)
    overlap: Overlap
    bounds_h: tuple[float, float]
    remarks: tuple[Remark, ...]
    given: date
    valid_until: date

    @property
    def cost(self) -> Decimal:
        """What the shop pays for parts."""
        return sum((line.cost or ZERO for line in self.lines), ZERO)

    def rests(self, *, bought: bool) -> Decimal:
        """What whole packs and minima cost beyond what is charged, bought for the job or not."""
        return sum((one.rest for one in self.bought if one.is_bought is bought), ZERO)

    @property
    def margin(self) -> Decimal:
        """What stays with the shop of the price of parts."""
        return sum((line.margin for line in self.lines), ZERO)


@frozen(kw_only=True)
class CustomerLine:
    """One line as the customer sees it; attributes as at `PricedLine`."""

    section: Section
    charge: Charge
    article: Article | None
    names: tuple[str, ...]
    quantity: Decimal = field(validator=exact)
    unit: str
    unit_price: Decimal = field(validator=exact)
    amount: Decimal = field(validator=exact)
    tax_words: str
    stage: int
    phase: str
    place: str


@frozen(kw_only=True)
class OpenLine:
    """Something that has no price yet."""

    article: Article
    quantity: Decimal = field(validator=exact)


@frozen(kw_only=True)
class CustomerOffer:
    """An offer as it goes to the customer; attributes as at `Offer`, `booked` for the accounts."""

    letterhead: Letterhead
    currency: Currency
    texts: OfferTexts
    kind: str
    lines: tuple[CustomerLine, ...]
    open_lines: tuple[OpenLine, ...]
    expected: Totals
    covering: Totals
    hours: Decimal = field(validator=exact)
    covering_hours: Decimal = field(validator=exact)
    remarks: tuple[Remark, ...]
    given: date
    valid_until: date
    booked: tuple[AccountRow, ...]


def offer(
    plans: Sequence[Plan],
    supplies: Iterable[Supply],
    shop: Shop,
    *,
    given: date,
    old_parts_returned: bool = False,
    job: JobFile = NO_JOB_FILE,
) -> Offer:
    """
    The offer for a job.

    Args:
        plans: One plan, or one for each visit of a job in stages.
        supplies: What is bought, from the order.
        shop: Rates and times.
        given: Date of the offer.
        old_parts_returned: True if the customer gives old parts up for their deposits.
        job: What the shop adds by hand: work, items, discounts.
    """
    rates, bought = shop.rates, tuple(supplies)
    work = work_lines(plans, shop.labour, extras_of(job))
    vehicle = _state(plans, given, job)
    hours = job_estimate(work, shop.labour, vehicle=vehicle)
    labour = [*labour_priced(work, rates), *allowance_priced(work, hours.factor.expected, rates)]
    others = [
        *parts_priced(bought, rates),
        *cores_priced(plans, rates, returned=old_parts_returned),
        *items_priced(job.item, rates),
    ]
    lines = _complete([*labour, *others], job, rates)
    billed = sum((line.quantity for line in labour), ZERO)
    reserve = _reserve(work, labour, shop, vehicle)
    return Offer(
        rates=rates,
        kind=job.job.kind or rates.offer.kind,
        lines=lines,
        reserve=reserve,
        bought=bought,
        open_lines=tuple(supply for supply in bought if supply.cost is None),
        expected=totals_of(lines, rates),
        covering=totals_of(_complete([*labour, *others, reserve], job, rates), rates),
        hours=billed,
        covering_hours=max(billed, hours_billed(hours.covering(COVERED), rates)),
        overlap=overlap(plans, shop.labour, work),
        bounds_h=(hours.bound("low"), hours.bound("high")),
        remarks=remarks(plans),
        given=given,
        valid_until=given + timedelta(days=rates.offer.validity_days),
    )


def for_customer(own: Offer) -> CustomerOffer:
    """The same offer without anything that is the shop's own business."""
    rates = own.rates
    return CustomerOffer(
        letterhead=rates.letterhead,
        currency=rates.currency,
        texts=rates.offer,
        kind=own.kind,
        lines=tuple(_customer_line(line, rates) for line in own.lines),
        open_lines=tuple(
            OpenLine(article=one.article, quantity=one.quantity) for one in own.open_lines
        ),
        expected=own.expected,
        covering=own.covering,
        hours=own.hours,
        covering_hours=own.covering_hours,
        remarks=own.remarks,
        given=own.given,
        valid_until=own.valid_until,
        booked=account_rows(own.lines, own.expected, rates.currency.step),
    )


def _customer_line(line: PricedLine, rates: Rates) -> CustomerLine:
    return CustomerLine(
        section=line.section,
        charge=line.charge,
        article=line.article,
        names=line.names,
        quantity=line.quantity,
        unit=line.unit,
        unit_price=line.unit_price,
        amount=line.amount,
        tax_words=rates.tax.classes[line.tax_class].words,
        stage=line.stage,
        phase=line.phase,
        place=line.place,
    )


def _complete(lines: list[PricedLine], job: JobFile, rates: Rates) -> tuple[PricedLine, ...]:
    """The lines with sundries and discounts, in the order of their sections."""
    found = [
        *lines,
        *sundries_priced(lines, rates),
        *discounts_priced(job.discount, lines, rates),
    ]
    return tuple(sorted(found, key=lambda line: list(Section).index(line.section)))


def _state(plans: Sequence[Plan], given: date, job: JobFile) -> AgeAndFinds:
    """What is known of the vehicle on the day of the offer."""
    built = job.vehicle.built
    return AgeAndFinds(
        finds=finds_of(plans[0].comparison.before) if plans else 0,
        age_years=None if built is None else max(0, given.year - built),
    )


def _reserve(
    work: Sequence[WorkLine], labour: Sequence[PricedLine], shop: Shop, vehicle: AgeAndFinds
) -> PricedLine:
    """From the estimate in money, which weighs each hour with its rate; never below zero."""
    rates = shop.rates
    by_hour = {kind: float(rates.work.of(kind).rate) for kind in WORKS}
    enough = job_estimate(work, shop.labour, by_hour, vehicle).covering(COVERED)
    expected = sum((line.amount for line in labour), ZERO)
    return reserve_priced(max(ZERO, rates.rounded(Decimal(enough)) - expected), rates)
