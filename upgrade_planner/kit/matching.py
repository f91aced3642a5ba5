"""The line of a price list for each needed article, and what may stand in when it is missing."""

from collections.abc import Iterable, Iterator
from decimal import Decimal

from attrs import frozen

from upgrade_planner.configuration.insulation import parse_insulation
from upgrade_planner.configuration.sizes import parse_wire_size
from upgrade_planner.kit.articles import Article
from upgrade_planner.kit.prices import PriceLine, PriceList, wanted_traits
from upgrade_planner.kit.substitutes import Traits, bore_mm, objection
from upgrade_planner.kit.terminals import barrel_for

MOST_OFFERED = 3
"""Alternatives told for one article. Source: our assumption; more are no longer read."""

TAGS_PER_PIECE = 2
"""One on each end of a wire of another colour. Source: our assumption."""


@frozen(kw_only=True)
class Alternative:
    """
    A line that may stand in for an article.

    Attributes:
        why: What is different about it, in words.
        is_tagged: The wire has another colour: a tag with the right one goes on each end.
        needs_other_terminals: The terminals of the kit do not fit it.
    """

    line: PriceLine
    why: str
    is_tagged: bool = False
    needs_other_terminals: bool = False


@frozen(kw_only=True)
class Match:
    """
    What the price list has for one article.

    Attributes:
        line: The line that fits; None if there is none.
        alternatives: If it is missing, has no price or is not enough: what may stand in.
    """

    article: Article
    line: PriceLine | None
    alternatives: tuple[Alternative, ...] = ()

    @property
    def is_open(self) -> bool:
        """No line, or none with a price: it cannot be sold as it is, and never counts as zero."""
        return self.line is None or self.line.price is None


def match(article: Article, prices: PriceList, quantity: Decimal = Decimal(0)) -> Match:
    """
    The line for an article, and alternatives if the shelf does not hold the quantity.

    Args:
        article: What is needed.
        prices: The list.
        quantity: How much, in the unit of the article.
    """
    line = prices.fitting(article)
    is_enough = line is not None and line.price is not None and line.in_stock >= quantity
    if line is not None and is_enough and line.in_stock > 0:
        return Match(article=article, line=line)
    return Match(article=article, line=line, alternatives=_alternatives(article, line, prices))


def _alternatives(
    article: Article, line: PriceLine | None, prices: PriceList
) -> tuple[Alternative, ...]:
    """Lawful ones with price and stock: the shop's own choice first, then the nearest."""
    wanted = wanted_traits(article)
    named = prices.by_number.get(line.alternative) if line and line.alternative else None
    found = [
        other
        for other in {id(one): one for one in _candidates(article, wanted, prices)}.values()
        if other is not line and _may_serve(article.sort, wanted, other)
    ]
    found.sort(key=lambda other: _distance(wanted, other))
    if named is not None and _may_serve(article.sort, wanted, named):
        found = [named, *(other for other in found if other is not named)]
    return tuple(_alternative(wanted, other, other is named) for other in found[:MOST_OFFERED])


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


def _may_serve(sort: str, wanted: Traits, other: PriceLine) -> bool:
    if other.price is None or other.in_stock <= 0:
        return False
    # A trait left empty fits any value, but nobody can say that it is as good as the one wanted.
    is_vague = any(value and not other.traits[name] for name, value in wanted.items()
                   if name != "colour")  # fmt: skip
    return not is_vague and not objection(sort, wanted, other.traits, other.ratio)


def _distance(wanted: Traits, other: PriceLine) -> tuple[float, bool, float, int]:
    """Least copper or bore first, then the right colour, then the least insulation that serves."""
    traits = other.traits
    if "bore" in traits:
        return float(bore_mm(traits["bore"])), False, 0.0, other.line
    area = parse_wire_size(traits["size"]).area_mm2
    return area, _is_other_colour(wanted, traits), _rated_c(traits), other.line


def _rated_c(traits: Traits) -> float:
    return parse_insulation(traits["insulation"]).rated_c


def _is_other_colour(wanted: Traits, traits: Traits) -> bool:
    return bool(traits.get("colour")) and wanted.get("colour") != traits["colour"]


def _alternative(wanted: Traits, other: PriceLine, is_named: bool) -> Alternative:
    differing = {name: (value, other.traits[name]) for name, value in wanted.items()
                 if value and other.traits[name] and value != other.traits[name]}  # fmt: skip
    reasons = ["the shop's own alternative"] if is_named else []
    reasons += [_words(name, *values, other) for name, values in differing.items()]
    terminals = _needs_other_terminals(*differing["size"]) if "size" in differing else False
    if terminals:
        reasons.append(f"terminals for {other.traits['size']} are needed")
    return Alternative(line=other, why="; ".join(reasons), is_tagged="colour" in differing,
                       needs_other_terminals=terminals)  # fmt: skip


def _needs_other_terminals(wanted: str, offered: str) -> bool:
    return barrel_for(parse_wire_size(wanted)) != barrel_for(parse_wire_size(offered))


def _words(name: str, wanted: str, offered: str, other: PriceLine) -> str:
    match name:
        case "size":
            areas = [parse_wire_size(size).area_mm2 for size in (offered, wanted)]
            return (
                f"next larger cable, {offered} ({areas[0]:.3g} mm²) for {wanted} ({areas[1]:.3g})"
            )
        case "insulation":
            degrees = [parse_insulation(one).rated_c for one in (offered, wanted)]
            return f"insulation {offered} ({degrees[0]:g} °C) for {wanted} ({degrees[1]:g} °C)"
        case "colour":
            return f"colour {offered} for {wanted}: tag both ends {wanted}"
        case "bore":
            return f"bore {offered} for {wanted}; it shrinks {other.ratio}:1 and so still fits"
    return f"{name} {offered} for {wanted}"
