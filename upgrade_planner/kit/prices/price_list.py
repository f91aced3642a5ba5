"""Lines of a price and stock list, and the line that fits an article."""

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from enum import StrEnum
from functools import cached_property

from attrs import define

from upgrade_planner.attributes import frozen
from upgrade_planner.errors import ConfigurationError, Problem
from upgrade_planner.kit.articles import Article, sorts
from upgrade_planner.kit.prices.trait_texts import comparable

FOOT_M = Decimal("0.3048")
"""Source: definition of the international foot."""

MOST_REELS = 1000
"""Whole reels of a line that a cut looks at. Source: our assumption; no shelf holds more."""


class SoldBy(StrEnum):
    """Selling unit of a line."""

    EACH = "each"
    METRE = "metre"
    FOOT = "foot"
    REEL = "reel"
    PACK = "pack"

    @property
    def is_cut(self) -> bool:
        """Sold in any length, not in whole units."""
        return self in (SoldBy.METRE, SoldBy.FOOT)


@frozen(kw_only=True)
class PriceLine:
    """
    One line of a price and stock list.

    Attributes:
        line: Line of the file.
        traits: Value by name, in the spelling of `trait_texts`; "" means any.
        contains: What a selling unit holds, in the unit of the article.
        minimum: Fewest selling units sold at once.
        price: Of one selling unit, in `currency`; None if not known.
        stock: Selling units on the shelf; None if not known.
        reels: Lengths on opened reels. [m]
        ratio: How far heat-shrink shrinks; None if not known.
        number: The shop's own article number.
        supplier, supplier_number: Who sells it to the shop, and by which number; "" if not known.
        alternative: Number of another line that the shop offers instead, or "".
        lead_days: Until what is missing is there; None if not known.
        shelf_place: Where it lies; "" if not known.
        kept: The shop's own columns, name and text, not read.
        printed: Those of them that stand on papers.
        is_cut_to_length: A reel that is sold in the lengths that are cut from it.
        is_faulty: Its row has a fault, so that nobody can vouch for its price.
    """

    line: int
    sort: str
    traits: Mapping[str, str]
    sold_by: SoldBy
    contains: Decimal
    minimum: Decimal = Decimal(0)
    price: Decimal | None
    currency: str
    tax_class: str = ""
    stock: Decimal | None = None
    reels: tuple[Decimal, ...] = ()
    ratio: Decimal | None = None
    number: str
    supplier: str = ""
    supplier_number: str = ""
    alternative: str = ""
    lead_days: int | None = None
    shelf_place: str = ""
    kept: tuple[tuple[str, str], ...] = ()
    printed: tuple[tuple[str, str], ...] = ()
    is_cut_to_length: bool = False
    is_faulty: bool = False

    @property
    def lengths(self) -> tuple[Decimal, ...]:
        """
        What lies on the shelf, each length as it can be cut from. [m]

        Cable by the metre without `reels` counts as one length: the list does not say otherwise.
        """
        stock = self.stock or Decimal(0)
        if not self.sold_by.is_cut:
            return (*self.reels, *(self.contains,) * min(int(stock), MOST_REELS))
        return self.reels or ((stock * self.contains,) if stock else ())

    @property
    def in_stock(self) -> Decimal:
        """All that lies on the shelf, in the unit of the article."""
        if self.sold_by.is_cut and self.reels:
            return sum(self.reels, Decimal(0))
        return (self.stock or Decimal(0)) * self.contains + sum(self.reels, Decimal(0))

    @property
    def specificity(self) -> int:
        """Number of traits that it states."""
        return sum(bool(value) for value in self.traits.values())


def wanted_traits(article: Article) -> Mapping[str, str]:
    """Traits of a needed article in the spelling of price lists."""
    return {name: comparable(article.sort, name, value) for name, value in article.traits}


_Values = tuple[str, ...]


@define(eq=False, slots=False)
class PriceList:
    """
    A whole list, found by sort and traits without looking at every line.

    Attributes:
        file: Its name as given.
        currency: Of all prices.
        lines: In the order of the file.
        columns: Number of each column by its name, from 1.
        foreign_rows: Rows of other goods, skipped.
        mark: Decimal mark of its texts; "" if none shows it.
        warnings: Rows that became open lines, or none, by what is wrong in them.
    """

    file: str
    currency: str
    lines: tuple[PriceLine, ...]
    columns: Mapping[str, int]
    foreign_rows: int = 0
    mark: str = ""
    warnings: tuple[Problem, ...] = ()

    @cached_property
    def by_number(self) -> Mapping[str, PriceLine]:
        """Lines by the shop's own number, the first of several."""
        return {line.number: line for line in reversed(self.lines)}

    @cached_property
    def _by_traits(self) -> Mapping[str, Mapping[_Values, Mapping[_Values, list[PriceLine]]]]:
        """By sort, names of the traits that the line states, and their values."""
        index: dict[str, dict[_Values, dict[_Values, list[PriceLine]]]] = {}
        for line in self.lines:
            stated = tuple(name for name, value in line.traits.items() if value)
            values = tuple(line.traits[name] for name in stated)
            index.setdefault(line.sort, {}).setdefault(stated, {}).setdefault(values, []).append(
                line
            )
        return index

    @cached_property
    def _by_main_trait(self) -> Mapping[tuple[str, str], tuple[PriceLine, ...]]:
        found: dict[tuple[str, str], list[PriceLine]] = {}
        for line in self.lines:
            found.setdefault((line.sort, main_trait(line.sort, line.traits)), []).append(line)
        return {key: tuple(lines) for key, lines in found.items()}

    @cached_property
    def _main_traits(self) -> Mapping[str, tuple[str, ...]]:
        found: dict[str, list[str]] = {}
        for sort, value in self._by_main_trait:
            found.setdefault(sort, []).append(value)
        return {sort: tuple(values) for sort, values in found.items()}

    def fitting(self, article: Article) -> tuple[PriceLine, ...]:
        """
        The lines that fit, those that state most traits first, then in the order of the file.

        A trait that a line leaves empty fits any value.
        """
        wanted = wanted_traits(article)
        found = [
            line
            for stated, lines in self._by_traits.get(article.sort, {}).items()
            for line in lines.get(tuple(wanted[name] for name in stated), ())
        ]
        return tuple(sorted(found, key=lambda line: (-line.specificity, line.line)))

    def neighbours(self, sort: str, main_values: Iterable[str] = ()) -> Iterator[PriceLine]:
        """Lines of a sort; of some values of its first trait only, if any are given."""
        for value in main_values or self._main_traits.get(sort, ()):
            yield from self._by_main_trait.get((sort, value), ())

    def main_values(self, sort: str) -> tuple[str, ...]:
        """Values of the first trait of a sort that the list has."""
        return self._main_traits.get(sort, ())


def main_trait(sort: str, traits: Mapping[str, str]) -> str:
    """Value of the first trait of the sort; "" if it has none."""
    names = sorts()[sort].traits
    return traits[names[0]] if names else ""


def require_currency(prices: PriceList, code: str) -> None:
    """
    Prices in one currency are never added to those of another.

    Raises:
        ConfigurationError: the rates of the shop have another currency than its list.
    """
    if prices.currency != code:
        found = f"prices in {prices.currency}"
        expected = f"{code}, as the rates say; or rates in {prices.currency}, by --shop or --rates"
        raise ConfigurationError([Problem(file=prices.file, found=found, expected=expected)])
