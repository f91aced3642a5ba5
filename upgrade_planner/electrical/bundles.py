"""
Temperature of a wire among the warm wires of its sleeve or loom.

Model: as at `heat_balance`, the wires of a covered run are one thicker cylinder in still air. It is
warmest at its axis, where every wire is taken to lie; each wire makes its own heat. A wire is never
reckoned cooler than alone in the air: the few wires of a vehicle's loom lie at its rim as well.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from math import fsum, inf, log, pi, sqrt

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import Conductor, Configuration, Wire
from upgrade_planner.configuration.values.sizes import WireSize
from upgrade_planner.configuration.ways import Covering, Route
from upgrade_planner.electrical.air_cooling import heat_given_off
from upgrade_planner.electrical.conductors import resistance_20c_per_m, resistance_at
from upgrade_planner.electrical.heat_balance import (
    BUNDLE_CONDUCTIVITY_W_PER_M_K,
    BUNDLE_DIAMETER_RATIO,
    COPPER_MELTS_C,
    INSULATION_CONDUCTIVITY_W_PER_M_K,
    KEPT,
    MM_PER_M,
    conductor_diameter_mm,
    conductor_temperature,
    current_for_temperature,
    outside_diameter_mm,
)
from upgrade_planner.electrical.metals import heating_current
from upgrade_planner.electrical.roots import Rising, root_of_rising

ROUNDS = 30  # of heating and resistance; about eight are needed below 200 °C
SETTLED_K = 0.01  # far below the degree that is printed
KEPT_ROUTES = 64  # whose wires are kept; a vehicle has some ten


@frozen
class Neighbour:
    """A wire of the same sleeve or loom by its id, and its current. [A]"""

    name: str
    size: WireSize
    current_a: float


Neighbours = tuple[Neighbour, ...]

Load = tuple[WireSize, float]
"""A size, and the current that a wire of it carries. [A]"""


@frozen
class Bundle:
    """
    What lies around a wire on one covered run.

    Attributes:
        ambient_c: Air around the bundle. [°C]
        neighbours: The other wires of it.
    """

    ambient_c: float
    neighbours: Neighbours


def temperature_among(size: WireSize, current_a: float, bundle: Bundle) -> float:
    """
    Temperature of a conductor that lies with others, each with its own current, for a long time.

    Args:
        size: A standard size.
        current_a: Its current. [A]
        bundle: The others, and the air.

    Returns:
        Temperature of the copper; infinity if no balance exists below its melting point. [°C]

    Raises:
        ValueError: As at `heat_balance.conductor_temperature`.

    Source:
        Heat balance of one cylinder, as at `heat_balance`; tests hold it against the bundle curves
        of MIL-W-5088L at full and partial load.

    Example:
        >>> from upgrade_planner.configuration.values.sizes import parse_wire_size
        >>> size = parse_wire_size("14 AWG")
        >>> alone_c = temperature_among(size, 20.0, Bundle(30.0, ()))
        >>> pair = Bundle(30.0, (Neighbour("other", size, 20.0),))
        >>> beside_c = temperature_among(size, 20.0, pair)
        >>> round(alone_c), round(beside_c)
        (52, 63)
    """
    alone_c = conductor_temperature(size, current_a, bundle.ambient_c)
    if not any(one.current_a for one in bundle.neighbours) or alone_c == inf:
        return alone_c
    own, others = (size, current_a), [(one.size, one.current_a) for one in bundle.neighbours]
    loads = sorted([own, *(load for load in others if load[1])], key=_by_area)
    outside_mm = BUNDLE_DIAMETER_RATIO * _together_mm([size, *(each for each, _ in others)])
    found_c = _balanced_c(tuple(loads), outside_mm / MM_PER_M, bundle.ambient_c)
    return max(alone_c, found_c[loads.index(own)])


def _by_area(load: Load) -> tuple[float, float]:
    return load[0].area_mm2, load[1]


@lru_cache(maxsize=KEPT)
def _balanced_c(loads: Sequence[Load], outside_m: float, ambient_c: float) -> Sequence[float]:
    """Temperatures of loaded wires, all at the axis of their bundle: once for all of them. [°C]"""
    losses = _losses(outside_m, ambient_c)
    ohm_per_m = [resistance_20c_per_m(size) for size, _ in loads]
    walls = [_through_wall(size) for size, _ in loads]
    found_c = [ambient_c] * len(loads)
    for _ in range(ROUNDS):
        heats = [
            current_a**2 * resistance_at(ohms, warm_c)
            for (_, current_a), ohms, warm_c in zip(loads, ohm_per_m, found_c, strict=True)
        ]
        core_c = losses.root(sum(heats)) + sum(heats) / (4 * pi * BUNDLE_CONDUCTIVITY_W_PER_M_K)
        before, found_c = found_c, [core_c + q * wall for q, wall in zip(heats, walls, strict=True)]
        if max(found_c) >= COPPER_MELTS_C:
            return [inf] * len(loads)
        if max(abs(a - b) for a, b in zip(before, found_c, strict=True)) < SETTLED_K:
            break
    return found_c


def _together_mm(sizes: Iterable[WireSize]) -> float:
    """√ΣD²: diameter of a circle of the area that round wires take, air left out. [mm]"""
    return sqrt(fsum(outside_diameter_mm(size) ** 2 for size in sizes))  # in any order the same


@lru_cache(maxsize=KEPT)
def _through_wall(size: WireSize) -> float:
    """From copper to surface. [K·m/W]"""
    ratio = outside_diameter_mm(size) / conductor_diameter_mm(size)
    return log(ratio) / (2 * pi * INSULATION_CONDUCTIVITY_W_PER_M_K)


@lru_cache(maxsize=KEPT)
def _losses(outside_m: float, ambient_c: float) -> Rising:
    """What a bundle gives off [W/m] by the temperature of its surface [°C]."""

    def lost(surface_c: float) -> float:
        return heat_given_off(outside_m, surface_c, ambient_c)

    return Rising(lost, ambient_c, COPPER_MELTS_C)


def current_among(size: WireSize, conductor_c: float, bundle: Bundle) -> float:
    """
    Current that brings a wire to a temperature beside others; inverse of `temperature_among`.

    Returns:
        The current; 0 if its neighbours alone make it as warm. [A]

    Raises:
        ValueError: As at `heat_balance.current_for_temperature`.

    Source:
        As at `temperature_among`.
    """
    alone_a = current_for_temperature(size, conductor_c, bundle.ambient_c)
    if not alone_a or not any(one.current_a for one in bundle.neighbours):
        return alone_a

    def warm_c(square: float) -> float:
        return temperature_among(size, sqrt(square), bundle)

    return sqrt(root_of_rising(warm_c, conductor_c, 0.0, alone_a**2))


def bundles_of(
    wire: Wire, configuration: Configuration, current_a: Mapping[str, float]
) -> Iterator[tuple[Route, Bundle]]:
    """
    What lies around a wire on each covered run that it takes.

    Args:
        wire: The wire.
        configuration: Its configuration.
        current_a: Current of each wire by id; of one that is not named none. [A]
    """
    for route in configuration.runs[wire.id].routes:
        if route.covering is not Covering.EXPOSED:
            others = tuple(
                Neighbour(one.id, one.size, heating_current(one, abs(current_a.get(one.id, 0.0))))
                for one in wires_along(route, configuration)
                if one.id != wire.id
            )
            yield route, Bundle(route.ambient_c, others)


@lru_cache(maxsize=KEPT_ROUTES)
def wires_along(route: Route, configuration: Configuration) -> tuple[Wire, ...]:
    """The wires of one run; resistance wire, which may not lie in a loom, is left out."""
    return tuple(
        wire
        for wire in configuration.wires
        if wire.conductor is not Conductor.RESISTANCE
        and route in configuration.runs[wire.id].routes
    )
