"""
Articles of a parts counter and quantities of them, as structured values instead of texts.

`data/articles.toml` lists the sorts of article, the shelves they lie on and the traits that tell
one article of a sort from another.
"""

from collections.abc import Iterable, Mapping
from decimal import Decimal
from functools import cache
from typing import Any

from attrs import evolve, field

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.own_data import data_table

METRE, EACH, MILLILITRE = "m", "each", "ml"


@frozen(kw_only=True)
class Sort:
    """
    A sort of article.

    Attributes:
        name: Key in data/articles.toml, and the word in the column `article` of price lists.
        shelf: Shelf it lies on, one of `shelves()`.
        unit: `m`, `each` or `ml`.
        traits: Names of its traits, in the order in which they are written.
        words: What it is called in print.
        for_the_vehicle: It lies once in the kit of a vehicle, not by place.
    """

    name: str
    words: str
    shelf: str
    unit: str
    traits: tuple[str, ...]
    for_the_vehicle: bool


@cache
def sorts() -> Mapping[str, Sort]:
    """All sorts of article by name, in the order of the file."""
    table = {name: entry for name, entry in _table().items() if isinstance(entry, dict)}
    return {
        name: Sort(
            name=name,
            words=entry["words"],
            shelf=entry["shelf"],
            unit=entry["unit"],
            traits=tuple(entry["traits"]),
            for_the_vehicle=entry.get("for_the_vehicle", False),
        )
        for name, entry in table.items()
    }


@cache
def shelves() -> tuple[str, ...]:
    """The shelves in the order in which a person walks along them."""
    return tuple(_table()["shelves"])


@cache
def _table() -> dict[str, Any]:
    return data_table(__package__, "articles.toml")


@frozen(order=True)
class Article:
    """
    One article: its sort and its traits, in the order of data/articles.toml.

    Built by `article`, which checks the names; ordered by sort and traits as texts.
    """

    sort: str
    traits: tuple[tuple[str, str], ...]

    def trait(self, name: str) -> str:
        """
        Value of a trait.

        Raises:
            KeyError: This sort of article has no such trait.
        """
        return dict(self.traits)[name]

    @property
    def shelf(self) -> str:
        """Shelf it lies on."""
        return sorts()[self.sort].shelf

    @property
    def unit(self) -> str:
        """What it is counted in: `m`, `each` or `ml`."""
        return sorts()[self.sort].unit

    @property
    def shelf_order(self) -> tuple[int, int, tuple[tuple[str, str], ...]]:
        """Key for sorting: shelf, sort within the shelf, traits."""
        return (shelves().index(self.shelf), list(sorts()).index(self.sort), self.traits)


def article(sort: str, **traits: str) -> Article:
    """
    An article of that sort; all its traits must be given.

    Raises:
        KeyError: There is no such sort.
        ValueError: The sort has other traits.
    """
    wanted = sorts()[sort].traits
    if set(traits) != set(wanted):
        raise ValueError(f"{sort} has the traits {wanted}, found {tuple(traits)}")
    return Article(
        sort, tuple((name, traits[name].replace("\N{NO-BREAK SPACE}", " ")) for name in wanted)
    )


@frozen(kw_only=True)
class Material:
    """
    What one operation takes from the shelf, or gives back to it.

    Attributes:
        quantity: In the unit of the article; exact.
        wires: Wires or parts it is for.
        operation_id: Operation that takes it; "" in a sum over operations.
        place: Id of the place where it is used, or "".
        pieces: Lengths to cut, for what is sold by the metre. [m]
    """

    article: Article
    quantity: Decimal
    wires: tuple[str, ...] = ()
    operation_id: str = ""
    place: str = ""
    pieces: tuple[Decimal, ...] = field(default=())


def totals(materials: Iterable[Material]) -> tuple[Material, ...]:
    """Materials of the same article added up, in the order of the shelves; pieces are kept."""
    sums: dict[Article, Material] = {}
    for material in materials:
        known = sums.get(material.article)
        sums[material.article] = _sum(known, material) if known else _of_no_operation(material)
    return tuple(sorted(sums.values(), key=lambda material: material.article.shelf_order))


def _of_no_operation(material: Material) -> Material:
    return evolve(material, operation_id="", place="")


def _sum(known: Material, other: Material) -> Material:
    return evolve(
        known,
        quantity=known.quantity + other.quantity,
        wires=tuple(sorted({*known.wires, *other.wires})),
        pieces=tuple(sorted((*known.pieces, *other.pieces), reverse=True)),
    )
