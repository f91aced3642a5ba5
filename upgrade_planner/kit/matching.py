"""The line of a price list for each needed article, and what may stand in when it is missing."""

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from difflib import SequenceMatcher

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.values.barrels import barrel_for
from upgrade_planner.configuration.values.insulation import parse_insulation
from upgrade_planner.configuration.values.sizes import parse_wire_size
from upgrade_planner.kit.articles import Article
from upgrade_planner.kit.cutting.reels import cut
from upgrade_planner.kit.prices.price_list import PriceLine, PriceList, wanted_traits
from upgrade_planner.kit.selling import sale
from upgrade_planner.kit.substitutes import ColourRule, Traits, bore_mm, objection

MOST_OFFERED = 3
"""Alternatives told for one article. Source: our assumption; more are no longer read."""

MOST_TAGGED = 2
"""Other colours among them, so that a larger cable of the right colour is seen too. Source:
our assumption."""

NAMES = ("name", "barrel", "style")
"""Traits that are words: two spellings may mean the same."""

LIKENESS = 0.6
"""From which a name may have been meant, 0 to 1. Source: our assumption."""

TAGS_PER_PIECE = 2
"""One on each end of a wire of another colour. Source: our assumption."""


ANY_COLOUR = ColourRule()
"""Of no vehicle in particular."""


@frozen
class Otherwise:
    """A trait of what is offered that is not as wanted, both in the spelling of price lists."""

    trait: str
    offered: str
    wanted: str


@frozen(kw_only=True)
class Alternative:
    """
    A line that may stand in for an article.

    Attributes:
        is_named: The shop names it as its own choice.
        otherwise: What is different about it.
        needs_other_terminals: The terminals of the kit do not fit it.
    """

    line: PriceLine
    is_named: bool = False
    otherwise: tuple[Otherwise, ...] = ()
    needs_other_terminals: bool = False

    @property
    def is_tagged(self) -> bool:
        """Whether the wire has another colour: a tag with the right one goes on each end."""
        return any(one.trait == "colour" for one in self.otherwise)


@frozen(kw_only=True)
class Match:
    """
    What the price list has for one article.

    Attributes:
        line: The line that fits; None if there is none.
        alternatives: If it is missing, has no price or is not enough: what may stand in.
        nearest: If there is no line: one that only has another name, barrel or style.
    """

    article: Article
    line: PriceLine | None
    alternatives: tuple[Alternative, ...] = ()
    nearest: PriceLine | None = None

    @property
    def is_open(self) -> bool:
        """No line, or none with a price: it cannot be sold as it is, and never counts as zero."""
        return self.line is None or self.line.price is None


def match(
    article: Article,
    prices: PriceList,
    quantity: Decimal = Decimal(0),
    pieces: Sequence[Decimal] = (),
    colours: ColourRule = ANY_COLOUR,
) -> Match:
    """
    The line for an article, and alternatives if the shelf does not hold the quantity.

    Of several lines those that state most traits; of these one with a price, that the shelf holds,
    that it has at all, the cheapest for the quantity, the first of the file.

    Args:
        article: What is needed.
        prices: The list.
        quantity: How much, in the unit of the article.
        pieces: Lengths of it that are to be cut. [m]
        colours: Which other colours its wires may not have.
    """
    line = _best(prices.fitting(article), quantity, pieces)
    if line and line.price is not None and line.in_stock > 0 and holds(line, quantity, pieces):
        return Match(article=article, line=line)
    found = _alternatives(article, line, prices, colours)
    near = None if line else _nearest(article, prices)
    return Match(article=article, line=line, alternatives=found, nearest=near)


def _nearest(article: Article, prices: PriceList) -> PriceLine | None:
    """The line whose names are most like those wanted, all its other traits being equal."""
    wanted = wanted_traits(article)

    def likeness(line: PriceLine) -> float:
        if any(line.traits[name] not in ("", wanted[name]) for name in wanted if name not in NAMES):
            return 0.0
        names = [(wanted[name], line.traits[name]) for name in wanted if name in NAMES]
        return min((SequenceMatcher(None, *pair).ratio() for pair in names), default=0.0)

    near = max(prices.neighbours(article.sort), key=likeness, default=None)
    return near if near is not None and likeness(near) >= LIKENESS else None


def _best(
    lines: Sequence[PriceLine], quantity: Decimal, pieces: Sequence[Decimal]
) -> PriceLine | None:
    own = [line for line in lines if line.specificity == lines[0].specificity]
    if len(own) < 2:
        return own[0] if own else None

    def preference(line: PriceLine) -> tuple[bool, bool, bool, Decimal, int]:
        is_short = line.in_stock <= 0
        return (
            line.price is None,
            not holds(line, quantity, pieces),
            is_short,
            _cost(line, quantity, pieces),
            line.line,
        )

    return min(own, key=preference)


