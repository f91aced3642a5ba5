"""One order as it is packed: jobs with their plans, bags with numbers, pieces with names."""

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from functools import cached_property

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.findings import Severity
from upgrade_planner.comparison.results import Policy
from upgrade_planner.kit.articles import EACH, Article, Material, sorts
from upgrade_planner.kit.filling_bags import Bag, BagLine
from upgrade_planner.kit.materials import consumption, gives_back
from upgrade_planner.kit.orders import SPARES, Job, Order, OrderLine, Stage, order
from upgrade_planner.kit.prices.money import Currency
from upgrade_planner.kit.prices.price_list import PriceList
from upgrade_planner.kit.substitutes import ColourRule
from upgrade_planner.kit.wire_colours import colour_rule
from upgrade_planner.planning.own_car import load_job
from upgrade_planner.planning.plan import Plan, plan_upgrade
from upgrade_planner.planning.stages import staged_job


@frozen(kw_only=True)
class OrderedUpgrade:
    """
    One upgrade that is ordered.

    Attributes:
        configurations: Names or paths: before, stages on the way, after.
        times: Vehicles alike.
        whose: Customer and order, as printed; "" if they are not said for this one.
    """

    configurations: tuple[str, ...]
    times: int = 1
    whose: str = ""


@frozen(kw_only=True, eq=False)
class PlannedJob:
    """An upgrade with its plans, one a stage, and its materials by operation."""

    plans: tuple[Plan, ...]
    used: tuple[Mapping[str, tuple[Material, ...]], ...]
    times: int
    whose: str = ""

    @property
    def name(self) -> str:
        """Vehicle and what it is turned into."""
        after = self.plans[-1].comparison.after
        return f"{after.vehicle.title}: {after.title}"

    @property
    def has_danger(self) -> bool:
        """A danger finding stands in the vehicle after one of the stages."""
        return any(f.severity is Severity.DANGER for plan in self.plans for f in plan.findings)

    def stage_words(self, stage: int) -> str:
        """`stage 1 of 2`; "" if there is but one."""
        return f"stage {stage + 1} of {len(self.plans)}" if len(self.plans) > 1 else ""

    def as_ordered(self) -> Job:
        """What the order needs of it; exchange parts that come back count as negative."""
        stages = [
            Stage(
                name=self.stage_words(index),
                materials=(*_all(used), *_returned(plan)),
                colours=_colours(used, plan),
            )
            for index, (plan, used) in enumerate(zip(self.plans, self.used, strict=True))
        ]
        return Job(name=self.name, stages=tuple(stages), times=self.times)


def _all(used: Mapping[str, tuple[Material, ...]]) -> Iterator[Material]:
    """All that is used; what serves the whole vehicle is for no one place."""
    for material in (one for found in used.values() for one in found):
        whole = sorts()[material.article.sort].for_the_vehicle
        yield evolve(material, place="") if whole else material


def _colours(
    used: Mapping[str, tuple[Material, ...]], plan: Plan
) -> Mapping[tuple[str, ...], ColourRule]:
    """Which other colours the cable of the plan's wires may not have."""
    coloured = (m for found in used.values() for m in found if m.article.shelf == "cable")
    return {one.wires: colour_rule(one.wires, plan.comparison) for one in coloured}


def _returned(plan: Plan) -> Iterator[Material]:
    for found in gives_back(plan).values():
        for material in found:
            yield evolve(material, quantity=-material.quantity)


def planned_job(pair: OrderedUpgrade, policy: Policy) -> PlannedJob:
    """
    The plans of a pair; with more than two configurations one for each stage.

    Raises:
        PlannerError: a configuration is unknown or faulty, or they are of different vehicles.
    """
    loaded = load_job(*pair.configurations).configurations
    if len(loaded) > 2:
        plans = staged_job(loaded, policy).plans
    else:
        plans = (plan_upgrade(loaded[0], loaded[-1], policy),)
    used = tuple(consumption(plan) for plan in plans)
    return PlannedJob(plans=plans, used=used, times=pair.times, whose=pair.whose)


@frozen(kw_only=True)
class Piece:
    """One wire to cut: its article, its length [m], the bag it goes into."""

    article: Article
    length: Decimal
    wire: str
    bag: int


@frozen(kw_only=True, eq=False)
class Kit:
    """
    One order and what it was made from.

    Attributes:
        jobs: In the order in which they were named.
        currency: How the shop prints money; None if its settings do not say.
        is_demo: The prices are the invented ones that come with the program.
    """

    jobs: tuple[PlannedJob, ...]
    order: Order
    prices: PriceList
    spare_percent: Decimal
    currency: Currency | None = None
    is_demo: bool = False

    @cached_property
    def bag_numbers(self) -> Mapping[tuple[int, int, int, str], int]:
        """Number of a bag, from 1, by job, vehicle (from 1), stage and place."""
        return {bag_key(bag): number for number, bag in enumerate(self.order.bags, start=1)}

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """All wires to cut, in the order of the bags; spares are none."""
        found = [
            Piece(article=material.article, length=length, wire=material.wires[0], bag=number)
            for key, number in self.bag_numbers.items()
            if not is_spare(self.order.bags[number - 1])
            for material in self.materials(key)
            if material.article.shelf == "cable"
            for length in material.pieces
        ]
        return tuple(sorted(found, key=lambda piece: piece.bag))

    def taken_for(self, line: BagLine) -> OrderLine | None:
        """The line of the order from which it is packed, if an alternative was taken; else None."""
        lines = (one for one in self.order.lines if one.stand_ins and one.line is line.line)
        return next(lines, None)

    def materials(self, key: tuple[int, int, int, str]) -> Iterator[Material]:
        """What the plan puts into a bag."""
        job, _, stage, place = key
        for material in _all(self.jobs[job].used[stage]):
            if material.place == place:
                yield material


def bag_key(bag: Bag) -> tuple[int, int, int, str]:
    """Number of the job from 0, vehicle from 1, number of the stage from 0, place."""
    job, _, vehicle, stage, _, place = bag.lines[0].bag
    return job, vehicle, stage, place


def is_spare(bag: Bag) -> bool:
    """Whether it is the bag with what is packed beyond the need."""
    return bag.job == SPARES and bag.vehicle == 0


def packed(
    jobs: Sequence[PlannedJob],
    prices: PriceList,
    *,
    spare_percent: Decimal = Decimal(0),
    takes_alternatives: bool = False,
    currency: Currency | None = None,
    is_demo: bool = False,
) -> Kit:
    """The kit for several jobs from one price list; see `kit.orders.order`."""
    made = order(
        [job.as_ordered() for job in jobs],
        prices,
        spare_ratio=spare_percent / 100,
        takes_alternatives=takes_alternatives,
    )
    return Kit(
        jobs=tuple(jobs),
        order=made,
        prices=prices,
        spare_percent=spare_percent,
        currency=currency,
        is_demo=is_demo,
    )


def counted_pieces(kit: Kit) -> Decimal:
    """Everything that is counted one by one."""
    counts = (line.to_pack for line in kit.order.lines if line.articles[0].unit == EACH)
    return sum(counts, Decimal(0))


def check_code(kit: Kit) -> str:
    """Changes when a job, a price list's lines for it, the number or the spare changes."""
    parts = [f"{plan.check_code} {job.times}" for job in kit.jobs for plan in job.plans]
    parts += [repr(line.line.number if line.line else line.articles) for line in kit.order.lines]
    parts += [kit.order.total_words, f"{kit.spare_percent.normalize():f}"]
    digest = hashlib.sha256("\n".join(parts).encode()).hexdigest()
    return f"{digest[:4]}-{digest[4:8]}"
