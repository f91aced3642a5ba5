"""
One order for several jobs: what goes into each bag, what the shelf has, what is missing, the price.

Quantities are in the unit of the article (m, each, ml) and exact.
"""

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from decimal import ROUND_CEILING, Decimal
from enum import StrEnum

from attrs import Factory, evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.kit.articles import EACH, Article, Material, article
from upgrade_planner.kit.filling_bags import Bag, BagKey, BagLine, Need, bags_of, fill
from upgrade_planner.kit.matching import (
    ANY_COLOUR,
    TAGS_PER_PIECE,
    Alternative,
    Match,
    holds,
    match,
)
from upgrade_planner.kit.prices.money import rounded_up
from upgrade_planner.kit.prices.price_list import PriceLine, PriceList
from upgrade_planner.kit.selling import HUNDREDTH, Sale, sale
from upgrade_planner.kit.substitutes import ColourRule

SPARES = "spares"
"""Name of the bag with what is packed beyond the need."""

WITHOUT_SPARE = ("parts",)
"""Shelves of which nothing is packed beyond the need: nobody spoils an alternator while crimping.
Source: our assumption."""

SORTS_WITHOUT_SPARE = ("resistance wire",)
"""Cut to its ohms: another piece is another resistance."""

LEAST_SPARE_M = Decimal("0.5")
"""A shorter spare of cable mends nothing, unless the wires are as short. [m] Source: our
assumption."""

_ZERO = Decimal(0)
_FIGURES = re.compile(r"[0-9]+|[^\W\d_]+")


@frozen(kw_only=True)
class Stage:
    """
    One visit of a job and what its operations take; negative quantities come back.

    Attributes:
        colours: By its wires, which other colours an article may not have.
    """

    name: str = ""
    materials: tuple[Material, ...]
    colours: Mapping[tuple[str, ...], ColourRule] = Factory(dict)


@frozen(kw_only=True)
class Job:
    """
    One upgrade, of so many vehicles alike.

    Attributes:
        times: Vehicles; each gets bags of its own.
    """

    name: str
    stages: tuple[Stage, ...]
    times: int = 1


class WhyOpen(StrEnum):
    """Why a line of an order has no price."""

    NOT_LISTED = "not in the price list"
    NO_PRICE = "no price in the list"
    FAULTY_ROW = "its row in the list has a fault"
    TOO_LONG = "a piece is longer than a reel"


@frozen(kw_only=True)
class OrderLine:
    """
    All that is packed from one line of the price list, or of one article that has no line.

    Attributes:
        articles: What is asked for; several if the line fits any value of a trait.
        line: None if the list has none.
        needed: By the plans.
        to_pack: With the spare.
        in_stock: How much of that the shelf has; for cable, in pieces that can be cut from it.
        sale: What all of it costs; None if it is open.
        stand_ins: The alternatives that were taken.
        alternatives: What may stand in for what is missing.
        nearest: Of what is not listed, a line with another name.
    """

    articles: tuple[Article, ...]
    line: PriceLine | None
    needed: Decimal
    to_pack: Decimal
    in_stock: Decimal
    sale: Sale | None
    stand_ins: tuple[Alternative, ...] = ()
    alternatives: tuple[Alternative, ...] = ()
    nearest: PriceLine | None = None

    @property
    def missing(self) -> Decimal:
        """What must be got before it can be packed."""
        return self.to_pack - self.in_stock

    @property
    def is_open(self) -> bool:
        """It has no price; the total leaves it out."""
        return self.sale is None or self.sale.amount is None

    @property
    def why_open(self) -> WhyOpen | None:
        """Why the total leaves it out; None if it does not."""
        if self.line is None:
            return WhyOpen.NOT_LISTED
        if self.line.price is None:
            return WhyOpen.FAULTY_ROW if self.line.is_faulty else WhyOpen.NO_PRICE
        return WhyOpen.TOO_LONG if self.sale is None else None


@frozen(kw_only=True)
class Order:
    """
    An order.

    Attributes:
        lines: Along the places on the shelves; those without a place behind, by article.
        bags: By job, vehicle, stage and place; the spares last.
        given_back: Articles that come back to the shelf; not set against the need.
    """

    currency: str
    lines: tuple[OrderLine, ...]
    bags: tuple[Bag, ...]
    given_back: tuple[Material, ...]

    @property
    def open_lines(self) -> tuple[OrderLine, ...]:
        """Lines without a price."""
        return tuple(line for line in self.lines if line.is_open)

    @property
    def total(self) -> Decimal:
        """Sum of the amounts of all lines that have one."""
        amounts = (line.sale.amount for line in self.lines if line.sale)
        return sum((amount for amount in amounts if amount is not None), Decimal("0.00"))

    @property
    def total_words(self) -> str:
        """The total, and how many lines it leaves out: `12.50 EUR, excluding 2 open lines`."""
        count = len(self.open_lines)
        lines = "line" if count == 1 else "lines"
        return f"{self.total} {self.currency}" + (
            f", excluding {count} open {lines}" if count else ""
        )


