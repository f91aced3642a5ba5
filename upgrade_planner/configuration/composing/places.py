"""What stands against the places and routes of a vehicle, and where its parts are mounted."""

from collections.abc import Iterator, Mapping

from upgrade_planner.configuration.files.faults import ELSEWHERE, Fault, one_of, quoted
from upgrade_planner.configuration.files.loaded import ANY, Gaps
from upgrade_planner.configuration.files.positions import Origin
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Component
from upgrade_planner.configuration.structuring.entries import RouteEntry, VehicleFile


def unreached_places(vehicle: VehicleFile, gaps: Gaps) -> frozenset[str]:
    """Places that no route leads to, so that no wire can; none if there is only one place."""
    places = {place.id for place in vehicle.place}
    if len(places) < 2 or gaps.has("route", ANY):
        return frozenset()
    return frozenset(places - {end for route in vehicle.route for end in (route.start, route.end)})


def place_faults(file: str, vehicle: VehicleFile, gaps: Gaps) -> list[Fault]:
    """Everything that can be said of places, routes and mounting without looking at the parts."""
    return [
        *_repeated(vehicle),
        *_half_positions(vehicle),
        *_unreached(vehicle, gaps),
        *(fault for route in vehicle.route for fault in _route_faults(route, vehicle, gaps)),
        *_mounting_faults(file, vehicle, gaps),
    ]


def _repeated(vehicle: VehicleFile) -> Iterator[Fault]:
    first: dict[str, Origin] = {}
    for place in vehicle.place:
        at = Origin(place.origin.file, (*place.origin.path, "id"))
        if place.id in first:
            found = f"the place {quoted(place.id)} a second time (the first is {ELSEWHERE})"
            yield Fault(at, place.id, found, "another id", first[place.id])
        first.setdefault(place.id, at)


def _half_positions(vehicle: VehicleFile) -> Iterator[Fault]:
    for place in vehicle.place:
        given = {"along": place.along, "across": place.across}
        missing = [key for key, value in given.items() if value is None]
        if len(missing) == 1:
            key = next(key for key in given if key not in missing)
            at = Origin(place.origin.file, (*place.origin.path, key))
            expected = f"{missing[0]}, too: a position is two numbers"
            yield Fault(at, place.id, f"{key} without {missing[0]}", expected)


def _unreached(vehicle: VehicleFile, gaps: Gaps) -> Iterator[Fault]:
    unreached = unreached_places(vehicle, gaps)
    for place in vehicle.place:
        if place.id in unreached:
            expected = f'a [[route]] with from or to = "{place.id}"'
            yield Fault(place.origin, place.id, "a place without a route", expected)


def _route_faults(route: RouteEntry, vehicle: VehicleFile, gaps: Gaps) -> Iterator[Fault]:
    places = [place.id for place in vehicle.place]
    subject = f"route {route.start} to {route.end}"
    for key, end in (("from", route.start), ("to", route.end)):
        if end not in places and not gaps.has("place", end):
            at = Origin(route.origin.file, (*route.origin.path, key))
            yield Fault(at, subject, f"no place {quoted(end)}", one_of(end, places))
    if route.start == route.end:
        at = Origin(route.origin.file, (*route.origin.path, "to"))
        yield Fault(at, subject, "both ends at one place", "two different places")


def _mounting_faults(file: str, vehicle: VehicleFile, gaps: Gaps) -> Iterator[Fault]:
    places = [place.id for place in vehicle.place]
    for role, place in vehicle.mounting.items():
        if place not in places and not gaps.has("place", place):
            at = Origin(file, ("mounting", role))
            yield Fault(at, role, f"no place {quoted(place)}", one_of(place, places))


def passage_faults(
    vehicle: VehicleFile,
    components: Mapping[str, Component],
    removed: Mapping[tuple[str, str], Origin],
    gaps: Gaps,
) -> Iterator[Fault]:
    """Routes that pass through something that is no connector."""
    connectors = [role for role, part in components.items() if part.family is Family.CONNECTOR]
    for route in vehicle.route:
        role = route.through
        if role is None or role in connectors or gaps.has("role", role):
            continue
        at = Origin(route.origin.file, (*route.origin.path, "through"))
        subject = f"route {route.start} to {route.end}"
        gone = removed.get(("role", role))
        if gone is not None:
            found = f"a connector removed, {quoted(role)}, that routes pass through ({ELSEWHERE})"
            yield Fault(gone, role, found, "a connector that no route names", at)
        elif role in components:
            yield Fault(
                at, subject, f"{quoted(role)}, which is no connector", _one_of(role, connectors)
            )
        else:
            yield Fault(at, subject, f"no connector {quoted(role)}", _one_of(role, connectors))


def _one_of(role: str, connectors: list[str]) -> str:
    return one_of(role, connectors) if connectors else "no `through`: there is no connector"
