"""
Fuses, fusible links, and how long a wire stands a short circuit.

A wire is protected if the device in front of it is rated for it (`rating_limits`), sits close to
the source (`greatest_unprotected_length_m`), and opens (`opening_window`, `melting_time`) before
the insulation is spoiled (`withstand`). Fuse limits hold at about 25 °C; heat lowers them.
"""

import csv
from functools import cache
from importlib.resources import files
from itertools import pairwise
from math import exp, inf, log, log10, pi, sqrt

from attrs import evolve, frozen

from upgrade_planner.configuration.sizes import (
    METRIC,
    WireSize,
    gauge_number,
    gauge_steps_smaller,
    sizes_in,
)
from upgrade_planner.electrical.allowable_current import weakest_status
from upgrade_planner.electrical.heat_balance import COPPER_MELTS_C, heating_time

BLADE = "blade"
LARGE_BLADE = "large blade"
GLASS = "glass"

# 33 CFR 183.455 (c): share of the tabulated allowable current that a device may be rated for. [1]
LOOSE_RATIO = 1.5
LOOSE_BELOW_V = 50.0  # [V] 33 CFR 183.455 (c)(1), (2)
UNPROTECTED_M = 7 * 0.0254  # [m] 33 CFR 183.455 (b)(1): 7 in, 178 mm
UNPROTECTED_SHEATHED_M = 40 * 0.0254  # [m] 33 CFR 183.455 (b)(2): 40 in, 1016 mm

LINK_GAUGE_STEPS = 4  # common practice; reader letter in an electrical newsletter
# Copper of a wire over that of a link four gauge numbers thinner; ASTM B258: 92^(2·4/39). [1]
LINK_AREA_RATIO = 92 ** (2 * LINK_GAUGE_STEPS / 39)
LINK_LENGTH_M = 6 * 0.0254  # [m] customary: 6 in; reader letter in an electrical newsletter
LINK_GREATEST_LENGTH_M = 9 * 0.0254  # [m] 9 in; general-interest page on fusible links

MM_PER_INCH = 25.4
MM2_PER_CIRCULAR_MIL = pi / 4 * (MM_PER_INCH / 1000) ** 2
# Tabulation of Preece's law on an engineering reference page. [A/in^1.5]
SUSTAINED_MELTING_A_PER_IN15 = {"copper": 10244.0, "aluminium": 7585.0, "iron": 3148.0}
# K of k = K √ln((β + θf)/(β + θi)) [A·√s/mm²] and β [°C]. Copper and aluminium: IEC 60949 as
# described on a web page. Steel: √(Qc (β + 20)/ρ20) of the same standard's constants.
ADIABATIC_FACTORS = {"copper": (226.0, 234.5), "aluminium": (148.0, 228.0), "steel": (78.2, 202.0)}
ADIABATIC_LONGEST_S = 5.0  # [s] IEC 60364-5-54, as quoted: valid up to 5 s

ADIABATIC = "adiabatic"
HEAT_BALANCE = "heat balance"
NOT_COMPUTED = "not computed"


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
class Withstand:
    """
    How long a wire stands a current.

    Attributes:
        time_s: Time until the insulation is at its limit; infinity if it never is; None if not
            computed. [s]
        method: `ADIABATIC`, `HEAT_BALANCE` or `NOT_COMPUTED`.
    """

    time_s: float | None
    method: str


@frozen(kw_only=True)
class ShortCircuitLimit:
    """Temperature that an insulation stands for the seconds of a short circuit. [°C]"""

    limit_c: float
    source: str
    status: str


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
        for row in _read("fuse_ratings.csv")
        if row["kind"] == kind
    ]
    if not found:
        raise ValueError(f"kind: {BLADE} or {LARGE_BLADE} is wanted, found {kind}")
    return tuple(sorted(found, key=lambda rating: rating.rating_a))


