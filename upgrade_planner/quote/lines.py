"""
Labour of a job as lines: by kind of work, phase and place, setting up once a place and visit.

Times are estimates, as floats in minutes; billed hours and money are exact and begin in `offer`.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from enum import StrEnum

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import Component, Configuration, Wire
from upgrade_planner.kit.job_file import JobFile
from upgrade_planner.kit.kinds_of_work import DIAGNOSIS, WIRING, WORKS, work_of
from upgrade_planner.kit.labour import LabourLine, is_opened, labour
from upgrade_planner.kit.labour_table import AgeAndFinds, LabourTable, Minutes
from upgrade_planner.planning.operations import Operation, Phase, Procedure, SwitchOn, Work
from upgrade_planner.planning.plan import Plan
from upgrade_planner.quote.estimate import CERTAIN, JobEstimate, Line, ThreePoint

NOTHING_KNOWN = AgeAndFinds()
"""Of a vehicle of unknown age on which nothing was found."""


class Charge(StrEnum):
    """What a line of an offer charges for."""

    WORK = "work of a phase"
    SETTING_UP = "setting up"
    DIAGNOSIS = "diagnosis"
    OLD_VEHICLE = "old vehicle"
    EXTRA = "extra"
    ITEM = "item"
    DISCOUNT = "discount"
    ARTICLE = "article"
    SUNDRIES = "sundries"
    DEPOSIT = "deposit"
    DEPOSIT_BACK = "deposit back"
    RESERVE = "reserve"


@frozen(kw_only=True)
class WorkLine:
    """
    Work of one kind in one phase at one place.

    Attributes:
        work: Kind of work, one of WORKS.
        phase: Letter of the phase; "" for setting up, diagnosis and what the shop adds.
        place: Name of the place, or "".
        name: What the shop calls it, if the shop adds it.
        stage: The visit, from 1.
        estimates: One for each operation, independent of each other. [min]
        on_vehicle: True if the factor of the old vehicle multiplies it.
    """

    work: str
    charge: Charge = Charge.WORK
    phase: str = ""
    place: str = ""
    name: str = ""
    stage: int = 1
    estimates: tuple[ThreePoint, ...]
    on_vehicle: bool

    @property
    def expected_min(self) -> float:
        """Sum of the expected times, without the factor of the old vehicle. [min]"""
        return sum(estimate.expected for estimate in self.estimates)


@frozen(kw_only=True)
class Extra:
    """Work that the shop adds by hand, such as an overhaul on the bench. [min]"""

    work: str
    words: str
    estimate: ThreePoint


def extras_of(job: JobFile) -> tuple[Extra, ...]:
    """Work that the shop writes down; hours that it names are neither more nor less."""
    return tuple(
        Extra(work=one.kind, words=one.words, estimate=ThreePoint(minutes, minutes, minutes))
        for one in job.work
        for minutes in [float(one.hours) * 60]
    )


@frozen(kw_only=True)
class Overlap:
    """
    What setting up once saves, all expected and without the factor of the old vehicle. [min]

    Attributes:
        alone_min: Sum if each phase at each place were a job of its own.
        saved_min: Setting up that is counted once instead of once for each of them.
    """

    alone_min: float
    saved_min: float

    @property
    def together_min(self) -> float:
        """What is counted. [min]"""
        return self.alone_min - self.saved_min


def work_lines(
    plans: Sequence[Plan], table: LabourTable, extras: Iterable[Extra] = ()
) -> tuple[WorkLine, ...]:
    """
    The labour of a job, diagnosis first, then visit by visit.

    Args:
        plans: One plan, or one for each visit of a job in stages.
        table: Times of the shop.
        extras: What the shop adds.
    """
    lines: list[WorkLine] = []
    if plans and plans[0].steps and is_as_found(plans[0].comparison.before):
        block = (_three(_diagnosis(plans[0].comparison.before, table)),)
        lines.append(
            WorkLine(work=DIAGNOSIS, charge=Charge.DIAGNOSIS, estimates=block, on_vehicle=False)
        )
    for stage, plan in enumerate(plans, 1):
        time = labour(plan, table)
        lines += _setting_up(plan, time.setting_up, stage)
        lines += _phases(plan, time.lines, stage)
    lines += [
        WorkLine(
            work=e.work,
            charge=Charge.EXTRA,
            name=e.words,
            estimates=(e.estimate,),
            on_vehicle=False,
        )
        for e in extras
    ]
    return tuple(lines)


def _diagnosis(before: Configuration, table: LabourTable) -> Minutes:
    """To find out what somebody has done, in proportion to what is known of it."""
    minutes = table.diagnosis.block + table.diagnosis.each.times(finds_of(before))
    return minutes.times(table.own.of(DIAGNOSIS))


def finds_of(configuration: Configuration) -> int:
    """Wires and parts that were found otherwise than built, or worn."""
    items: tuple[Wire | Component, ...] = (*configuration.components, *configuration.wires)
    return sum(bool(item.as_found or item.condition) for item in items)


def is_as_found(configuration: Configuration) -> bool:
    """True if the vehicle is known to differ from its profile: somebody has been at it."""
    parts = any(part.as_found for part in configuration.components)
    return (
        parts
        or any(wire.as_found for wire in configuration.wires)
        or bool(configuration.as_found_note)
    )


def job_estimate(
    lines: Iterable[WorkLine],
    table: LabourTable,
    money_of_hour: Mapping[str, float] | None = None,
    vehicle: AgeAndFinds = NOTHING_KNOWN,
) -> JobEstimate:
    """
    The distribution of all lines together.

    Args:
        lines: Labour lines.
        table: Times of the shop, with the factor of the old vehicle.
        money_of_hour: Rate by kind of work; the estimate is then of money, else of hours.
        vehicle: Its age and finds, which widen the factor.
    """
    scale = {w: (1.0 if money_of_hour is None else money_of_hour[w]) / 60 for w in WORKS}
    independent = tuple(
        Line(estimate.times(scale[line.work]), line.on_vehicle)
        for line in lines
        for estimate in line.estimates
    )
    has_work = any(line.on_vehicle for line in independent)
    common = ThreePoint(*table.old_vehicle.factor_of(vehicle)) if has_work else CERTAIN
    return JobEstimate(independent, common)


def overlap(plans: Sequence[Plan], table: LabourTable, lines: Iterable[WorkLine]) -> Overlap:
    """
    What would be counted if each phase at each place stood alone, and what is saved together.

    Single operations are not taken alone: nobody opens a dash for one wire end, closes it, and
    opens it again for the next.

    Args:
        plans: As at `work_lines`.
        table: Times of the shop.
        lines: The labour of the plans; what the shop adds by hand is not counted.
    """
    of_plans = (line for line in lines if line.charge is not Charge.EXTRA)
    saved = 0.0
    for plan in plans:
        for place, minutes in labour(plan, table).setting_up.items():
            visits = {o.phase for o in plan.operations if o.place == place and is_opened(o, plan)}
            saved += (len(visits) - 1) * _three(minutes).expected
    return Overlap(alone_min=sum(line.expected_min for line in of_plans) + saved, saved_min=saved)


def _setting_up(plan: Plan, time: Mapping[str, Minutes], stage: int) -> Iterator[WorkLine]:
    places = plan.comparison.before.place_by_id
    for place in sorted(time, key=lambda one: (places[one].walk, one)):
        yield WorkLine(
            work=WIRING,
            place=places[place].name,
            charge=Charge.SETTING_UP,
            stage=stage,
            estimates=(_three(time[place]),),
            on_vehicle=True,
        )


def _phases(plan: Plan, times: Iterable[LabourLine], stage: int) -> Iterator[WorkLine]:
    places = plan.comparison.before.place_by_id
    found: dict[tuple[Phase, str, str, bool], list[ThreePoint]] = defaultdict(list)
    for operation, line in zip(plan.operations, times, strict=True):
        on_vehicle = _is_on_vehicle(operation)
        key = (operation.phase, operation.place, work_of(operation), on_vehicle)
        found[key].append(_three(line.minutes))
    for (phase, place, work, on_vehicle), estimates in found.items():
        yield WorkLine(
            work=work,
            phase=str(phase),
            place=places[place].name if place else "",
            stage=stage,
            estimates=tuple(estimates),
            on_vehicle=on_vehicle,
        )


def _is_on_vehicle(operation: Operation) -> bool:
    """True for hands-on work, which the factor of the old vehicle multiplies; not for tests."""
    if isinstance(operation, Procedure):
        return operation.work is Work.CONVERSION
    return not isinstance(operation, SwitchOn)


def _three(minutes: Minutes) -> ThreePoint:
    return ThreePoint(minutes.low, minutes.likely, minutes.high)