def _cost(line: PriceLine, quantity: Decimal, pieces: Sequence[Decimal]) -> Decimal:
    """What the quantity costs, or one unit of the article if none is asked for."""
    sold = sale(line, quantity, pieces) if quantity else None
    if line.price is None or (quantity and sold is None):
        return Decimal("Infinity")
    return line.price / line.contains if sold is None else sold.amount or Decimal(0)


def holds(line: PriceLine, quantity: Decimal, pieces: Sequence[Decimal] = ()) -> bool:
    """Whether the shelf has that much, and all pieces can be cut from it."""
    if line.in_stock < quantity:
        return False
    if sum(pieces) <= max(line.lengths, default=Decimal(0)):
        return True  # one reel gives them all
    return not cut(pieces, line.lengths).uncut


def _alternatives(
    article: Article, line: PriceLine | None, prices: PriceList, colours: ColourRule
) -> tuple[Alternative, ...]:
    """Lawful ones with price and stock: the shop's own choice first, then the nearest."""
    wanted = wanted_traits(article)
    named = prices.by_number.get(line.alternative) if line and line.alternative else None
    found = [
        other
        for other in {id(one): one for one in _candidates(article, wanted, prices)}.values()
        if other is not line and _may_serve(article.sort, wanted, other, colours)
    ]
    found.sort(key=lambda other: _distance(wanted, other))
    if named is not None and _may_serve(article.sort, wanted, named, colours):
        found = [named, *(other for other in found if other is not named)]
    offered = [_alternative(wanted, other, other is named) for other in found]
    tagged = [one for one in offered if one.is_tagged][MOST_TAGGED:]
    return tuple(one for one in offered if one not in tagged)[:MOST_OFFERED]


def _candidates(article: Article, wanted: Traits, prices: PriceList) -> Iterator[PriceLine]:
    match article.sort:
        case "cable":
            yield from prices.neighbours("cable", _sizes(wanted["size"], prices))
        case "resistance wire" | "heat-shrink":
            yield from prices.neighbours(article.sort)


def _sizes(wanted: str, prices: PriceList) -> Iterable[str]:
    """Sizes that the list has and that may stand in."""
    traits = {"size": wanted}
    return [
        size
        for size in prices.main_values("cable")
        if size and not objection("cable", traits, {"size": size})
    ]


def _may_serve(sort: str, wanted: Traits, other: PriceLine, colours: ColourRule) -> bool:
    if other.price is None or other.in_stock <= 0:
        return False
    # A trait left empty fits any value, but nobody can say that it is as good as the one wanted.
    is_vague = any(
        value and not other.traits[name] for name, value in wanted.items() if name != "colour"
    )
    if is_vague or colours.bars(wanted.get("colour", ""), other.traits.get("colour", "")):
        return False
    return not objection(sort, wanted, other.traits, other.ratio)


def _distance(wanted: Traits, other: PriceLine) -> tuple[bool, bool, float, bool, float, int]:
    """
    Same terminals first, then the right colour, least copper or bore, the right main colour, the
    least insulation that serves.
    """
    traits = other.traits
    if "bore" in traits:
        return False, False, float(bore_mm(traits["bore"])), False, 0.0, other.line
    terminals = wanted["size"] != traits["size"] and _needs_other_terminals(
        wanted["size"], traits["size"]
    )
    area = parse_wire_size(traits["size"]).area_mm2
    is_other_main = traits["colour"].split("/", 1)[0] != wanted["colour"].split("/", 1)[0]
    is_other = _is_other_colour(wanted, traits)
    return terminals, is_other, area, is_other_main, _rated_c(traits), other.line


def _rated_c(traits: Traits) -> float:
    return parse_insulation(traits["insulation"]).rated_c


def _is_other_colour(wanted: Traits, traits: Traits) -> bool:
    return bool(traits.get("colour")) and wanted.get("colour") != traits["colour"]


def _alternative(wanted: Traits, other: PriceLine, is_named: bool) -> Alternative:
    otherwise = tuple(
        Otherwise(name, other.traits[name], value)
        for name, value in wanted.items()
        if value and other.traits[name] and value != other.traits[name]
    )
    return Alternative(
        line=other,
        is_named=is_named,
        otherwise=otherwise,
        needs_other_terminals=any(
            _needs_other_terminals(one.wanted, one.offered)
            for one in otherwise
            if one.trait == "size"
        ),
    )


def _needs_other_terminals(wanted: str, offered: str) -> bool:
    return barrel_for(parse_wire_size(wanted)) != barrel_for(parse_wire_size(offered))
