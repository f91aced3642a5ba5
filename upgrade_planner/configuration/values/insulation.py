"""
Insulation classes and the conductor temperature each stands for good.

The classes are in data/insulation.csv. Where publications disagree the lowest figure is taken,
because the age and edition of the cable in an old vehicle are not known.
"""

from functools import cache

from attrs import field
from attrs.validators import gt

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.own_data import data_rows
from upgrade_planner.configuration.values.notation import NotationError, nearest_words, shown_scalar

NEAREST = 3  # how many names an error offers


class InsulationError(NotationError):
    """A text that names no insulation class."""


@frozen(kw_only=True)
class Insulation:
    """
    One insulation class.

    Attributes:
        name: As written in profiles: `GPT`, `TXL`, `ISO-B`, `COTTON`.
        rated_c: Highest conductor temperature it stands for good. [°C]
        description: What it is, in words.
        source: Where the temperature comes from.
        status: `secondary`, `memory` or `assumption`: how far the figure can be trusted.
    """

    name: str
    rated_c: float = field(validator=gt(0))
    description: str
    source: str
    status: str


@cache
def insulations() -> tuple[Insulation, ...]:
    """All insulation classes, in the order of the table."""
    return tuple(_insulation(row) for row in data_rows(__package__, "insulation.csv"))


def _insulation(row: dict[str, str]) -> Insulation:
    return Insulation(
        name=row["name"],
        rated_c=float(row["rated_c"]),
        description=row["description"],
        source=row["source"],
        status=row["status"],
    )


@frozen
class InsulationChoice:
    """Insulation of one wire: a single class, or one for each size that the wire is given in."""

    options: tuple[Insulation, ...]


def parse_insulation_choice(text: object) -> InsulationChoice:
    """
    One class, or as many as the wire has sizes: `GPT or PVC`.

    Raises:
        InsulationError: as at `parse_insulation`.
    """
    if not isinstance(text, str):
        return InsulationChoice((parse_insulation(text),))
    return InsulationChoice(tuple(parse_insulation(part.strip()) for part in text.split(" or ")))


def parse_insulation(text: object) -> Insulation:
    """
    The insulation class of that name, in capitals or not, `ISO B` like `ISO-B`.

    Raises:
        InsulationError: The text names no class of the table, or is not a text at all.

    Example:
        >>> parse_insulation("gxl").rated_c
        125.0
    """
    by_name = {insulation.name: insulation for insulation in insulations()}
    if not isinstance(text, str):
        raise InsulationError(shown_scalar(text), 'an insulation class in quotes, e.g. "GPT"')
    name = "-".join(text.upper().split())
    if name not in by_name:
        nearest = nearest_words(name, by_name, most=NEAREST)
        expected = f"an insulation class: {', '.join(by_name)}"
        raise InsulationError(shown_scalar(text), expected, nearest)
    return by_name[name]
