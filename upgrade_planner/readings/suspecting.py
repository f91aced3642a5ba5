"""
Who is to blame for a reading outside its range: the defects that move it most, two each way.
"""

from collections.abc import Mapping

from upgrade_planner.attributes import frozen
from upgrade_planner.readings.defects import Defect, Moves
from upgrade_planner.readings.predicting import Range

LEAST_MOVE_V = 0.02
"""Less is not a sign of anything on a workshop meter. [V] Source: our assumption; two steps of the
last digit of a meter with a 20 V range."""

ABOUT_RATIO = 0.1
"""Defects that move a reading this much less than the worst one count as equal. [1]
Source: our assumption."""

EQUAL_V = 1e-6
"""Moves that differ by less are equal: rounding must not choose among them. [V]
Source: our assumption; the solver's rounding is a thousandth of it."""

MOST_EACH_WAY = 2

Spread = Mapping[tuple[str, str], int]
"""How many readings each wire or part moves out of their ranges."""


@frozen(kw_only=True)
class Suspect:
    """
    What to look at if a reading is too low or too high.

    Attributes:
        direction: "low" or "high".
        wire: Id of the wire, or "".
        part: Role of the part whose ground is meant, or "".
        is_open: True if the open wire or lost ground moves the reading outside its range.
        is_joint: True if a bad joint does.
        moved_to_v: What the reading would show; the farthest of the two. [V]
    """

    direction: str
    wire: str
    part: str
    is_open: bool
    is_joint: bool
    moved_to_v: float


def suspects(
    reading: str,
    ranges: Mapping[str, Range | None],
    moved: Moves,
    most: int = MOST_EACH_WAY,
    spread: Spread | None = None,
) -> tuple[Suspect, ...]:
    """
    What to look at first if a reading is outside its range: low ones, then high ones.

    The farthest move comes first. Of those that move it about equally far, and an open wire
    anywhere in a feed does, the one that disturbs the fewest other readings comes first: what
    disturbs many is found by them.
    """
    expected = ranges.get(reading)
    if expected is None:
        return ()
    merged = _merged(moved.get(reading, {}), expected)
    spread = spread_of(moved, ranges) if spread is None else spread
    found: list[Suspect] = []
    for direction in ("low", "high"):
        outside = [suspect for suspect in merged if suspect.direction == direction]
        found += _ranked(outside, expected, spread)[:most]
    return tuple(found)


def _ranked(outside: list[Suspect], expected: Range, spread: Spread) -> list[Suspect]:
    def far_v(suspect: Suspect) -> float:
        return abs(suspect.moved_to_v - expected.nominal_v)

    farthest_v = max(map(far_v, outside), default=0.0)

    def key(suspect: Suspect) -> tuple[int, int, str]:
        behind_v = farthest_v - far_v(suspect)
        steps = 0 if behind_v <= ABOUT_RATIO * farthest_v else round(behind_v / EQUAL_V)
        place = (suspect.wire, suspect.part)
        return steps, spread.get(place, 0), suspect.wire or suspect.part

    return sorted(outside, key=key)


def _merged(values: Mapping[Defect, float], expected: Range) -> list[Suspect]:
    """Defects that lead outside the range, one entry for each wire or part and direction."""
    merged: dict[tuple[str, str, str], Suspect] = {}
    for defect, value_v in values.items():
        direction = _direction(value_v, expected)
        if not direction:
            continue
        key = (direction, defect.wire, defect.part)
        earlier = merged.get(key)
        is_open = defect.added_ohm is None
        farthest = value_v
        if earlier is not None:
            both = (earlier.moved_to_v, value_v)
            farthest = min(both) if direction == "low" else max(both)
        merged[key] = Suspect(
            direction=direction,
            wire=defect.wire,
            part=defect.part,
            is_open=is_open or (earlier is not None and earlier.is_open),
            is_joint=not is_open or (earlier is not None and earlier.is_joint),
            moved_to_v=farthest,
        )
    return list(merged.values())


def _direction(value_v: float, expected: Range) -> str:
    if value_v < expected.low_v - LEAST_MOVE_V:
        return "low"
    return "high" if value_v > expected.high_v + LEAST_MOVE_V else ""


def spread_of(moved: Moves, ranges: Mapping[str, Range | None]) -> Spread:
    """The same for all readings, and reckoned once for them."""
    counts: dict[tuple[str, str], int] = {}
    for reading, values in moved.items():
        expected = ranges.get(reading)
        if expected is None:
            continue
        outside = {
            (defect.wire, defect.part)
            for defect, value_v in values.items()
            if _direction(value_v, expected)
        }
        for key in outside:
            counts[key] = counts.get(key, 0) + 1
    return counts
