"""Priced lines of an offer and their sums: exact, rounded where they are printed."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from attrs import field
from attrs.validators import optional

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.faults import one_of, quoted
from upgrade_planner.errors import PlannerError
from upgrade_planner.kit.articles import EACH, Article
from upgrade_planner.kit.job_file import AddedItem, Discount
from upgrade_planner.kit.kinds_of_work import WORKS
from upgrade_planner.kit.prices.money import ZERO, exact, rounded, spread
from upgrade_planner.planning.operations import FitPart, RemovePart
from upgrade_planner.planning.plan import Plan
from upgrade_planner.quote.lines import Charge, WorkLine
from upgrade_planner.quote.rates import OF_BOTH, OF_LABOUR, OF_PARTS, PER_JOB, PER_LINE, Rates


class Section(StrEnum):
    """Parts of an offer, in the order printed."""

    LABOUR = "labour"
    PARTS = "parts"
    SUNDRIES = "sundries"
    CORES = "deposits"
    DISCOUNTS = "discounts"


@frozen(kw_only=True)
class Supply:
    """
    What is bought for the job, as ordered.

    Attributes:
        quantity: To pack: what the job pays for, in the unit of the article.
        cost: What the shop pays for one unit; None if no price is known, never zero for that.
        tax_class: A class of the shop's rates; "" for the one of parts.
        rest: What whole packs, reels and minima cost beyond the quantity.
        is_bought: The shelf has too little, so it is bought for this job.
    """

    article: Article
    quantity: Decimal = field(validator=exact)
    cost: Decimal | None = field(validator=optional(exact))
    tax_class: str = ""
    rest: Decimal = field(default=ZERO, validator=exact)
    is_bought: bool = False


@frozen(kw_only=True)
class PricedLine:
    """
    One line of the shop's own view.

    Attributes:
        article: What is bought; None for everything else.
        names: In the shop's own words what is charged for, or the part that a deposit is on.
        amount: What the customer pays before tax: quantity times unit price, rounded.
        tax_class: Name of a tax class.
        cost: What the shop pays for all of it; None for labour, sundries and deposits.
        stage, phase, place: Where labour is done.
    """

    section: Section
    charge: Charge
    article: Article | None = None
    names: tuple[str, ...] = ()
    quantity: Decimal = field(validator=exact)
    unit: str
    unit_price: Decimal = field(validator=exact)
    amount: Decimal = field(validator=exact)
    tax_class: str
    cost: Decimal | None = field(default=None, validator=optional(exact))
    work: str = ""
    stage: int = 1
    phase: str = ""
    place: str = ""

    @property
    def margin(self) -> Decimal:
        """What stays with the shop of a line for parts."""
        return ZERO if self.cost is None else self.amount - self.cost


@frozen(kw_only=True)
class TaxSum:
    """Tax of one class: its base and its amount."""

    name: str
    words: str
    percent: Decimal = field(validator=exact)
    base: Decimal = field(validator=exact)
    amount: Decimal = field(validator=exact)


@frozen(kw_only=True)
class Totals:
    """Sums of an offer: net and taxes and rounding add up to what is to pay."""

    sections: tuple[tuple[Section, Decimal], ...]
    net: Decimal = field(validator=exact)
    taxes: tuple[TaxSum, ...]
    rounding: Decimal = field(validator=exact)
    to_pay: Decimal = field(validator=exact)


def labour_priced(lines: Sequence[WorkLine], rates: Rates) -> Iterator[PricedLine]:
    """
    Labour lines with hours and money.

    The hours of one kind of work are rounded once, then divided among its lines by the largest
    remainder, so that many short lines neither vanish nor grow.
    """
    step = rates.rounding.hours
    for work in WORKS:
        own = [line for line in lines if line.work == work]
        weights = [Fraction(line.expected_min) for line in own]
        total = hours_billed(sum(line.expected_min for line in own) / 60, rates)
        for line, hours in zip(own, spread(total, weights, step), strict=True):
            yield _labour_line(line, hours, rates)


def hours_billed(hours: float, rates: Rates) -> Decimal:
    """An estimate of hours as an exact number of steps: the one way from floats to hours. [h]"""
    return rounded(Decimal(hours), rates.rounding.hours, rates.rounding.mode)


def allowance_priced(
    lines: Iterable[WorkLine], expected_factor: float, rates: Rates
) -> Iterator[PricedLine]:
    """What the factor of the old vehicle adds on average, openly, a line for each kind of work."""
    minutes: dict[str, float] = defaultdict(float)
    for line in lines:
        if line.on_vehicle:
            minutes[line.work] += line.expected_min
    for work in WORKS:
        hours = hours_billed((expected_factor - 1) * minutes[work] / 60, rates)
        if hours:
            charge = Charge.OLD_VEHICLE
            none = WorkLine(work=work, charge=charge, estimates=(), on_vehicle=True)
            yield _labour_line(none, hours, rates)


def _labour_line(line: WorkLine, hours: Decimal, rates: Rates) -> PricedLine:
    rate = rates.work.of(line.work)
    return PricedLine(
        section=Section.LABOUR,
        charge=line.charge,
        names=tuple(filter(None, (rate.words, line.name))),
        quantity=hours,
        unit="h",
        unit_price=rate.rate,
        amount=rates.rounded(hours * rate.rate),
        tax_class=rates.tax.labour,
        work=line.work,
        stage=line.stage,
        phase=line.phase,
        place=line.place,
    )


def parts_priced(supplies: Iterable[Supply], rates: Rates) -> Iterator[PricedLine]:
    """
    Parts with a price; the margin is inside the unit price.

    The unit price keeps two digits more than the currency prints: some terminals cost less than
    the smallest coin.

    Raises:
        PlannerError: the price list names a tax class that the rates have not.
    """
    finer = rates.currency.step.scaleb(-2)
    for supply in supplies:
        if supply.cost is None:
            continue
        price = supply.cost * (1 + rates.margin.on(supply.article.sort) / 100)
        price = rounded(price, finer, rates.rounding.mode)
        yield PricedLine(
            section=Section.PARTS,
            charge=Charge.ARTICLE,
            article=supply.article,
            quantity=supply.quantity,
            unit=supply.article.unit,
            unit_price=price,
            amount=rates.rounded(price * supply.quantity),
            tax_class=_tax_class(supply, rates),
            cost=rates.rounded(supply.cost * supply.quantity),
        )


def _tax_class(supply: Supply, rates: Rates) -> str:
    name = supply.tax_class or rates.tax.parts
    if name not in rates.tax.classes:
        found = f"{supply.article.sort}: found tax class {quoted(name)} in the price list"
        raise PlannerError(f"{found}; expected {one_of(name, rates.tax.classes)} of the rates")
    return name


def sundries_priced(lines: Iterable[PricedLine], rates: Rates) -> Iterator[PricedLine]:
    """Sundries as the shop charges them; nothing for a job without lines."""
    sums, own = section_sums(lines), rates.sundries
    of = {
        OF_LABOUR: sums[Section.LABOUR],
        OF_PARTS: sums[Section.PARTS],
        OF_BOTH: sums[Section.LABOUR] + sums[Section.PARTS],
    }
    amount = own.amount if own.of == PER_JOB else of[own.of] * (own.percent or ZERO) / 100
    if not amount or not any(sums.values()):
        return
    amount = rates.rounded(amount if own.maximum is None else min(amount, own.maximum))
    if amount:
        yield _single(Section.SUNDRIES, Charge.SUNDRIES, own.words, amount, rates.tax.sundries)


def cores_priced(plans: Iterable[Plan], rates: Rates, *, returned: bool) -> Iterator[PricedLine]:
    """
    Deposits on exchange parts, and what comes back for old parts.

    Args:
        plans: The job.
        rates: The shop's deposits.
        returned: True if the customer gives the old parts up; each pays back one deposit at most.
    """
    operations = [operation for plan in plans for operation in plan.operations]
    old = [one.part for one in operations if isinstance(one, RemovePart)] if returned else []
    for one in operations:
        if not isinstance(one, FitPart) or one.from_bag or one.part.kind not in rates.cores:
            continue
        core, tax = rates.cores[one.part.kind], rates.tax.cores
        deposit = rates.rounded(core.deposit)
        yield _single(Section.CORES, Charge.DEPOSIT, one.part.name, deposit, tax)
        given = next((part for part in old if part.kind in core.takes), None)
        if given is not None:
            old.remove(given)
            yield _single(Section.CORES, Charge.DEPOSIT_BACK, given.name, -deposit, tax)


def items_priced(items: Iterable[AddedItem], rates: Rates) -> Iterator[PricedLine]:
    """What the shop adds by hand with a price, taxed as sundries."""
    for one in items:
        amount = rates.rounded(one.price)
        yield _single(Section.SUNDRIES, Charge.ITEM, one.words, amount, rates.tax.sundries)


def discounts_priced(
    discounts: Iterable[Discount], lines: Sequence[PricedLine], rates: Rates
) -> Iterator[PricedLine]:
    """
    Discounts as lines below zero.

    Percent are of labour and parts, a line for each tax class, so that the tax falls with them; an
    amount is taxed as labour.
    """
    for one in discounts:
        if one.percent is None:
            amount = -rates.rounded(one.amount or ZERO)
            yield _discount(one, amount, rates.tax.labour)
            continue
        for name in rates.tax.classes:
            own = (line.amount for line in lines if line.tax_class == name and _is_reduced(line))
            amount = -rates.rounded(sum(own, ZERO) * one.percent / 100)
            if amount:
                yield _discount(one, amount, name)


def _is_reduced(line: PricedLine) -> bool:
    return line.section in (Section.LABOUR, Section.PARTS)


def _discount(discount: Discount, amount: Decimal, tax_class: str) -> PricedLine:
    return _single(Section.DISCOUNTS, Charge.DISCOUNT, discount.words, amount, tax_class)


def reserve_priced(amount: Decimal, rates: Rates) -> PricedLine:
    """Labour that the total for most cases holds above the expected one."""
    return _single(Section.LABOUR, Charge.RESERVE, "", amount, rates.tax.labour)


def _single(
    section: Section, charge: Charge, name: str, amount: Decimal, tax_class: str
) -> PricedLine:
    return PricedLine(
        section=section,
        charge=charge,
        names=(name,) if name else (),
        quantity=Decimal(1),
        unit=EACH,
        unit_price=amount,
        amount=amount,
        tax_class=tax_class,
    )


# Sums --------------------------------------------------------------------------------------------


def section_sums(lines: Iterable[PricedLine]) -> Mapping[Section, Decimal]:
    """Amounts by section; zero where there is none."""
    sums = dict.fromkeys(Section, ZERO)
    for line in lines:
        sums[line.section] += line.amount
    return sums


def totals_of(lines: Sequence[PricedLine], rates: Rates) -> Totals:
    """The sums over lines, tax by class, rounded as the shop does."""
    sums = section_sums(lines)
    net = sum(sums.values(), ZERO)
    taxes = tuple(_taxes(lines, rates))
    exact_sum = net + sum((tax.amount for tax in taxes), ZERO)
    to_pay = rounded(exact_sum, rates.rounding.totals, rates.rounding.mode)
    return Totals(
        sections=tuple(sums.items()),
        net=net,
        taxes=taxes,
        rounding=to_pay - exact_sum,
        to_pay=to_pay,
    )


def _taxes(lines: Sequence[PricedLine], rates: Rates) -> Iterator[TaxSum]:
    for name, tax in rates.tax.classes.items():
        amounts = [line.amount for line in lines if line.tax_class == name]
        if not amounts:
            continue
        base = sum(amounts, ZERO)
        taxed = amounts if rates.tax.rounding == PER_LINE else [base]
        amount = sum((rates.rounded(one * tax.percent / 100) for one in taxed), ZERO)
        yield TaxSum(name=name, words=tax.words, percent=tax.percent, base=base, amount=amount)
