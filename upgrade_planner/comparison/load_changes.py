"""What a part that stays has to carry on another voltage: computed, so that nobody has to guess."""

from collections.abc import Callable, Iterable, Mapping

from upgrade_planner.comparison.why import Reason, because
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Component, Configuration
from upgrade_planner.configuration.values.measures import Quantity, ampere
from upgrade_planner.electrical.network.unsolvable import NetworkError
from upgrade_planner.electrical.operating_points import operating_points
from upgrade_planner.electrical.states import KEY_ON, STATES, State

STARTER_A = 100.0
"""What passes more than this carries the starter, which at rest is a mere resistance: its first
current rises with the voltage. [A] Source: our assumption, as for switches with starter contacts.
"""

MORE = 1.1
"""From this ratio a current counts as grown. Source: our assumption; supply voltage alone moves it
as much."""


def computed_reason(
    what: str, part: Component, before: Configuration, after: Configuration
) -> Reason:
    """
    Why a part may stay, or what must be looked at, by a current that is computed.

    Args:
        what: `passed current`: what the part passes; `coil current`: what its points switch.
        part: The part that stays.
        before: The vehicle as it is.
        after: The vehicle as it shall be.
    """
    if what == "coil current":
        figures = _both(_into_coil, before, after)
        if figures is None:
            return because("coil-not-computed")
        if _grows(figures):
            return because("coil-takes-more", **figures)
        return because("coil-takes-no-more", **figures)
    figures = _both(lambda side: _through((part,), side, STATES), before, after)
    if figures is None:
        return because("passes-not-computed")
    rise = after.vehicle.voltage_v / before.vehicle.voltage_v
    if rise > MORE and figures["old"].number > STARTER_A:
        at_rest = ampere(rise * figures["old"].number)
        return because("starter-breaks-loose", old=figures["old"], new=at_rest)
    if _grows(figures):
        return because("passes-more", **figures)
    return because("passes-no-more", **figures)


def _both(
    current_a: Callable[[Configuration], float], before: Configuration, after: Configuration
) -> dict[str, Quantity] | None:
    """The current on both sides; None if one of them has no solution."""
    try:
        return {"old": ampere(current_a(before)), "new": ampere(current_a(after))}
    except NetworkError:
        return None


def _grows(figures: Mapping[str, Quantity]) -> bool:
    return figures["new"].number > MORE * figures["old"].number


def _into_coil(side: Configuration) -> float:
    return _through(side.parts_of(Family.COIL), side, (KEY_ON,))


def _through(
    parts: Iterable[Component], configuration: Configuration, states: tuple[State, ...]
) -> float:
    """The most that any wire at these parts carries in these states. [A]"""
    roles = {part.role for part in parts}
    wires = [w.id for w in configuration.wires if any(end.role in roles for end in w.ends)]
    points = operating_points(configuration, states).values()
    return max((abs(point.wire_current_a(name)) for point in points for name in wires), default=0.0)
