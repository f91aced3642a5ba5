"""
Expected ranges of readings, from the computed wiring and the tolerances of its parts.

Each tolerance is moved alone to its lowest and its highest value, and the network solved again;
the rises of a reading are combined as the root of their squares, and so are its falls. Parts stray
independently of each other. That all stray the same way at once is so rare that a range of full
corners would be wide enough to hide a bad joint, and the number of corners doubles with each
tolerance. A reading outside the range is no fault by itself: the sheet says "pass, look".

Conductor temperatures stay those of the nominal state; that they may be lower is a tolerance.
"""

from collections.abc import Iterable, Mapping
from functools import lru_cache
from math import hypot

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.electrical.mean_points import mean_of
from upgrade_planner.electrical.network.condensed import Watched
from upgrade_planner.electrical.network.laws import Element
from upgrade_planner.electrical.network.solving import Solution
from upgrade_planner.electrical.network.unsolvable import NetworkError
from upgrade_planner.electrical.operating_points import (
    KEPT_POINTS,
    OperatingPoint,
    operating_point,
)
from upgrade_planner.electrical.states import MEASURED
from upgrade_planner.readings.points import PlacedReading, ReadingPoint, placed
from upgrade_planner.readings.tolerances import (
    TOLERANCES,
    ElementOrigins,
    Tolerance,
    elements_strayed,
)
from upgrade_planner.readings.watching import seen_by

METER_RATIO = 0.01
"""Error of a workshop meter, of what it shows. [1] Source: our assumption: common accuracy of hand
meters, 0.5 to 1 %."""

METER_DIGITS = 2
"""Error of a workshop meter besides, in steps of its last digit. [1] Source: as `METER_RATIO`."""

LOW_RANGE_V = 2.0
"""Below this a meter with 2000 steps is in its 2 V range. [V]"""

LOW_DIGIT_V = 1e-3
"""Its last digit there. [V]"""

DIGIT_V = 1e-2
"""Its last digit in the 20 V range. [V]"""


@frozen
class Range:
    """Expected values of a reading. [V]"""

    low_v: float
    nominal_v: float
    high_v: float

    def __contains__(self, value_v: float) -> bool:
        return self.low_v <= value_v <= self.high_v

    @property
    def shown(self) -> "Range":
        """What a sound meter may show of it: wider by the error of the meter itself."""
        low, high = (abs(v) * METER_RATIO + METER_DIGITS * _digit_v(v) for v in self.ends)
        return Range(self.low_v - low, self.nominal_v, self.high_v + high)

    @property
    def ends(self) -> tuple[float, float]:
        """Its lowest and its highest value. [V]"""
        return self.low_v, self.high_v


def _digit_v(value_v: float) -> float:
    """Last digit of the meter in the range that a value takes. [V]"""
    return LOW_DIGIT_V if abs(value_v) < LOW_RANGE_V else DIGIT_V


Points = Mapping[str, OperatingPoint]


def points_for(readings: Iterable[ReadingPoint], configuration: Configuration) -> Points:
    """Operating points of the states the readings need; a state without solution is left out."""
    wanted = {reading.state for reading in readings}
    found = {}
    for state in MEASURED:
        if state.name in wanted:
            try:
                found[state.name] = mean_of(operating_point(configuration, state))
            except NetworkError:
                continue
    return found


def predicted(
    readings: Iterable[ReadingPoint],
    configuration: Configuration,
    points: Points | None = None,
    width: float = 1.0,
) -> Mapping[str, Range | None]:
    """
    Expected range of each reading, by its id.

    Args:
        readings: The readings.
        configuration: The wiring.
        points: Operating points, if they are computed already.
        width: Multiplies all tolerances. [1]

    Returns:
        None for a reading that cannot be measured here. A reading whose state has no solution is
        left out: nothing is known of it.
    """
    wanted = tuple(readings)
    points = points_for(wanted, configuration) if points is None else points
    found: dict[str, Range | None] = {}
    for state, point in points.items():
        here = [reading for reading in wanted if reading.state == state]
        taken = tuple(at for at in (placed(reading, configuration) for reading in here) if at)
        found |= dict.fromkeys((reading.id for reading in here), None)
        found |= _ranges(taken, point, width)
    return found


def with_meter_error(ranges: Mapping[str, Range | None]) -> Mapping[str, Range | None]:
    """Expected ranges with the error of the meter itself."""
    return {name: found and found.shown for name, found in ranges.items()}


@lru_cache(maxsize=KEPT_POINTS)
def _ranges(
    readings: tuple[PlacedReading, ...], point: OperatingPoint, width: float
) -> Mapping[str, Range]:
    """The readings of one state, kept: what ends one stage of a job begins the next."""
    parts = ElementOrigins(point.configuration)
    nominal = [reading.value_v(point.solution) for reading in readings]
    rises, falls = [0.0] * len(readings), [0.0] * len(readings)
    if readings:
        seen = seen_by(readings, point)
        for tolerance in TOLERANCES:
            both = _shifted(tolerance, seen, parts, width)
            for number, reading in enumerate(readings):
                changes = [reading.value_v(s) - nominal[number] for s in both]
                rises[number] = hypot(rises[number], max([0.0, *changes]))
                falls[number] = hypot(falls[number], min([0.0, *changes]))
    return {
        reading.point.id: Range(value - fall, value, value + rise)
        for reading, value, rise, fall in zip(readings, nominal, rises, falls, strict=True)
    }


def _shifted(
    tolerance: Tolerance, seen: Watched, parts: ElementOrigins, width: float
) -> list[Solution]:
    """The state solved with one quantity low and high; nothing if no part has that quantity."""
    elements: Iterable[Element] = seen.base.network.elements
    found = []
    for ratio in tolerance.ratios(width):
        if ratio != 1.0:
            changed = elements_strayed(elements, tolerance, max(ratio, 0.0), parts)
            elements = [seen.element(name) for name in changed]  # the same for any ratio
            found += [seen.solved(changed)] if changed else []
    return [solution for solution in found if solution is not None]