def order(
    jobs: Iterable[Job],
    prices: PriceList,
    *,
    spare_ratio: Decimal = _ZERO,
    takes_alternatives: bool = False,
) -> Order:
    """
    One order for several jobs.

    Args:
        jobs: What is to be done.
        prices: The list it is ordered from.
        spare_ratio: Packed beyond the need of all but parts, 0.1 for 10 %; pieces are rounded up,
            metres to the next centimetre. The spares lie in a bag of their own.
        takes_alternatives: Where the shelf has too little, the first alternative that it has enough
            of and that takes the same terminals.

    Raises:
        ValueError: a spare below zero, a job less than once, pieces that are not the quantity.
    """
    if spare_ratio < 0:
        raise ValueError(f"a spare of zero or more is wanted, found {spare_ratio}")
    needs, given_back = _needs(jobs)
    chosen = _chosen(needs, spare_ratio, prices, takes_alternatives=takes_alternatives)
    tags = [tag for need in needs for tag in _tags(need, chosen[need.article])]
    needs += tags
    if tags:
        total = _by_article(needs)
        tag = tags[0].article
        chosen[tag] = _Choice(match(tag, prices, _with_spare(tag, total[tag], spare_ratio)), None)
    needs += _spares(needs, spare_ratio)
    groups: dict[object, list[Need]] = defaultdict(list)
    for need in needs:
        groups[chosen[need.article].key].append(need)
    packed, lines = [], []
    for group in groups.values():
        line, filled = _order_line(group, chosen)
        lines.append(line)
        packed += filled
    lines.sort(key=_walk)
    return Order(
        currency=prices.currency, lines=tuple(lines), bags=bags_of(packed), given_back=given_back
    )


def _walk(line: OrderLine) -> tuple[bool, tuple[tuple[bool, int, str], ...], object]:
    """Along the places on the shelves, where the list has them; the rest behind, by article."""
    place = line.line.shelf_place if line.line else ""
    return not place, natural_order(place), line.articles[0].shelf_order


def natural_order(place: str) -> tuple[tuple[bool, int, str], ...]:
    """
    A key by which A 2 comes before A 10.

    Example:
        >>> sorted(["A 10", "A2", "B 1", "a 9"], key=natural_order)
        ['A2', 'a 9', 'A 10', 'B 1']
    """
    parts = _FIGURES.findall(place.casefold())
    return tuple((part.isdecimal(), int(part) if part.isdecimal() else 0, part) for part in parts)


def _needs(jobs: Iterable[Job]) -> tuple[list[Need], tuple[Material, ...]]:
    needs, given_back = [], []
    for number, job in enumerate(jobs):
        if job.times < 1:
            raise ValueError(f"{job.name}: once or more is wanted, found {job.times}")
        for vehicle in range(1, job.times + 1):
            for position, stage in enumerate(job.stages):
                for material in stage.materials:
                    if material.quantity < 0:
                        given_back.append(material)
                        continue
                    key = (number, job.name, vehicle, position, stage.name, material.place)
                    rule = stage.colours.get(material.wires, ANY_COLOUR)
                    needs.append(_need(key, material, rule))
    return needs, tuple(given_back)


def _need(bag: BagKey, material: Material, colours: ColourRule) -> Need:
    pieces, quantity = material.pieces, material.quantity
    if pieces and sum(pieces, _ZERO) != quantity:
        raise ValueError(f"{material.article}: pieces of {sum(pieces)}, but {quantity} in all")
    if material.article.unit == EACH:
        quantity = quantity.to_integral_value(ROUND_CEILING)
    return Need(
        bag=bag,
        article=material.article,
        needed=material.quantity,
        to_pack=quantity,
        pieces=pieces,
        wires=material.wires,
        colours=colours,
    )


@frozen(eq=False)
class _Choice:
    """The match of an article and the alternative that is taken, if one is."""

    found: Match
    alternative: Alternative | None

    @property
    def line(self) -> PriceLine | None:
        return self.alternative.line if self.alternative else self.found.line

    @property
    def key(self) -> object:
        """The same for all articles that are packed from one line."""
        return self.line.line if self.line else self.found.article


