"""What a job buys, from its plan and a price list."""

from decimal import ROUND_HALF_UP, Decimal, localcontext

from upgrade_planner.kit.materials import consumption
from upgrade_planner.kit.orders import Job, OrderLine, Stage, order
from upgrade_planner.kit.prices.price_list import PriceList
from upgrade_planner.planning.plan import Plan
from upgrade_planner.quote.priced import Supply

UNIT_STEP = Decimal("0.000001")
"""A pack of 30 m has a price for a metre that never ends; a millionth is far below a cent.
Source: our assumption."""

PART = "part"
"""Sort of article that a customer knows by name; all others are small items."""


def supplies_of(plan: Plan, prices: PriceList) -> tuple[Supply, ...]:
    """
    Every article that the job takes, in the order of the shelves.

    The job pays for what it uses, not for the rest of a pack or a reel.
    """
    used = tuple(material for taken in consumption(plan).values() for material in taken)
    jobs = [Job(name=plan.check_code, stages=(Stage(materials=used),))]
    return tuple(_supply(line) for line in order(jobs, prices).lines)


def _supply(line: OrderLine) -> Supply:
    first = line.articles[0]
    return Supply(
        words=first.words,
        sort=first.sort,
        quantity=line.to_pack,
        unit=first.unit,
        cost=_unit_cost(line),
    )


def _unit_cost(line: OrderLine) -> Decimal | None:
    """Price of one metre, piece or millilitre; None if the line is open."""
    if line.is_open or line.line is None or line.line.price is None:
        return None
    with localcontext(prec=60):
        return (line.line.price / line.line.contains).quantize(UNIT_STEP, ROUND_HALF_UP)