def next_rating_at_or_below(limit_a: float, kind: str = BLADE) -> FuseRating | None:
    """
    Greatest standard rating that is not above a limit; None if the smallest one is.

    Args:
        limit_a: Greatest rating allowed. [A]
        kind: `BLADE` or `LARGE_BLADE`.

    Raises:
        ValueError: As at `fuse_ratings`.

    Example:
        >>> next_rating_at_or_below(19.4).rating_a
        15.0
    """
    fitting = [rating for rating in fuse_ratings(kind) if rating.rating_a <= limit_a]
    return fitting[-1] if fitting else None


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
    _require_above_zero(system_voltage_v, "system_voltage_v")
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
    _require_above_zero(multiple, "multiple")
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
    rows = [row for row in _read("fuse_times.csv") if row["kind"] == kind and row[bound]]
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


def link_for(size: WireSize) -> WireSize | None:
    """
    The fusible link that protects a wire: four gauge numbers thinner.

    A mm² wire has no gauge number: the thickest mm² size is given whose copper is as much less as
    four gauge numbers make it, 1/2.53.

    Returns:
        The link; None if the system has no such size.

    Source:
        Common practice: 18 for 14, 16 for 12, 14 for 10, 12 for 8; reader letter in an electrical
        newsletter. mm²: our assumption, the same ratio of copper.

    Example:
        >>> from upgrade_planner.configuration.sizes import parse_wire_size
        >>> link_for(parse_wire_size("10 SAE")).designation
        '14'
    """
    if size.system != METRIC:
        return gauge_steps_smaller(size, LINK_GAUGE_STEPS)
    greatest_mm2 = size.area_mm2 / LINK_AREA_RATIO
    fitting = [item for item in sizes_in(METRIC) if item.area_mm2 <= greatest_mm2]
    return fitting[-1] if fitting else None


def wire_protected_by(link: WireSize) -> WireSize | None:
    """
    The thinnest wire that a fusible link protects: four gauge numbers thicker.

    Returns:
        The wire; None if the system has no such size.

    Source:
        As at `link_for`.

    Example:
        >>> from upgrade_planner.configuration.sizes import parse_wire_size
        >>> wire_protected_by(parse_wire_size("18 AWG")).designation
        '14'
    """
    number = gauge_number(link)
    if number is None:
        least_mm2 = link.area_mm2 * LINK_AREA_RATIO
        return next((item for item in sizes_in(METRIC) if item.area_mm2 >= least_mm2), None)
    wanted = number - LINK_GAUGE_STEPS
    return next((item for item in sizes_in(link.system) if gauge_number(item) == wanted), None)


def sustained_melting_current(diameter_mm: float, metal: str = "copper") -> float:
    """
    Current that melts a bare round wire in still air in the long run: I = a d^1.5.

    The wire is so long that its ends do not cool it. Melting is no safe limit: insulation fails far
    sooner.

    Args:
        diameter_mm: Diameter of the wire. [mm]
        metal: `copper`, `aluminium` or `iron`.

    Returns:
        Melting current. [A]

    Raises:
        ValueError: diameter_mm is not above 0 or not finite, or the metal is not listed.

    Source:
        Preece's law (Proceedings of the Royal Society, 1880s), constants of a table on an
        engineering reference page.

    Example:
        >>> round(sustained_melting_current(0.0508 * 25.4))
        117
    """
    _require_above_zero(diameter_mm, "diameter_mm")
    if metal not in SUSTAINED_MELTING_A_PER_IN15:
        known = ", ".join(SUSTAINED_MELTING_A_PER_IN15)
        raise ValueError(f"metal: one of {known} is wanted, found {metal}")
    diameter_in = diameter_mm / MM_PER_INCH
    return float(SUSTAINED_MELTING_A_PER_IN15[metal] * diameter_in**1.5)


