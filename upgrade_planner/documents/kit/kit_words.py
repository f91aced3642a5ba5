"""Money of a kit in words, and what its articles are for."""

from collections.abc import Iterator, Sequence
from decimal import Decimal

from upgrade_planner.configuration.values.insulation import parse_insulation
from upgrade_planner.configuration.values.measures import Quantity
from upgrade_planner.configuration.values.quantities import Dimension
from upgrade_planner.configuration.values.sizes import parse_wire_size
from upgrade_planner.documents.words.articles import trait_words
from upgrade_planner.documents.words.figures import ENGLISH, figures_of
from upgrade_planner.documents.words.needs import need_words
from upgrade_planner.documents.words.quantities import counted, quantity_words
from upgrade_planner.documents.words.wording import NBSP
from upgrade_planner.kit.common_needs import common_needs
from upgrade_planner.kit.filling_bags import BagLine
from upgrade_planner.kit.matching import Alternative, Otherwise
from upgrade_planner.kit.orders import Order, OrderLine
from upgrade_planner.kit.packing import Kit
from upgrade_planner.kit.prices.money import Currency
from upgrade_planner.kit.prices.price_list import PriceLine

MOST_NAMED = 4
"""Wires named for one article. Source: our assumption; more nobody reads."""


def money_words(amount: Decimal, code: str, currency: Currency | None) -> str:
    """
    An amount as English papers print it; with three letters if the shop's settings do not say.

    A currency that the shop prints with fewer decimals than the amount has is not rounded.
    """
    if currency is None or amount != amount.quantize(currency.step):
        return f"{amount:.2f}{NBSP}{code}"
    return figures_of(ENGLISH).money(amount, currency)


def excluding_words(order: Order) -> str:
    """`excluding 2 open lines`; "" if all lines have a price."""
    count = len(order.open_lines)
    return f"excluding {counted(count, 'open line', space=NBSP)}" if count else ""


def used_for_words(names: Sequence[str]) -> str:
    """The wires and parts that an article is for, the first few of their names."""
    words = list(names)
    if len(words) > MOST_NAMED:
        words[MOST_NAMED - 1 :] = [f"{len(words) - MOST_NAMED + 1} more"]
    return ", ".join(words)


def why_words(line: OrderLine, units: str = "both") -> str:
    """Why a line is open, or what is different about what is packed instead; else ""."""
    if line.nearest is not None:
        near = ", ".join(trait_words(text, units) for text in line.nearest.traits.values() if text)
        return f"{line.why_open}; nearest is {line.nearest.number}: {near}"
    if line.why_open:
        return str(line.why_open)
    return "; ".join(sorted({alternative_words(one, units) for one in line.stand_ins}))


def stand_in_words(kit: Kit, line: BagLine, units: str) -> str:
    """What is different if an alternative was taken: `C-164: colour BK for BU`; else ""."""
    taken = kit.taken_for(line)
    return f"{line.line.number}: {why_words(taken, units)}" if taken and line.line else ""


def alternative_words(alternative: Alternative, units: str = "both") -> str:
    """What is different about a line that may stand in."""
    reasons = ["the shop's own alternative"] if alternative.is_named else []
    reasons += [_otherwise_words(one, alternative.line, units) for one in alternative.otherwise]
    if alternative.needs_other_terminals:
        size = alternative.line.traits["size"]
        reasons.append(f"terminals for {trait_words(size, units)} are needed")
    return "; ".join(reasons)


def _otherwise_words(one: Otherwise, line: PriceLine, units: str) -> str:
    offered, wanted = (trait_words(text, units) for text in (one.offered, one.wanted))
    match one.trait:
        case "size":
            larger, least = (_area(text, units) for text in (one.offered, one.wanted))
            return f"next larger cable, {offered} ({larger}) for {wanted} ({least})"
        case "insulation":
            warmer, least = (_rated(text, units) for text in (one.offered, one.wanted))
            return f"insulation {offered} ({warmer}) for {wanted} ({least})"
        case "colour":
            return f"colour {offered} for {wanted}: tag both ends {wanted}"
        case "bore":
            return f"bore {offered} for {wanted}; it shrinks {line.ratio}:1 and so still fits"
    return f"{one.trait} {offered} for {wanted}"


def _area(size: str, units: str) -> str:
    area = Quantity(parse_wire_size(size).area_mm2, Dimension.AREA)
    return quantity_words(area, ".3g", units, space=" ")


def _rated(insulation: str, units: str) -> str:
    rated = Quantity(parse_insulation(insulation).rated_c, Dimension.TEMPERATURE)
    return quantity_words(rated, ".0f", units, space=" ")


def needed_lines(kit: Kit) -> Iterator[str]:
    """What the jobs commonly need, each line once, with the numbers of the jobs if several."""
    found: dict[str, list[int]] = {}
    for number, job in enumerate(kit.jobs, start=1):
        for need in (need for plan in job.plans for need in common_needs(plan)):
            jobs = found.setdefault(need_words(need), [])
            jobs += [] if number in jobs else [number]
    for words, jobs in found.items():
        several = f" (job {', '.join(map(str, jobs))})" if len(kit.jobs) > 1 else ""
        yield f"{words}{several}"