def _by_article(needs: Iterable[Need]) -> Mapping[Article, Decimal]:
    total: dict[Article, Decimal] = defaultdict(Decimal)
    for need in needs:
        total[need.article] += need.to_pack
    return total


def _with_spare(
    one: Article, quantity: Decimal, ratio: Decimal, pieces: Sequence[Decimal] = ()
) -> Decimal:
    if not ratio or one.shelf in WITHOUT_SPARE or one.sort in SORTS_WITHOUT_SPARE:
        return quantity
    step = Decimal(1) if one.unit == EACH else HUNDREDTH
    extra = rounded_up(quantity * ratio, step).quantize(step)
    least = min(max(pieces), LEAST_SPARE_M) if pieces else extra
    return quantity + max(extra, least)


def _chosen(
    needs: Sequence[Need], ratio: Decimal, prices: PriceList, *, takes_alternatives: bool
) -> dict[Article, _Choice]:
    pieces, rules = _pieces(needs), _rules(needs)
    chosen = {}
    for one, quantity in _by_article(needs).items():
        wanted = _with_spare(one, quantity, ratio, pieces[one])
        cuts = [*pieces[one], *_spare_pieces(wanted - quantity, pieces[one])]
        found = match(one, prices, wanted, cuts, rules[one])
        usable = (
            other
            for other in found.alternatives
            if not other.needs_other_terminals and holds(other.line, wanted, cuts)
        )
        chosen[one] = _Choice(found, next(usable, None) if takes_alternatives else None)
    return chosen


def _pieces(needs: Iterable[Need]) -> Mapping[Article, list[Decimal]]:
    found: dict[Article, list[Decimal]] = defaultdict(list)
    for need in needs:
        found[need.article] += need.pieces
    return found


def _rules(needs: Iterable[Need]) -> Mapping[Article, ColourRule]:
    """What all wires of an article bar together."""
    found: dict[Article, ColourRule] = defaultdict(ColourRule)
    for need in needs:
        found[need.article] |= need.colours
    return found


def _spare_pieces(extra: Decimal, pieces: Sequence[Decimal]) -> tuple[Decimal, ...]:
    """A spare length in pieces, the longest as long as the longest that may be spoilt."""
    if not pieces or not extra:
        return ()
    whole, rest = divmod(extra, max(pieces))
    return (*(max(pieces),) * int(whole), *((rest,) if rest else ()))


def _tags(need: Need, choice: _Choice) -> list[Need]:
    """Tags for wires that get another colour, in the bag of the wires."""
    if not choice.alternative or not choice.alternative.is_tagged:
        return []
    count = Decimal(TAGS_PER_PIECE * max(len(need.pieces), 1))
    return [evolve(need, article=article("tag"), needed=count, to_pack=count, pieces=())]


def _spares(needs: Sequence[Need], ratio: Decimal) -> list[Need]:
    """What is packed beyond the need."""
    bag = (2**31, SPARES, 0, 0, "", "")
    spares, pieces = [], _pieces(needs)
    for one, quantity in _by_article(needs).items():
        extra = _with_spare(one, quantity, ratio, pieces[one]) - quantity
        if extra:
            spares.append(
                Need(
                    bag=bag,
                    article=one,
                    needed=_ZERO,
                    to_pack=extra,
                    pieces=_spare_pieces(extra, pieces[one]),
                    wires=(),
                )
            )
    return spares


def _order_line(
    needs: list[Need], chosen: Mapping[Article, _Choice]
) -> tuple[OrderLine, list[BagLine]]:
    articles = sorted({need.article for need in needs}, key=lambda one: one.shelf_order)
    choices = [chosen[one] for one in articles]
    line = choices[0].line
    to_pack = sum((need.to_pack for need in needs), _ZERO)
    pieces = [piece for need in needs for piece in need.pieces]
    sold = sale(line, to_pack, pieces) if line is not None else None
    filled = fill(needs, line)
    alternatives = {id(a): a for choice in choices for a in choice.found.alternatives}
    return (
        OrderLine(
            articles=tuple(articles),
            line=line,
            needed=sum((need.needed for need in needs), _ZERO),
            to_pack=to_pack,
            in_stock=sum((one.in_stock for one in filled), _ZERO),
            sale=sold,
            stand_ins=tuple(choice.alternative for choice in choices if choice.alternative),
            alternatives=tuple(alternatives.values()),
            nearest=choices[0].found.nearest if line is None else None,
        ),
        filled,
    )