def brief_melting_current(area_mm2: float, duration_s: float, ambient_c: float) -> float:
    """
    Current that melts a copper wire within seconds, no heat being lost.

    33 (I/A)² t = log10[1 + (Tm - Ta)/(234 + Ta)], A in circular mils, Tm = 1083 °C; good to about
    5 to 10 s. Copies that print 234 - Ta are wrong: copper has no resistance at -234 °C, so the
    temperatures add.

    Args:
        area_mm2: Area of the copper. [mm²]
        duration_s: Time until it melts. [s]
        ambient_c: Copper at the start. [°C]

    Returns:
        Melting current. [A]

    Raises:
        ValueError: area_mm2 or duration_s is not above 0 or not finite; ambient_c is outside -60 to
            1083 °C.

    Source:
        Onderdonk's equation as printed in handbooks (from memory); 1 % above the short-circuit
        formula of insulated-cable engineers, (I/A)² t = 0.0297 log10[(T2 + 234)/(T1 + 234)].

    Example:
        >>> round(brief_melting_current(1.3078, 5.0, 25.0), 1)
        168.9
    """
    _require_above_zero(area_mm2, "area_mm2")
    _require_above_zero(duration_s, "duration_s")
    if not -60 <= ambient_c < COPPER_MELTS_C:
        raise ValueError(f"ambient_c: from -60 to 1083 °C is wanted, found {ambient_c:g}")
    area_circular_mil = area_mm2 / MM2_PER_CIRCULAR_MIL
    heating = log10(1 + (COPPER_MELTS_C - ambient_c) / (234 + ambient_c))
    return area_circular_mil * sqrt(heating / (33 * duration_s))


def melting_current(area_mm2: float, duration_s: float, ambient_c: float) -> float:
    """
    Current that melts a copper wire, such as a link, within a time.

    The larger of `brief_melting_current` and `sustained_melting_current`; for links of 18 to 12
    gauge the two cross between 8 and 16 s.

    Args:
        area_mm2: Area of the copper, taken as one solid round wire. [mm²]
        duration_s: Time until it melts. [s]
        ambient_c: Copper at the start. [°C]

    Returns:
        Melting current. [A]

    Raises:
        ValueError: As at `brief_melting_current`.

    Source:
        As at the two; taking the larger near the crossing: our assumption.
    """
    brief_a = brief_melting_current(area_mm2, duration_s, ambient_c)
    return max(brief_a, sustained_melting_current(_solid_diameter_mm(area_mm2)))


def melting_time(area_mm2: float, current_a: float, ambient_c: float) -> float:
    """
    Time in which a current melts a copper wire, such as a link; inverse of `melting_current`.

    Args:
        area_mm2: Area of the copper, taken as one solid round wire. [mm²]
        current_a: Constant current. [A]
        ambient_c: Copper at the start. [°C]

    Returns:
        The time; infinity up to the sustained melting current. Beyond about 10 s heat is lost and
        the real time is longer. [s]

    Raises:
        ValueError: area_mm2 or current_a is not above 0 or not finite, or as at
            `brief_melting_current`.

    Source:
        As at `melting_current`.
    """
    _require_above_zero(current_a, "current_a")
    within_a_second_a = brief_melting_current(area_mm2, 1.0, ambient_c)
    if current_a <= sustained_melting_current(_solid_diameter_mm(area_mm2)):
        return inf
    return (within_a_second_a / current_a) ** 2


def _solid_diameter_mm(area_mm2: float) -> float:
    return sqrt(4 * area_mm2 / pi)


def adiabatic_constant(start_c: float, limit_c: float, metal: str = "copper") -> float:
    """
    Constant k of the short-circuit rule: k = K √ln[(β + θf)/(β + θi)].

    Args:
        start_c: Conductor at the start, θi. [°C]
        limit_c: Conductor at the end, θf. [°C]
        metal: `copper`, `aluminium` or `steel`.

    Returns:
        The constant. [A·√s/mm²]

    Raises:
        ValueError: The metal is not listed, or limit_c > start_c > -β does not hold.

    Source:
        IEC 60949 and IEC 60364-5-54, as described.

    Example:
        >>> round(adiabatic_constant(70, 160))
        115
    """
    if metal not in ADIABATIC_FACTORS:
        raise ValueError(f"metal: one of {', '.join(ADIABATIC_FACTORS)} is wanted, found {metal}")
    factor, beta_c = ADIABATIC_FACTORS[metal]
    if not -beta_c < start_c < limit_c < inf:
        raise ValueError(f"start_c < limit_c is wanted, found {start_c:g} and {limit_c:g}")
    return factor * sqrt(log((beta_c + limit_c) / (beta_c + start_c)))


