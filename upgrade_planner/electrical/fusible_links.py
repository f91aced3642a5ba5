"""Fusible links: which one for which wire, and when copper melts."""

from math import inf, log10, pi, sqrt

from upgrade_planner.configuration.values.sizes import (
    METRIC,
    WireSize,
    gauge_number,
    gauge_steps_smaller,
    sizes_in,
)
from upgrade_planner.electrical.arguments import require_above_zero
from upgrade_planner.electrical.heat_balance import COPPER_MELTS_C

LINK_GAUGE_STEPS = 4  # common practice; reader letter in an electrical newsletter
# Copper of a wire over that of a link four gauge numbers thinner; ASTM B258: 92^(2·4/39). [1]
LINK_AREA_RATIO = 92 ** (2 * LINK_GAUGE_STEPS / 39)
LINK_GREATEST_LENGTH_M = 0.225  # [m] workshop manual, 1990s passenger cars, fusible-link caution

MM_PER_INCH = 25.4
MM2_PER_CIRCULAR_MIL = pi / 4 * (MM_PER_INCH / 1000) ** 2
# Tabulation of Preece's law on an engineering reference page. [A/in^1.5]
SUSTAINED_MELTING_A_PER_IN15 = {"copper": 10244.0, "aluminium": 7585.0, "iron": 3148.0}


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
        >>> from upgrade_planner.configuration.values.sizes import parse_wire_size
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
        >>> from upgrade_planner.configuration.values.sizes import parse_wire_size
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
    require_above_zero(diameter_mm, "diameter_mm")
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
    require_above_zero(area_mm2, "area_mm2")
    require_above_zero(duration_s, "duration_s")
    if not -60 <= ambient_c < COPPER_MELTS_C:
        raise ValueError(f"ambient_c: from -60 to 1083 °C is wanted, found {ambient_c:g}")
    area_circular_mil = area_mm2 / MM2_PER_CIRCULAR_MIL
    heating = log10(1 + (COPPER_MELTS_C - ambient_c) / (234 + ambient_c))
    return area_circular_mil * sqrt(heating / (33 * duration_s))


def melting_time(area_mm2: float, current_a: float, ambient_c: float) -> float:
    """
    Time in which a current melts a copper wire, such as a link.

    Inverse of the larger of `brief_melting_current` and `sustained_melting_current`.

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
        As at the two; taking the larger near the crossing, between 8 and 16 s for links of 18 to 12
        gauge: our assumption.
    """
    require_above_zero(current_a, "current_a")
    within_a_second_a = brief_melting_current(area_mm2, 1.0, ambient_c)
    if current_a <= sustained_melting_current(_solid_diameter_mm(area_mm2)):
        return inf
    return (within_a_second_a / current_a) ** 2


def _solid_diameter_mm(area_mm2: float) -> float:
    return sqrt(4 * area_mm2 / pi)


def sustained_melting_current_of(size: WireSize) -> float:
    """
    Current that melts a link of a size in the long run; see `sustained_melting_current`. [A]

    Its copper is taken as one solid round wire.
    """
    return sustained_melting_current(_solid_diameter_mm(size.area_mm2))
