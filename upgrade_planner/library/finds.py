"""Configurations by what one sees of them: filters over the traits of the library."""

from collections.abc import Mapping

from upgrade_planner.attributes import frozen
from upgrade_planner.library.collected import LeftOut, Library, Shipped
from upgrade_planner.library.trait_matching import checked_filter, has_words, is_wanted

VEHICLE = "vehicle"
"""Filter that looks at the name and title of the vehicle, not at a trait."""

Filters = Mapping[str, str]
"""What was typed, by the name of the trait."""


@frozen(kw_only=True)
class Finds:
    """
    Configurations that all filters let pass.

    Attributes:
        existing: Values that exist of each trait that was asked for.
        alone: How many configurations each filter alone lets pass.
    """

    filters: Filters
    shipped: tuple[Shipped, ...]
    existing: Mapping[str, tuple[str, ...]]
    alone: Mapping[str, int]
    left_out: tuple[LeftOut, ...]


def find(library: Library, filters: Filters) -> Finds:
    """
    The shipped configurations that are as wanted, grouped by vehicle.

    Raises:
        BadFilter: a value that is no voltage, no terminal or no number.
    """
    existing = {name: _existing(library, name) for name in filters}
    checked = {name: _checked(name, text, existing[name]) for name, text in filters.items()}
    passed = {
        name: [one for one in library.shipped if _passes(one, name, value)]
        for name, value in checked.items()
    }
    found = [one for one in library.shipped if all(one in row for row in passed.values())]
    found.sort(key=lambda one: (one.configuration.vehicle.title, one.name))
    return Finds(
        filters=filters,
        shipped=tuple(found),
        existing=existing,
        alone={name: len(row) for name, row in passed.items()},
        left_out=library.left_out,
    )


def _checked(name: str, text: str, existing: tuple[str, ...]) -> str:
    return text.strip().lower() if name == VEHICLE else checked_filter(name, text, existing)


def _passes(one: Shipped, name: str, value: str) -> bool:
    if name == VEHICLE:
        vehicle = one.configuration.vehicle
        return has_words(f"{vehicle.name} {vehicle.title} {vehicle.name.replace('_', ' ')}", value)
    return is_wanted(one.traits[name], value)


def _existing(library: Library, name: str) -> tuple[str, ...]:
    if name == VEHICLE:
        return tuple(sorted({one.configuration.vehicle.name for one in library.shipped}))
    words = {one.traits[name].words for one in library.shipped} - {""}
    return tuple(sorted(words, key=_by_number))


def _by_number(words: str) -> tuple[float, str]:
    first = words.split(maxsplit=1)[0]
    return (float(first) if first.replace(".", "", 1).isdigit() else 0.0, words)