def adiabatic_area_mm2(current_a: float, duration_s: float, constant: float) -> float:
    """
    Least copper that stands a short circuit: S = I √t / k. [mm²]

    Args:
        current_a: Short-circuit current. [A]
        duration_s: Until the device opens; up to 5 s. [s]
        constant: From `adiabatic_constant`. [A·√s/mm²]

    Raises:
        ValueError: An argument is not above 0 or not finite.

    Source:
        IEC 60364-5-54, as described.

    Example:
        >>> round(adiabatic_area_mm2(2500, 0.1, 115), 1)
        6.9
    """
    _require_above_zero(current_a, "current_a")
    _require_above_zero(duration_s, "duration_s")
    _require_above_zero(constant, "constant")
    return current_a * sqrt(duration_s) / constant


def adiabatic_time(area_mm2: float, current_a: float, constant: float) -> float:
    """
    Time that a conductor stands a short circuit, no heat being lost: t = (k S / I)². [s]

    Args:
        area_mm2: Area of the conductor. [mm²]
        current_a: Short-circuit current. [A]
        constant: From `adiabatic_constant`. [A·√s/mm²]

    Raises:
        ValueError: An argument is not above 0 or not finite.

    Source:
        As at `adiabatic_area_mm2`; valid up to 5 s, longer times are on the safe side.

    Example:
        >>> round(adiabatic_time(6.875, 2500, 115), 2)
        0.1
    """
    _require_above_zero(area_mm2, "area_mm2")
    _require_above_zero(current_a, "current_a")
    _require_above_zero(constant, "constant")
    return (constant * area_mm2 / current_a) ** 2


def withstand(
    size: WireSize,
    current_a: float,
    start_c: float,
    limit_c: float,
    *,
    ambient_c: float | None = None,
) -> Withstand:
    """
    How long a copper wire stands a current before its insulation is at its limit.

    Up to 5 s adiabatic. Longer: `heat_balance.heating_time` in still air, but not below the
    adiabatic time, which counts the nominal copper only.

    Args:
        size: A standard size.
        current_a: Constant current. [A]
        start_c: Conductor at the start; its rated temperature is on the safe side. [°C]
        limit_c: What the insulation stands for a short time; see `short_circuit_limit`. [°C]
        ambient_c: Air around the wire, not above start_c; None leaves times above 5 s out. [°C]

    Raises:
        ValueError: As at `adiabatic_time`, `adiabatic_constant` and `heat_balance.heating_time`.

    Source:
        As at `adiabatic_time` and `heat_balance.heating_time`.
    """
    constant = adiabatic_constant(start_c, limit_c)
    time_s = adiabatic_time(size.area_mm2, current_a, constant)
    if time_s <= ADIABATIC_LONGEST_S:
        return Withstand(time_s=time_s, method=ADIABATIC)
    if ambient_c is None:
        return Withstand(time_s=None, method=NOT_COMPUTED)
    longer_s = heating_time(size, current_a, start_c, limit_c, ambient_c)
    return Withstand(time_s=max(time_s, longer_s), method=HEAT_BALANCE)


def short_circuit_limit(insulation: str) -> ShortCircuitLimit:
    """
    What an insulation class stands for the seconds of a short circuit.

    Args:
        insulation: Name as in configuration/data/insulation.csv.

    Raises:
        ValueError: The class is not listed.

    Source:
        data/short_circuit_limits.csv: IEC 60364-5-54 as quoted for PVC, XLPE and rubber; the rest
        from memory or our assumption.

    Example:
        >>> short_circuit_limit("PVC").limit_c
        160.0
    """
    for row in _read("short_circuit_limits.csv"):
        if row["insulation"] == insulation:
            return ShortCircuitLimit(
                limit_c=float(row["limit_c"]), source=row["source"], status=row["status"]
            )
    raise ValueError(f"insulation: a class of the table is wanted, found {insulation}")


def _require_above_zero(value: float, name: str) -> None:
    if not 0 < value < inf:
        raise ValueError(f"{name}: a finite number above 0 is wanted, found {value:g}")


@cache
def _read(name: str) -> list[dict[str, str]]:
    table = files(__package__).joinpath(f"data/{name}").read_text(encoding="utf-8")
    return list(csv.DictReader(table.splitlines()))
