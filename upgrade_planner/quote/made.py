"""Offers for one vehicle, computed: what every paper of a quotation is made from."""

from collections.abc import Iterator, Sequence
from datetime import date
from decimal import Decimal
from enum import StrEnum
from itertools import chain, repeat

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.comparison.results import Policy
from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.errors import PlannerError
from upgrade_planner.kit.job_file import NO_JOB_FILE, JobFile
from upgrade_planner.kit.kinds_of_work import WORKS
from upgrade_planner.kit.prices.price_list import PriceList, require_currency
from upgrade_planner.planning.caring import renewed_instead
from upgrade_planner.planning.operations import CareForPart, CareForWire
from upgrade_planner.planning.plan import Plan, plan_upgrade
from upgrade_planner.planning.stages import staged_job
from upgrade_planner.quote.gains import Gain, gains
from upgrade_planner.quote.lines import WorkLine, extras_of, work_lines
from upgrade_planner.quote.offer import CustomerOffer, Offer, Shop, for_customer, offer
from upgrade_planner.quote.priced import Section, Supply
from upgrade_planner.quote.remarks import findings_left
from upgrade_planner.quote.supplies import require_tax_classes, supplies_of

MOST_OFFERS = 5
"""As many columns as a page holds. Source: our assumption."""

LETTERS = "ABCDE"


class NoOffer(PlannerError):
    """Nothing that could be offered, or too much for one paper."""


class OtherWay(StrEnum):
    """How the same job may be had otherwise."""

    IN_VISITS = "in visits"
    OLD_PARTS_RETURNED = "old parts returned"
    WIRES_TAKEN_OUT = "wires taken out"
    WIRES_LEFT = "wires left"
    WORN_RENEWED = "worn renewed"


@frozen(kw_only=True)
class Choice:
    """
    Another way to have the same job, with its own total.

    Attributes:
        stages: Titles of what the vehicle is in between, of a job in visits.
        renewed: What was found worn and is renewed instead of being looked after.
        to_pay: The whole sum if it is chosen, tax included.
        open_lines: Items without a price in it.
    """

    way: OtherWay
    stages: tuple[str, ...] = ()
    renewed: tuple[str, ...] = ()
    to_pay: Decimal
    open_lines: int


@frozen(kw_only=True, eq=False)
class Made:
    """
    One offer.

    Attributes:
        letter: `A`, `B`, …; "" if it is the only one.
        own_number: The shop's, of the whole paper; "" for a draft.
        work: Labour lines with their estimates, in the order of the priced lines.
        left: Findings that stand afterwards, notes left out.
        choices: Other ways, each a separate total.
    """

    letter: str
    own_number: str
    plan: Plan
    supplies: tuple[Supply, ...]
    work: tuple[WorkLine, ...]
    own: Offer
    customer: CustomerOffer
    gains: tuple[Gain, ...]
    left: tuple[Finding, ...]
    choices: tuple[Choice, ...]

    @property
    def number(self) -> str:
        """Number of the offer; that of a draft is from the check code of its plan."""
        own = " ".join(filter(None, (self.own_number, self.letter)))
        return own if self.own_number else f"Q-{self.plan.check_code.upper()}"

    @property
    def dangers(self) -> tuple[Finding, ...]:
        """Danger findings that stand in the target."""
        return tuple(one for one in self.left if one.severity is Severity.DANGER)


@frozen(kw_only=True)
class Terms:
    """
    What the shop brings to all offers of one paper.

    Attributes:
        stages: Configurations in between, if the first offer may be done in several visits.
        job: What the shop writes down about the job.
    """

    shop: Shop
    prices: PriceList
    policy: Policy
    given: date
    stages: tuple[Configuration, ...] = ()
    job: JobFile = NO_JOB_FILE

    def supplies(self, plan: Plan) -> tuple[Supply, ...]:
        """What a plan buys at this shop."""
        charges = self.shop.rates.rests.are_charged
        return supplies_of(plan, self.prices, charges_rests=charges)


