"""Attributes that differ, in words: `size: 12 SAE → 8 SAE`."""

from collections.abc import Mapping
from typing import Any

from upgrade_planner.comparison.why import Attribute, Difference
from upgrade_planner.configuration.model import Connection, TerminalRef
from upgrade_planner.configuration.values.measures import Quantity
from upgrade_planner.configuration.values.quantities import (
    Dimension,
    format_quantity,
    unit_inside,
)
from upgrade_planner.configuration.values.sizes import WireSize
from upgrade_planner.documents.words.quantities import US_UNITS, sizes_for_us
from upgrade_planner.documents.words.wire_words import size_words
from upgrade_planner.documents.words.wording import role_words


def difference_words(difference: Difference, units: str, *, brief: bool = False) -> str:
    """
    A difference in one line.

    Args:
        difference: What differs.
        units: `metric`, `us` or `both`; both is metric.
        brief: True leaves out that it is a rating, and the colon: part of a sentence.
    """
    values = (difference.before, difference.after)
    sizes = sizes_for_us({value for value in values if isinstance(value, WireSize)})
    before, after = (_value_words(value, units, sizes) for value in values)
    colon = "" if brief else ":"
    return f"{_attribute_words(difference, brief)}{colon} {before or '–'} → {after or '–'}"


def rating_value_words(rating: Quantity, units: str) -> str:
    """A measured rating as the trade writes it."""
    return _quantity_words(rating.number, rating.dimension, units)


def _attribute_words(difference: Difference, brief: bool) -> str:
    if difference.attribute is Attribute.RATING:
        name = role_words(difference.name)
        return name if brief else f"rating {name}"
    return f"{difference.attribute} {difference.name}".strip()


def _value_words(value: Any, units: str, sizes: Mapping[WireSize, str]) -> str:
    """A value as the trade writes it: `7 mH`, `60 A`, `off, on`."""
    match value:
        case None:
            return ""
        case Quantity(number=number, dimension=dimension):
            return _quantity_words(number, dimension, units)
        case WireSize():
            return sizes[value] if units == "us" else size_words(value, units)
        case Mapping():
            return ", ".join(
                f"{position}: {' + '.join('-'.join(group) for group in groups) or 'open'}"
                for position, groups in value.items()
            )
        case float():
            return f"{value:g}"
        case (str(label), Connection() as connection):
            return f"{label}, {connection.label}"
        case tuple():
            return _several_words(value)
    return str(value)


def _several_words(values: tuple[Any, ...]) -> str:
    """Ends of a wire, or the ways of a fuse box."""
    if all(isinstance(value, TerminalRef) for value in values):
        return " – ".join(map(str, values))
    return ", ".join(f"{way.end} {way.rated_current_a:g} A" for way in values)


def _quantity_words(number: float, dimension: Dimension, units: str) -> str:
    unit = US_UNITS.get(unit_inside(dimension)) if units == "us" else None
    return format_quantity(number, dimension, unit)
