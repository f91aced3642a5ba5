"""What a job buys, from its plan and a price list."""

from collections.abc import Iterator
from decimal import Decimal

from upgrade_planner.configuration.files.faults import one_of, quoted
from upgrade_planner.errors import ConfigurationError, Problem
from upgrade_planner.kit.materials import consumption
from upgrade_planner.kit.orders import Job, OrderLine, Stage, order
from upgrade_planner.kit.prices.money import ZERO
from upgrade_planner.kit.prices.price_list import PriceLine, PriceList
from upgrade_planner.kit.selling import price_of_one, sale, to_hundredth
from upgrade_planner.planning.plan import Plan
from upgrade_planner.quote.priced import Supply
from upgrade_planner.quote.rates import Rates

TAX_CLASS = "tax_class"
"""Column of price lists."""


def supplies_of(
    plan: Plan, prices: PriceList, *, charges_rests: bool = False
) -> tuple[Supply, ...]:
    """
    Every article that the job takes, in the order of the shelves.

    Args:
        plan: The job.
        prices: The list.
        charges_rests: Whether it pays whole packs and minima of what is not on the shelf; else it
            pays for what it uses.
    """
    used = tuple(material for taken in consumption(plan).values() for material in taken)
    jobs = [Job(name=plan.check_code, stages=(Stage(materials=used),))]
    lines = order(jobs, prices).lines
    return tuple(_supply(line, charges_rests=charges_rests) for line in lines)


def _supply(line: OrderLine, *, charges_rests: bool) -> Supply:
    cost = None if line.is_open or line.line is None else price_of_one(line.line)
    is_bought = line.line is not None and line.missing > 0
    quantity = _with_rest(line) if charges_rests and is_bought else line.to_pack
    return Supply(
        article=line.articles[0],
        quantity=quantity,
        cost=cost,
        tax_class=line.line.tax_class if line.line is not None else "",
        rest=ZERO if cost is None else _rest(line, quantity * cost),
        is_bought=is_bought,
    )


def _with_rest(line: OrderLine) -> Decimal:
    """What the shelf gives, and whole selling units of what it has not."""
    bought = sale(line.line, line.missing) if line.line is not None else None
    return line.to_pack if bought is None else line.in_stock + bought.quantity


def _rest(line: OrderLine, charged: Decimal) -> Decimal:
    """What all whole units cost beyond what is charged for."""
    amount = line.sale.amount if line.sale else None
    return ZERO if amount is None else max(ZERO, amount - to_hundredth(charged))


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
