"""Components, fuses with their holders, relays with sockets; parts that go back for exchange."""

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal

from upgrade_planner.comparison.part_changes import PartComes, PartRebuilt, PartRelocated
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import Component, Joint
from upgrade_planner.electrical.protection import fuse_ratings
from upgrade_planner.kit.articles import Article, Material, article
from upgrade_planner.planning.operations import (
    AdjustPart,
    FitPart,
    InsertFuse,
    RebuildPart,
    RemovePart,
)
from upgrade_planner.planning.plan import Plan

STYLE_OF_OLD_BOX = "as the fuse box takes"
"""Style of a fuse for a box that stays: the profile does not say which the box takes."""

BOLTED = "bolt-down"

STYLES = ("blade", "large blade", BOLTED, STYLE_OF_OLD_BOX)
"""Of fuses and their holders."""

EXCHANGED = (Family.ALTERNATOR, Family.DYNAMO, Family.STARTER)
"""Families that are sold against an old one; distributors of all kinds are too. Source: common
practice, rebuilt units with a core deposit; which kinds count as one family: our assumption."""

_RATINGS = (
    ("rated_output", "A"),
    ("rated_current", "A"),
    ("resistance", "Ω"),
    ("primary_resistance", "Ω"),
    ("power", "W"),
)
"""Ratings by which a counter tells parts of one kind apart, the first that is known."""


def fitted(operation: FitPart, plan: Plan) -> Iterator[Material]:
    """What is bought for a part that comes on; nothing if it only moves to another place."""
    part = operation.part
    change = plan.comparison.part_by_role[part.role]
    if operation.from_bag or isinstance(change, PartRelocated):
        return
    if _is_in_rebuilt(part, plan):
        return
    yield _one(_main_article(part), part)
    if part.family is Family.RELAY and any(
        t.connection.joint is Joint.BLADE for t in part.terminals
    ):
        yield _one(article("relay socket"), part)


def _is_in_rebuilt(part: Component, plan: Plan) -> bool:
    """True if it sits in a part that stays: nothing is bought for it."""
    return any(
        isinstance(change, PartRebuilt) and change.before.kind in part.rebuilt_of
        for change in plan.comparison.parts
    )


def rebuilt(operation: RebuildPart) -> Iterator[Material]:
    """What a part that stays gets; nothing where it comes from the bag."""
    part = operation.part
    if operation.gets and not operation.from_bag:
        yield _one(article("part", kind=part.kind, rating="", name=operation.gets), part)


def inserted(operation: InsertFuse, plan: Plan) -> Iterator[Material]:
    """The fuse itself; nothing where the old one goes in again."""
    part, amps = operation.part, operation.fuse.rated_current_a
    if not operation.is_old:
        is_new = isinstance(plan.comparison.part_by_role[part.role], PartComes)
        is_known = is_new or part.is_single_fuse
        style = fuse_style(part, amps) if is_known else STYLE_OF_OLD_BOX
        yield _one(fuse_article(amps, style), part)


def adjusted(operation: AdjustPart) -> Iterator[Material]:
    """A breaker of another rating is a part itself; fuses are taken as they go in."""
    if operation.part.can(Capability.RESETS) and not operation.from_bag:
        yield _one(part_article(operation.part), operation.part)


def given_back(plan: Plan) -> Iterator[tuple[RemovePart, Material]]:
    """Parts that come off and can go back as cores, for new ones of the same family."""
    comparison = plan.comparison
    wanted = Counter(
        _sold_against(op.part)
        for op in plan.operations
        if isinstance(op, FitPart) and any(fitted(op, plan))
    )
    for operation in plan.operations:
        if not isinstance(operation, RemovePart):
            continue
        change = comparison.part_by_role[operation.part.role]
        core = _sold_against(operation.part)
        is_moved = isinstance(change, PartRelocated)
        if core is not None and not is_moved and wanted[core]:
            wanted[core] -= 1
            yield operation, _one(part_article(operation.part), operation.part)


def _sold_against(part: Component) -> Family | Capability | None:
    if part.can(Capability.DISTRIBUTES):
        return Capability.DISTRIBUTES
    return part.family if part.family in EXCHANGED else None


def _main_article(part: Component) -> Article:
    if part.is_single_fuse:
        return article("fuse holder", style=fuse_style(part, part.ratings["rated_current"]))
    if part.family is Family.DIODE:
        return article("diode assembly", rating=_amps(part.ratings["rated_current"]))
    if part.family is Family.CONNECTOR:
        cavities, blade = part.ratings["cavities"], part.ratings["cavity_blade"]
        return article("connector housing", cavities=f"{cavities:g}", blade=blade)
    return part_article(part)


def part_article(part: Component) -> Article:
    """A component as it is asked for at the counter: kind, main rating, name."""
    known = ((part.ratings[name], unit) for name, unit in _RATINGS if name in part.ratings)
    rating = next((_told(value, unit) for value, unit in known), "")
    return article("part", kind=part.kind, rating=rating, name=part.name)


def _told(value: float, unit: str) -> str:
    """A rating as counters write it: `2.2 Ω`, `0.7 mΩ`."""
    is_small = unit == "Ω" and value < LEAST_OHM
    return f"{1000 * value:g} mΩ" if is_small else f"{value:g} {unit}"


LEAST_OHM = 0.01
"""Below it shunts and meters have milliohms on them. [Ω] Source: common practice."""

FUSE = "fuse"
"""The sort of article."""


def fuse_article(rated_current_a: float, style: str) -> Article:
    """A fuse by rating and style."""
    return article(FUSE, rating=_amps(rated_current_a), style=style)


def fuse_style(part: Component, rated_current_a: float) -> str:
    """
    Style of a new fuse: blade, large blade above the blade's ratings, or bolted down.

    Source:
        Ratings of each style: electrical/data/fuse_ratings.csv. That fuses on studs are bolted
        down and all other new ones are blade fuses: our assumption.
    """
    if part.is_single_fuse and any(t.connection.joint is Joint.STUD for t in part.terminals):
        return BOLTED
    for style in STYLES[:2]:
        if rated_current_a <= max(one.rating_a for one in fuse_ratings(style)):
            return style
    return BOLTED


def _amps(current_a: float) -> str:
    return f"{current_a:g} A"


def _one(what: Article, part: Component) -> Material:
    return Material(article=what, quantity=Decimal(1), wires=(part.role,))
