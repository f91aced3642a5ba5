"""What to expect at each reading of a job: before, after, and what to doubt if it is not so."""

from collections.abc import Iterable, Mapping

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.readings.defects import moves
from upgrade_planner.readings.points import PlacedReading, ReadingPoint, placed
from upgrade_planner.readings.predicting import Range, points_for, predicted, with_meter_error
from upgrade_planner.readings.suspecting import Suspect, spread_of, suspects


@frozen(kw_only=True)
class SideReading:
    """
    A reading in one configuration.

    Attributes:
        placed: Where the leads go; None if it cannot be measured.
        expected: Its range; None if it cannot be measured or the state has no solution.
    """

    placed: PlacedReading | None
    expected: Range | None


@frozen(kw_only=True)
class Expectation:
    """One reading before and after, with the suspects of the wiring after."""

    point: ReadingPoint
    before: SideReading
    after: SideReading
    suspects: tuple[Suspect, ...]


def expectations(
    readings: Iterable[ReadingPoint], before: Configuration, after: Configuration
) -> Mapping[str, Expectation]:
    """The expectation of each reading, by its id, in the order given."""
    wanted = tuple(readings)
    points = points_for(wanted, after)
    ranges = with_meter_error(predicted(wanted, after, points))
    ranges_before = ranges if before is after else with_meter_error(predicted(wanted, before))
    moved = moves(wanted, after, points)
    spread = spread_of(moved, ranges)
    return {
        reading.id: Expectation(
            point=reading,
            before=SideReading(
                placed=placed(reading, before), expected=ranges_before.get(reading.id)
            ),
            after=SideReading(placed=placed(reading, after), expected=ranges.get(reading.id)),
            suspects=suspects(reading.id, ranges, moved, spread=spread),
        )
        for reading in wanted
    }
