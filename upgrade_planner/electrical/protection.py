"""
Fuses: standard ratings, how fast they open, what they may be rated for, how far from the source.

A wire is protected if the device in front of it is rated for it (`rating_limits`), sits close to
the source (`greatest_unprotected_length_m`), and opens (`opening_window`, or
`fusible_links.melting_time`) before the insulation is spoiled (`withstand.withstand`). Fuse limits
hold at about 25 °C; heat lowers them.
"""

from functools import cache
from itertools import pairwise
from math import exp, inf, log

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.own_data import data_rows
from upgrade_planner.electrical.allowable_current import weakest_status
from upgrade_planner.electrical.arguments import require_above_zero

BLADE = "blade"
LARGE_BLADE = "large blade"
GLASS = "glass"

FUSE_LOAD_RATIO = 0.75
"""A fuse should not carry more of its rating for good. Source: common practice."""

# 33 CFR 183.455 (c): share of the tabulated allowable current that a device may be rated for. [1]
LOOSE_RATIO = 1.5
LOOSE_BELOW_V = 50.0  # [V] 33 CFR 183.455 (c)(1), (2)
UNPROTECTED_M = 7 * 0.0254  # [m] 33 CFR 183.455 (b)(1): 7 in, 178 mm
UNPROTECTED_SHEATHED_M = 40 * 0.0254  # [m] 33 CFR 183.455 (b)(2): 40 in, 1016 mm


@frozen(kw_only=True)
class FuseRating:
    """
    One standard rating.

    Attributes:
        rating_a: Rated current. [A]
        colour: Colour of the body; colours repeat between body sizes, so the number decides.
        source: Where rating and colour come from.
        status: `secondary`.
    """

    rating_a: float
    colour: str
    source: str
    status: str


@frozen(kw_only=True)
class OpeningWindow:
    """
    Between which times a fuse opens.

    Attributes:
        least_s: It holds at least so long; 0 if nothing is published. [s]
        most_s: It has opened by then; infinity if it need not open. [s]
        source: Published points that the times lie between.
        status: The weakest status among them.
    """

    least_s: float
    most_s: float
    source: str
    status: str


@frozen(kw_only=True)
class RatingLimits:
    """
    Greatest rating of the device in front of a wire.

    Attributes:
        strict_a: Not above the allowable current of the wire. [A]
        loose_a: What the boat regulation lets pass. [A]
        source: Where both come from.
    """

    strict_a: float
    loose_a: float
    source: str


@frozen(kw_only=True)
class _Point:
    """One published opening time."""

    multiple: float
    time_s: float
    source: str
    status: str


def fuse_ratings(kind: str) -> tuple[FuseRating, ...]:
    """
    Standard ratings of a kind of fuse, smallest first.

    Args:
        kind: `BLADE` (regular and mini body) or `LARGE_BLADE` (form E).

    Raises:
        ValueError: No ratings are listed for the kind.

    Source:
        Blade fuse colour chart (colours per ISO 8820-3); DIN 72581-3 form E, as quoted.

    Example:
        >>> [rating.colour for rating in fuse_ratings("blade") if rating.rating_a == 15]
        ['blue']
    """
    found = [
        FuseRating(
            rating_a=float(row["rating_a"]),
            colour=row["colour"],
            source=row["source"],
            status=row["status"],
        )
        for row in data_rows(__package__, "fuse_ratings.csv")
        if row["kind"] == kind
    ]
    if not found:
        raise ValueError(f"kind: {BLADE} or {LARGE_BLADE} is wanted, found {kind}")
    return tuple(sorted(found, key=lambda rating: rating.rating_a))


def rating_limits(allowable_a: float, system_voltage_v: float = 12.0) -> RatingLimits:
    """
    Greatest rating of the device in front of a wire, by the strict and by the loose rule.

    Args:
        allowable_a: Allowable continuous current of the wire. [A]
        system_voltage_v: Nominal voltage; from 50 V the loose rule falls away. [V]

    Raises:
        ValueError: allowable_a is below 0 or not finite, or system_voltage_v is not above 0.

    Source:
        Strict: FAA AC 43.13-1B paragraph 11-48, the device opens before the rating of the wire is
        passed. Loose: 33 CFR 183.455 (c), 150 % of the tabulated current under 50 V.

    Example:
        >>> rating_limits(20.0).loose_a
        30.0
    """
    if not 0 <= allowable_a < inf:
        raise ValueError(
            f"allowable_a: a finite current from 0 up is wanted, found {allowable_a:g}"
        )
    require_above_zero(system_voltage_v, "system_voltage_v")
    ratio = LOOSE_RATIO if system_voltage_v < LOOSE_BELOW_V else 1.0
    source = "strict: FAA AC 43.13-1B, 11-48; loose: 33 CFR 183.455 (c)"
    return RatingLimits(strict_a=allowable_a, loose_a=ratio * allowable_a, source=source)


