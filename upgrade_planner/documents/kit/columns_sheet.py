"""What the columns of a price list mean, as a text to keep beside it."""

from collections.abc import Iterator

from upgrade_planner.kit.articles import sorts
from upgrade_planner.kit.prices.price_columns import price_columns, trait_columns

HEAD = """\
Columns of the price list, in any order; capitals or not. Other columns are your own: they are kept.
A cell of a trait that is left empty means "any".
"""


def columns_sheet() -> str:
    """Every column with its meaning and an example, every sort of article with its traits."""
    return "\n".join([HEAD, *_columns(), "", *_traits(), "", *_sorts()]) + "\n"


def _columns() -> Iterator[str]:
    for column in price_columns().values():
        need = "needed" if column.needed else "if wanted"
        yield f"{column.name} ({need}): {column.meaning}. Example: {column.example}"


def _traits() -> Iterator[str]:
    yield "Columns of traits, and the articles that have them:"
    for trait in trait_columns():
        names = (sort.name for sort in sorts().values() if trait in sort.traits)
        yield f"{trait}: {', '.join(names)}"


def _sorts() -> Iterator[str]:
    yield "Words for the column article, the shelf, how it is counted, its traits:"
    for sort in sorts().values():
        traits = ", ".join(sort.traits) or "none"
        yield f"{sort.name}: {sort.shelf}; {sort.unit}; {traits}"
