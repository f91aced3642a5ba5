"""Ways to do a job side by side: price, hours, what the owner gains, what is left."""

from collections.abc import Callable, Sequence
from datetime import date
from decimal import Decimal

from attrs import field, frozen

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.electrical.performance import Performance, performance
from upgrade_planner.kit.prices.money import exact
from upgrade_planner.planning.plan import Plan
from upgrade_planner.quote.offer import Offer, Shop, offer
from upgrade_planner.quote.priced import Supply
from upgrade_planner.quote.remarks import findings_left


@frozen(kw_only=True, eq=False)
class Option:
    """
    One way to do the job: another policy, in stages, or another target.

    Attributes:
        plans: One plan, or one for each visit.
        supplies: What is bought for this way.
    """

    title: str
    plans: tuple[Plan, ...]
    supplies: tuple[Supply, ...]
    old_parts_returned: bool = False


@frozen(kw_only=True)
class Gain:
    """A figure that driver or owner notices, before and after; None where there is no such part."""

    subject: str
    unit: str
    before: float | None
    after: float | None


@frozen(kw_only=True)
class Compared:
    """
    One way, computed.

    Attributes:
        to_pay, covering: As at `Offer`, tax included.
        gains: Figures that change; () if one side could not be computed.
        left: Findings that stand afterwards, gravest first.
    """

    title: str
    to_pay: Decimal = field(validator=exact)
    covering: Decimal = field(validator=exact)
    hours: Decimal = field(validator=exact)
    covering_hours: Decimal = field(validator=exact)
    visits: int
    open_lines: int
    gains: tuple[Gain, ...]
    left: tuple[Finding, ...]


Figure = Callable[[Performance], float | None]

_FIGURES: tuple[tuple[str, str, Figure], ...] = (
    ("ignition supply, running", "V", lambda p: p.ignition_run_v),
    ("ignition supply, cranking", "V", lambda p: p.ignition_cranking_v),
    ("stored energy at 1000 r/min", "J", lambda p: p.sparks[0].energy_j if p.sparks else None),
    ("battery voltage, loads on", "V", lambda p: p.loaded_battery_v),
    ("charging current, idling", "A", lambda p: p.idle_charge_a),
    ("charging current, loads on", "A", lambda p: p.loaded_charge_a),
    ("output to spare, loads on", "A", lambda p: p.spare_output_a),
    ("loss from output to battery, loads on", "V", lambda p: p.output_drop_v),
    ("hottest wire", "°C", lambda p: p.hottest_c),
    ("drain with the key off", "A", lambda p: p.standing_a),
)
"""Those of `electrical.performance` that an owner can weigh against money."""


def compared(options: Sequence[Option], shop: Shop, given: date) -> tuple[Compared, ...]:
    """The options in the order given; see `offer` for the sums."""
    return tuple(_compared(one, shop, given) for one in options)


def gains(before: Configuration, after: Configuration) -> tuple[Gain, ...]:
    """What the owner gets for the money: figures of both sides, where they differ."""
    old, new = _performance(before), _performance(after)
    if old is None or new is None:
        return ()
    found = (
        Gain(subject=subject, unit=unit, before=figure(old), after=figure(new))
        for subject, unit, figure in _FIGURES
    )
    return tuple(gain for gain in found if gain.before != gain.after)


def _compared(option: Option, shop: Shop, given: date) -> Compared:
    made: Offer = offer(
        option.plans,
        option.supplies,
        shop,
        given=given,
        old_parts_returned=option.old_parts_returned,
    )
    first, last = option.plans[0].comparison.before, option.plans[-1].comparison.after
    return Compared(
        title=option.title,
        to_pay=made.expected.to_pay,
        covering=made.covering.to_pay,
        hours=made.hours,
        covering_hours=made.covering_hours,
        visits=sum(bool(plan.steps) for plan in option.plans),
        open_lines=len(made.open_lines),
        gains=gains(first, last),
        left=findings_left(option.plans),
    )


def _performance(configuration: Configuration) -> Performance | None:
    points = Examined(configuration=configuration).points
    return performance(configuration, points) if points else None
