"""
Columns of a price list.

`data/price_columns.toml` says what each column means; a column for each trait comes beside them.
"""

from collections.abc import Mapping
from functools import cache

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.own_data import data_table
from upgrade_planner.kit.articles import sorts


@frozen(kw_only=True)
class PriceColumn:
    """A column of a price list: whether it must be there, what it means, an example."""

    name: str
    needed: bool
    meaning: str
    example: str


@cache
def price_columns() -> Mapping[str, PriceColumn]:
    """Columns with a meaning of their own, by name; those of traits are not among them."""
    data = data_table(__package__, "price_columns.toml")
    return {name: PriceColumn(name=name, **entry) for name, entry in data.items()}


@cache
def trait_columns() -> tuple[str, ...]:
    """Columns for traits, in the order of articles.toml."""
    return tuple(dict.fromkeys(name for sort in sorts().values() for name in sort.traits))
