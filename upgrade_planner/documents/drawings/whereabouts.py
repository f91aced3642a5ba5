"""At which places and in which looms a job is: the facts behind the picture of where it is."""

from collections.abc import Iterable, Iterator
from string import ascii_uppercase

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.part_changes import (
    PartChange,
    PartKept,
    PartRelocated,
)
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import FromVehicle, IntoTarget, Kept, WireChange
from upgrade_planner.configuration.ways import Place, Route


@frozen(kw_only=True)
class PlaceOfWork:
    """
    A place with work, or at the end of a loom that is opened.

    Attributes:
        parts: Parts that come, go or change there.
        wires: Changed wires that never leave it.
    """

    place: Place
    parts: tuple[PartChange, ...]
    wires: tuple[WireChange, ...]


@frozen(kw_only=True)
class Band:
    """
    A way between two places in which wires change.

    Attributes:
        letter: Names it in picture and list.
        stays: How many of its wires stay as they are.
    """

    letter: str
    route: Route
    changes: tuple[WireChange, ...]
    stays: int


@frozen(kw_only=True)
class Whereabouts:
    """Places and ways of a job, from front to rear or in walking order."""

    places: tuple[PlaceOfWork, ...]
    bands: tuple[Band, ...]

    @property
    def can_be_drawn(self) -> bool:
        """True if each place has a position."""
        return bool(self.places) and all(item.place.along is not None for item in self.places)


def whereabouts(comparison: Comparison) -> Whereabouts:
    """Where the work of a comparison is."""
    places = {place.id: place for place in comparison.before.places}
    places |= {place.id: place for place in comparison.after.places}
    ways = _ways(comparison)
    live = [route for route, changes in ways.items() if not all(map(_stays, changes))]
    live.sort(key=lambda route: _down(places, (route.start, route.end)))
    bands = tuple(
        Band(
            letter=letter,
            route=route,
            changes=tuple(change for change in ways[route] if not _stays(change)),
            stays=sum(map(_stays, ways[route])),
        )
        for letter, route in zip(_letters(), live, strict=False)
    )
    ends = {end for band in bands for end in (band.route.start, band.route.end)}
    found = (_at(comparison, place) for place in places.values())
    work = (item for item in found if item.parts or item.wires or item.place.id in ends)
    return Whereabouts(
        places=tuple(sorted(work, key=lambda item: _down(places, (item.place.id,)))), bands=bands
    )


def _stays(change: WireChange) -> bool:
    return isinstance(change, Kept)


def _letters() -> Iterator[str]:
    """A to Z, then AA, AB and so on."""
    yield from ascii_uppercase
    for first in ascii_uppercase:
        yield from (first + second for second in ascii_uppercase)


def _down(places: dict[str, Place], ends: Iterable[str]) -> tuple[float, int, str]:
    """From front to rear where positions are given, else in walking order."""
    found = [places[end] for end in ends]
    along = sum(place.along or 0.0 for place in found) / len(found)
    return along, min(place.walk for place in found), found[0].id


def _ways(comparison: Comparison) -> dict[Route, list[WireChange]]:
    """Wires by the routes that they take, now or then."""
    found: dict[Route, list[WireChange]] = {}
    for change in comparison.wires:
        for route in dict.fromkeys(_routes(comparison, change)):
            found.setdefault(route, []).append(change)
    return found


def _routes(comparison: Comparison, change: WireChange) -> Iterator[Route]:
    if isinstance(change, FromVehicle) and not _stays(change):
        yield from comparison.before.runs[change.before.id].routes
    if isinstance(change, IntoTarget):
        yield from comparison.after.runs[change.after.id].routes


def _at(comparison: Comparison, place: Place) -> PlaceOfWork:
    return PlaceOfWork(
        place=place,
        parts=tuple(part for part in comparison.parts if place.id in _places_of(part)),
        wires=tuple(
            change
            for change in comparison.wires
            if not _stays(change) and place.id in _lies_at(comparison, change)
        ),
    )


def _places_of(change: PartChange) -> set[str]:
    """Where something is done to a part."""
    if isinstance(change, PartKept):
        return set()
    if isinstance(change, PartRelocated):
        return {change.before.place, change.after.place}
    return {change.part.place}


def _lies_at(comparison: Comparison, change: WireChange) -> set[str]:
    """Place of a wire that takes no way to another one."""
    if list(_routes(comparison, change)):
        return set()
    side = comparison.after if isinstance(change, IntoTarget) else comparison.before
    return {side.place_of(change.wire.start).id}
