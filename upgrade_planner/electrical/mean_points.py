"""
Mean values of a running engine, where points or a module chop the coil's current.

A meter shows means: over a whole period the voltage across an inductance is zero in the mean, so
all means obey the laws of the network in which the switch is replaced by the resistance that passes
the mean current. Heat and protection are judged with the switch closed, which is the operating
point itself.
"""

from functools import lru_cache

from attrs import evolve

from upgrade_planner.configuration.kinds import Family, TerminalUse
from upgrade_planner.configuration.model import Component
from upgrade_planner.electrical.coil_current import mean_primary_current
from upgrade_planner.electrical.network.elements import MeanSwitch, Resistor
from upgrade_planner.electrical.network.solving import solve
from upgrade_planner.electrical.network.unsolvable import NetworkError
from upgrade_planner.electrical.operating_points import KEPT_POINTS, OperatingPoint
from upgrade_planner.electrical.spark import closed_s_of, period_s_of
from upgrade_planner.electrical.states import Engine

SPEED_RPM = {Engine.IDLING: 700, Engine.RUNNING: 1500}
"""Engine speed at which means are told. [r/min] Source: common practice: warm idle, and the fast
idle at which a charging test is read."""

LEAST_A = 0.1
"""Less through a coil is no primary current. [A] Source: our assumption."""


@lru_cache(maxsize=KEPT_POINTS)
def mean_of(point: OperatingPoint, speed_rpm: int | None = None) -> OperatingPoint:
    """
    The same state with mean values; the point itself where nothing chops, or the engine stands.

    Args:
        point: With the switch closed.
        speed_rpm: Engine speed; None for `SPEED_RPM`. [r/min]
    """
    speed_rpm = speed_rpm or SPEED_RPM.get(point.state.engine)
    if speed_rpm is None:
        return point
    found = (_mean_switch(part, point, speed_rpm) for part in _coils(point))
    changed = {switch.name: switch for switch in found if switch is not None}
    if not changed:
        return point
    try:
        solution = solve(point.solution.network.altered(changed), point.solution.voltage_v)
    except NetworkError:
        return point
    return evolve(point, solution=solution)


def _coils(point: OperatingPoint) -> tuple[Component, ...]:
    return point.configuration.parts_of(Family.COIL)


def _mean_switch(coil: Component, point: OperatingPoint, speed_rpm: int) -> MeanSwitch | None:
    """The switch of a coil as the resistance of its mean; None if not enough is known."""
    closed_a, inductance_h = abs(point.element_current_a(coil.role)), _inductance_h(coil)
    switch = _switch(closed_a, point)
    closed_s, period_s = _times_s(switch.name, point, speed_rpm) if switch else (None, None)
    if switch is None or inductance_h is None or closed_s is None or period_s is None:
        return None
    whole_ohm = point.battery_v / closed_a
    closed_s = min(closed_s, period_s)
    mean_a = mean_primary_current(point.battery_v, whole_ohm, inductance_h, closed_s, period_s)
    rest_ohm = whole_ohm - switch.resistance_ohm
    return MeanSwitch(switch.name, *switch.ends, point.battery_v / mean_a - rest_ohm)


def _inductance_h(coil: Component) -> float | None:
    given = coil.ratings.get("primary_inductance")
    return None if given is None else float(given)


def _switch(closed_a: float, point: OperatingPoint) -> Resistor | None:
    """The closed points or transistor that the coil's current passes."""
    if closed_a < LEAST_A:
        return None
    names = {part.role for part, _ in point.configuration.parts_with(TerminalUse.COIL_SWITCH)}
    for element in point.solution.network.elements:
        if element.name in names and isinstance(element, Resistor):
            amps = abs(point.element_current_a(element.name))
            if abs(amps - closed_a) < LEAST_A / 2:
                return element
    return None


def _times_s(role: str, point: OperatingPoint, speed_rpm: int) -> tuple[float | None, float | None]:
    """Closed time and period of a switch; None where the profile does not tell. [s]"""
    switch = point.configuration.component(role)
    distributor = point.configuration.component_by_role.get("distributor", switch)
    if "cylinders" not in distributor.ratings:
        return None, None
    period_s = period_s_of(speed_rpm, distributor)
    if switch.family is Family.POINTS or "closed_ratio" not in switch.ratings:
        return closed_s_of(distributor, speed_rpm), period_s
    return float(switch.ratings["closed_ratio"]) * period_s, period_s
