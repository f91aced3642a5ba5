"""What each bag of an order holds, and which bag the shelf still fills."""

from collections import Counter, defaultdict
from collections.abc import Iterable
from decimal import Decimal

from attrs import Factory

from upgrade_planner.attributes import frozen
from upgrade_planner.kit.articles import Article
from upgrade_planner.kit.cutting.reels import cut
from upgrade_planner.kit.prices.price_list import PriceLine
from upgrade_planner.kit.substitutes import ColourRule

BagKey = tuple[int, str, int, int, str, str]
"""Number and name of the job, vehicle, number and name of the stage, place."""

_ZERO = Decimal(0)


@frozen(kw_only=True)
class Need:
    """What one material asks of one bag; `colours` says which may not stand in."""

    bag: BagKey
    article: Article
    needed: Decimal
    to_pack: Decimal
    pieces: tuple[Decimal, ...]
    wires: tuple[str, ...]
    colours: ColourRule = Factory(ColourRule)


@frozen(kw_only=True)
class BagLine:
    """
    One article in one bag.

    Attributes:
        line: Line of the price list it is packed from; None if there is none.
        needed: By the plan.
        to_pack: In whole pieces; all of it is spare in the bag of the spares.
        in_stock: How much of that the shelf has when the bags are packed in their order.
    """

    bag: BagKey
    article: Article
    line: PriceLine | None
    needed: Decimal
    to_pack: Decimal
    in_stock: Decimal
    pieces: tuple[Decimal, ...] = ()
    wires: tuple[str, ...] = ()

    @property
    def missing(self) -> Decimal:
        """What must be got first."""
        return self.to_pack - self.in_stock


@frozen(kw_only=True)
class Bag:
    """
    One bag: what is needed at one place in one stage of one job on one vehicle.

    Attributes:
        vehicle: From 1; 0 for the spares.
        place: Id of the place, or "".
        lines: In the order of the shelves.
    """

    job: str
    vehicle: int
    stage: str
    place: str
    lines: tuple[BagLine, ...]


def fill(needs: Iterable[Need], line: PriceLine | None) -> list[BagLine]:
    """All needs of one line, with what the shelf has for each; the first bag is served first."""
    merged = _merged(needs)
    if line is None:
        return [_bag_line(need, None, _ZERO) for need in merged]
    if all(need.pieces for need in merged):
        return _cut_for(merged, line)
    left, filled = line.in_stock, []
    for need in merged:
        taken = min(left, need.to_pack)
        left -= taken
        filled.append(_bag_line(need, line, taken))
    return filled


def _merged(needs: Iterable[Need]) -> list[Need]:
    """One need for each article of a bag, in the order of the bags."""
    found: dict[tuple[BagKey, Article], list[Need]] = defaultdict(list)
    for need in needs:
        found[need.bag, need.article].append(need)
    return [
        Need(
            bag=bag,
            article=one,
            needed=sum((need.needed for need in same), _ZERO),
            to_pack=sum((need.to_pack for need in same), _ZERO),
            pieces=tuple(sorted((p for need in same for p in need.pieces), reverse=True)),
            wires=tuple(sorted({wire for need in same for wire in need.wires})),
        )
        for (bag, one), same in sorted(found.items(), key=lambda item: item[0])
    ]


def _cut_for(needs: Iterable[Need], line: PriceLine) -> list[BagLine]:
    all_needs = tuple(needs)
    pieces = [piece for need in all_needs for piece in need.pieces]
    at_hand = Counter(cut(pieces, line.lengths).from_stock)
    filled = []
    for need in all_needs:
        taken = _ZERO
        for piece in need.pieces:
            if at_hand[piece]:
                at_hand[piece] -= 1
                taken += piece
        filled.append(_bag_line(need, line, taken))
    return filled


def _bag_line(need: Need, line: PriceLine | None, in_stock: Decimal) -> BagLine:
    return BagLine(
        bag=need.bag,
        article=need.article,
        line=line,
        needed=need.needed,
        to_pack=need.to_pack,
        in_stock=in_stock,
        pieces=need.pieces,
        wires=need.wires,
    )


def bags_of(lines: Iterable[BagLine]) -> tuple[Bag, ...]:
    """The lines in their bags."""
    found: dict[BagKey, list[BagLine]] = defaultdict(list)
    for line in lines:
        found[line.bag].append(line)
    return tuple(
        Bag(
            job=job,
            vehicle=vehicle,
            stage=stage,
            place=place,
            lines=tuple(sorted(inside, key=lambda line: line.article.shelf_order)),
        )
        for (_, job, vehicle, _, stage, place), inside in sorted(found.items())
    )
