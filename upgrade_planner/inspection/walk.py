"""What to look at on a vehicle before anything is planned: places in walking order."""

from collections.abc import Mapping
from functools import cached_property

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import Component, Configuration, Wire
from upgrade_planner.configuration.ways import Place
from upgrade_planner.inspection.measuring import Measurement, measurements
from upgrade_planner.inspection.signs import Sign, signs


@frozen(kw_only=True)
class Stop:
    """
    One place of the walk.

    Attributes:
        parts: Parts there, by role.
        wires: Wires whose first end in walking order is here.
        ends_here: Wires that were met at an earlier place and end here.
    """

    place: Place
    parts: tuple[Component, ...]
    wires: tuple[Wire, ...]
    ends_here: tuple[Wire, ...]


@frozen(kw_only=True, eq=False)
class Inspection:
    """Everything to look at."""

    configuration: Configuration
    stops: tuple[Stop, ...]
    measurements: tuple[Measurement, ...]
    signs: tuple[Sign, ...]

    @cached_property
    def measurement_of(self) -> Mapping[tuple[str, str], Measurement]:
        """Measurements by kind and id."""
        return {(found.kind, found.id): found for found in self.measurements}


def inspection(configuration: Configuration) -> Inspection:
    """The walk round a vehicle, with the values worth measuring and the signs to look for."""
    walk = sorted(configuration.places, key=lambda place: (place.walk, place.id))
    stops = (_stop(place, configuration) for place in walk)
    return Inspection(
        configuration=configuration,
        stops=tuple(stop for stop in stops if stop.parts or stop.wires or stop.ends_here),
        measurements=measurements(configuration),
        signs=signs(configuration),
    )


def first_place(wire: Wire, configuration: Configuration) -> Place:
    """The place of the end that is met first on the walk."""
    places = (configuration.place_of(ref) for ref in wire.ends)
    return min(places, key=lambda place: (place.walk, place.id))


def _stop(place: Place, configuration: Configuration) -> Stop:
    parts = [part for part in configuration.components if part.place == place.id]
    here = [
        wire
        for wire in configuration.wires
        if any(configuration.place_of(ref).id == place.id for ref in wire.ends)
    ]
    first = {wire.id for wire in here if first_place(wire, configuration).id == place.id}
    return Stop(
        place=place,
        parts=tuple(sorted(parts, key=lambda part: part.role)),
        wires=tuple(sorted((w for w in here if w.id in first), key=lambda w: _order(w, parts))),
        ends_here=tuple(wire for wire in here if wire.id not in first),
    )


def _order(wire: Wire, parts: list[Component]) -> tuple[str, str]:
    """Wires of one part stand together."""
    roles = {part.role for part in parts}
    return min(str(ref) for ref in wire.ends if ref.role in roles), wire.id
