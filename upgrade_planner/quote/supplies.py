"""What a job buys, from its plan and a price list."""

from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal, localcontext

from upgrade_planner.configuration.files.faults import one_of, quoted
from upgrade_planner.errors import ConfigurationError, Problem
from upgrade_planner.kit.materials import consumption
from upgrade_planner.kit.orders import Job, OrderLine, Stage, order
from upgrade_planner.kit.prices.price_list import PriceLine, PriceList
from upgrade_planner.planning.plan import Plan
from upgrade_planner.quote.priced import Supply
from upgrade_planner.quote.rates import Rates

TAX_CLASS = "tax_class"
"""Column of price lists."""

UNIT_STEP = Decimal("0.000001")
"""A pack of 30 m has a price for a metre that never ends; a millionth is far below a cent.
Source: our assumption."""


def supplies_of(plan: Plan, prices: PriceList) -> tuple[Supply, ...]:
    """
    Every article that the job takes, in the order of the shelves.

    The job pays for what it uses, not for the rest of a pack or a reel.
    """
    used = tuple(material for taken in consumption(plan).values() for material in taken)
    jobs = [Job(name=plan.check_code, stages=(Stage(materials=used),))]
    return tuple(_supply(line) for line in order(jobs, prices).lines)


def _supply(line: OrderLine) -> Supply:
    return Supply(
        article=line.articles[0],
        quantity=line.to_pack,
        cost=_unit_cost(line),
        tax_class=line.line.tax_class if line.line is not None else "",
    )


def _unit_cost(line: OrderLine) -> Decimal | None:
    """Price of one metre, piece or millilitre; None if the line is open."""
    if line.is_open or line.line is None or line.line.price is None:
        return None
    with localcontext(prec=60):
        return (line.line.price / line.line.contains).quantize(UNIT_STEP, ROUND_HALF_UP)


def require_tax_classes(prices: PriceList, rates: Rates) -> None:
    """
    Raises:
        ConfigurationError: lines of the list whose tax class the rates have not, all of them.
    """
    if problems := list(_unknown_tax_classes(prices, rates)):
        raise ConfigurationError(problems)


def _unknown_tax_classes(prices: PriceList, rates: Rates) -> Iterator[Problem]:
    lines: dict[str, list[PriceLine]] = {}
    for line in prices.lines:
        if line.tax_class and line.tax_class not in rates.tax.classes:
            lines.setdefault(line.tax_class, []).append(line)
    for name, own in lines.items():
        others = f", the first of {len(own)} such rows" if own[1:] else ""
        yield Problem(
            file=prices.file,
            line=own[0].line,
            column=prices.columns[TAX_CLASS],
            subject=TAX_CLASS,
            found=f"{quoted(name)}{others}",
            expected=f"{one_of(name, rates.tax.classes)}, as in the rates, or an empty cell",
        )
