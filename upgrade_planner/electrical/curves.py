"""Curves of a configuration: spark over engine speed, charge over load, heat of its wires."""

from collections.abc import Iterator, Mapping

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.kinds import Capability
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.electrical.operating_points import OperatingPoint, operating_point
from upgrade_planner.electrical.performance import battery_current_a
from upgrade_planner.electrical.spark import Spark, sparks
from upgrade_planner.electrical.states import (
    IDLING,
    LIT,
    LOADED,
    STATES,
    UNLOADED,
    Engine,
    State,
)

SPEEDS_RPM = (500, 1000, 1500, 2000, 3000, 4000)
"""Engine speeds of a curve. [r/min]"""

IDLE_LIT = State("idle_lit", "idling, lamps on", "run", Engine.IDLING, IDLING.name, has_lamps=True)
IDLE_LOADED = State("idle_loaded", "idling, loads on", "run", Engine.IDLING, LOADED.name)


@frozen(kw_only=True)
class ChargePoint:
    """
    What is left for the battery at one load.

    Attributes:
        load_a: What all consumers take. [A]
        battery_v: Across the battery. [V]
        charge_a: What is left for the battery; negative while it gives. [A]
    """

    load_a: float
    battery_v: float
    charge_a: float


@frozen(kw_only=True)
class Curves:
    """
    Curves of one configuration; () where it has no such part.

    Attributes:
        idle: Charge at idle, by load.
        running: Charge at speed, by load.
        heat_c: Highest temperature of each wire in any state. [°C]
    """

    sparks: tuple[Spark, ...]
    idle: tuple[ChargePoint, ...]
    running: tuple[ChargePoint, ...]
    heat_c: Mapping[str, float]


def curves(configuration: Configuration) -> Curves:
    """
    The curves of a configuration.

    Raises:
        NotSolved: no solution exists.
    """
    points = {state: operating_point(configuration, state) for state in STATES}
    heat: dict[str, float] = {}
    for point in points.values():
        for wire, hot_c in point.temperature_c.items():
            heat[wire] = max(hot_c, heat.get(wire, hot_c))
    return Curves(
        sparks=sparks(configuration, points[LOADED], SPEEDS_RPM),
        idle=_charges(configuration, (IDLING, IDLE_LIT, IDLE_LOADED)),
        running=_charges(configuration, (UNLOADED, LIT, LOADED)),
        heat_c=heat,
    )


def _charges(configuration: Configuration, states: tuple[State, ...]) -> tuple[ChargePoint, ...]:
    found = (
        charge for state in states for charge in _charge(operating_point(configuration, state))
    )
    return tuple(sorted(found, key=lambda one: one.load_a))


def _charge(point: OperatingPoint) -> Iterator[ChargePoint]:
    for machine in point.configuration.parts_that(Capability.CHARGES)[:1]:
        delivered = abs(point.element_current_a(machine.role))
        into_battery = battery_current_a(point)
        yield ChargePoint(
            load_a=delivered - into_battery, battery_v=point.battery_v, charge_a=into_battery
        )