def made_offers(
    before: Configuration, after: Sequence[Configuration], terms: Terms
) -> tuple[Made, ...]:
    """
    An offer for each target.

    Raises:
        NoOffer: too many targets, or one that is as the vehicle is now.
        ConfigurationError: a price list in another currency than the rates, or with tax classes
            that they have not.
        PlannerError: two configurations that cannot be compared.
    """
    require_currency(terms.prices, terms.shop.rates.currency.code)
    require_tax_classes(terms.prices, terms.shop.rates)
    if len(after) > MOST_OFFERS:
        raise NoOffer(
            f"found {len(after)} AFTER; expected at most {MOST_OFFERS}, which one page can compare"
        )
    letters = LETTERS if len(after) > 1 else [""]
    others = repeat(evolve(terms, stages=()))
    return tuple(
        _made(before, one, letter, its)
        for one, letter, its in zip(after, letters, chain([terms], others), strict=False)
    )


def _made(before: Configuration, after: Configuration, letter: str, terms: Terms) -> Made:
    plan = plan_upgrade(before, after, terms.policy)
    if not plan.steps:
        raise NoOffer(
            f"nothing to do from '{before.name}' to '{after.name}': found the same wiring; "
            "expected an AFTER that differs from BEFORE"
        )
    bought = terms.supplies(plan)
    own = offer([plan], bought, terms.shop, given=terms.given, job=terms.job)
    lines = work_lines([plan], terms.shop.labour, extras_of(terms.job))
    return Made(
        letter=letter,
        own_number=terms.job.job.full_number,
        plan=plan,
        supplies=bought,
        work=tuple(line for work in WORKS for line in lines if line.work == work),
        own=own,
        customer=for_customer(own),
        gains=gains(before, after),
        left=findings_left([plan]),
        choices=tuple(_choices(plan, bought, own, terms)),
    )


def _choices(plan: Plan, bought: Sequence[Supply], own: Offer, terms: Terms) -> Iterator[Choice]:
    comparison = plan.comparison
    if terms.stages:
        yield _in_visits(plan, terms)
    if any(line.section is Section.CORES for line in own.lines):
        returned = offer(
            [plan], bought, terms.shop, given=terms.given, job=terms.job, old_parts_returned=True
        )
        if returned.expected.to_pay != own.expected.to_pay:
            yield _choice(OtherWay.OLD_PARTS_RETURNED, returned)
    yield from _renewed(plan, terms)
    is_reversible = comparison.policy is Policy.REVERSIBLE
    if is_reversible and not comparison.count(Disposition.CAP_OFF):
        return
    other = Policy.CLEAN if is_reversible else Policy.REVERSIBLE
    way = plan_upgrade(comparison.before, comparison.after, other)
    if [one.operation for one in way.steps] == [one.operation for one in plan.steps]:
        return
    made = offer([way], terms.supplies(way), terms.shop, given=terms.given, job=terms.job)
    yield _choice(OtherWay.WIRES_TAKEN_OUT if is_reversible else OtherWay.WIRES_LEFT, made)


def _renewed(plan: Plan, terms: Terms) -> Iterator[Choice]:
    """What is worn is renewed instead of being looked after: nobody can tell from paper."""
    care = [op for op in plan.operations if isinstance(op, CareForWire | CareForPart)]
    if not care:
        return
    comparison = plan.comparison
    worn = renewed_instead(comparison.before, care)
    way = plan_upgrade(worn, comparison.after, comparison.policy)
    names = (op.wire.id if isinstance(op, CareForWire) else op.part.name for op in care)
    made = offer([way], terms.supplies(way), terms.shop, given=terms.given, job=terms.job)
    yield evolve(_choice(OtherWay.WORN_RENEWED, made), renewed=tuple(sorted(names)))


def _in_visits(plan: Plan, terms: Terms) -> Choice:
    """The same job in stages: places are opened more than once, so it costs more."""
    before, after = plan.comparison.before, plan.comparison.after
    visits = staged_job((before, *terms.stages, after), terms.policy).plans
    bought = [supply for visit in visits for supply in terms.supplies(visit)]
    made = offer(visits, bought, terms.shop, given=terms.given, job=terms.job)
    return _choice(OtherWay.IN_VISITS, made, tuple(one.title for one in terms.stages))


def _choice(way: OtherWay, made: Offer, stages: tuple[str, ...] = ()) -> Choice:
    return Choice(
        way=way, stages=stages, to_pay=made.expected.to_pay, open_lines=len(made.open_lines)
    )