def greatest_unprotected_length_m(*, sheathed: bool) -> float:
    """
    Greatest length of conductor between the source of current and its fuse. [m]

    Args:
        sheathed: The conductor lies in a sheath or enclosure over its whole length to the fuse.

    Source:
        33 CFR 183.455 (b): 7 in, or 40 in in a sheath, where the source itself is no practicable
        place. Cranking cables are exempt.

    Example:
        >>> round(greatest_unprotected_length_m(sheathed=False), 3)
        0.178
    """
    return UNPROTECTED_SHEATHED_M if sheathed else UNPROTECTED_M


def opening_window(kind: str, multiple: float) -> OpeningWindow:
    """
    Times between which a fuse opens at a multiple of its rating.

    Straight lines in log(time) over log(multiple) between published points. Beyond the last point
    the longest time falls with the square of the current, for a fuse never needs more I² t at a
    greater current; the shortest is 0. Below the first point the shortest time is that of the
    point, the longest infinite.

    Args:
        kind: `BLADE` (regular and mini), `LARGE_BLADE` (form E, 20 to 80 A) or `GLASS` (up to
            30 A).
        multiple: Current over rating, above 0. [1]

    Returns:
        Window with the weakest status of the points used. Regular blades above 135 % are known from
        memory only.

    Raises:
        ValueError: No such kind, or multiple is not above 0 or not finite.

    Source:
        data/fuse_times.csv; constant I² t beyond the last point: our assumption.

    Example:
        >>> opening_window("large blade", 2.0).most_s
        60.0
    """
    require_above_zero(multiple, "multiple")
    least = _least_time(_points(kind, "least_s"), multiple)
    most = _most_time(_points(kind, "most_s"), multiple)
    sources = dict.fromkeys((*least.source.split(" | "), *most.source.split(" | ")))
    return OpeningWindow(
        least_s=least.time_s,
        most_s=most.time_s,
        source="; ".join(source for source in sources if source),
        status=weakest_status(least.status, most.status),
    )


@cache
def _points(kind: str, bound: str) -> tuple[_Point, ...]:
    table = data_rows(__package__, "fuse_times.csv")
    rows = [row for row in table if row["kind"] == kind and row[bound]]
    if not rows:
        raise ValueError(f"kind: {BLADE}, {LARGE_BLADE} or {GLASS} is wanted, found {kind}")
    return tuple(
        _Point(
            multiple=float(row["multiple"]),
            time_s=float(row[bound]),
            source=row["source"],
            status=row["status"],
        )
        for row in rows
    )


def _least_time(points: tuple[_Point, ...], multiple: float) -> _Point:
    if multiple <= points[0].multiple:
        return points[0]
    if multiple > points[-1].multiple:
        return _Point(multiple=multiple, time_s=0.0, source="", status="seen")  # claims nothing
    return _between(points, multiple)


def _most_time(points: tuple[_Point, ...], multiple: float) -> _Point:
    last = points[-1]
    if multiple < points[0].multiple:
        return evolve(points[0], time_s=inf)
    if multiple > last.multiple:
        return _Point(
            multiple=multiple,
            time_s=last.time_s * (last.multiple / multiple) ** 2,
            source=f"{last.source} | constant I² t above {last.multiple:g} times: our assumption",
            status="assumption",
        )
    return _between(points, multiple)


def _between(points: tuple[_Point, ...], multiple: float) -> _Point:
    for point in points:
        if point.multiple == multiple:
            return point
    lower, upper = next(pair for pair in pairwise(points) if multiple < pair[1].multiple)
    part = log(multiple / lower.multiple) / log(upper.multiple / lower.multiple)
    return _Point(
        multiple=multiple,
        time_s=exp(log(lower.time_s) + part * log(upper.time_s / lower.time_s)),
        source=f"{lower.source} | {upper.source}",
        status=weakest_status(lower.status, upper.status),
    )
