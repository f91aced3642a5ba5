"""What one or several plans take in all: steps, hours, parts, cable."""

from collections.abc import Iterable

from upgrade_planner.attributes import frozen
from upgrade_planner.kit.articles import EACH
from upgrade_planner.kit.labour import labour
from upgrade_planner.kit.labour_table import Minutes, added
from upgrade_planner.kit.materials import consumption
from upgrade_planner.planning.plan import Plan


@frozen(kw_only=True)
class JobTotals:
    """
    Sums over all operations.

    Attributes:
        cable_m: Cable, links and resistance wire. [m]
        parts: Components, fuses and their holders, relay sockets.
        terminals: Terminals, splices, connector pins and seals.
        small: Caps, tags, grommets, ties, clamps.
    """

    steps: int
    minutes: Minutes
    cable_m: float
    parts: int
    terminals: int
    small: int


def job_totals(plans: Iterable[Plan]) -> JobTotals:
    """The sums over plans, as they stand in their parts lists."""
    all_plans = tuple(plans)
    used = [m for plan in all_plans for found in consumption(plan).values() for m in found]

    def pieces(*shelves: str) -> int:
        counted = (m for m in used if m.article.shelf in shelves and m.article.unit == EACH)
        return int(sum(m.quantity for m in counted))

    return JobTotals(
        steps=sum(len(plan.steps) for plan in all_plans),
        minutes=added(labour(plan).total for plan in all_plans),
        cable_m=float(sum(m.quantity for m in used if m.article.shelf == "cable")),
        parts=pieces("parts", "protection"),
        terminals=pieces("terminals"),
        small=pieces("sealing", "harness"),
    )
