"""Primary current and stored energy over engine speed, for points and for electronic units."""

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import Component, Configuration
from upgrade_planner.electrical.coil_current import closed_time, primary_current, stored_energy
from upgrade_planner.electrical.operating_points import OperatingPoint

SPEEDS_RPM = (1000, 3000)
"""Engine speeds that are shown. [r/min]"""

Speeds = tuple[int, ...]
"""Engine speeds. [r/min]"""

UNIT_CLOSED_RATIO = 0.75
"""Longest part of the spark period for which an electronic unit lets current rise. [1]
Source: our assumption; units with dwell control leave the rest for the spark."""

MODULE_CLOSED_RATIO = 0.65
"""Part of the spark period for which a plain module is closed, where the profile gives none. [1]
Source: our assumption; near the 38 of 60 degrees of six-cylinder points."""


@frozen(kw_only=True)
class Spark:
    """
    One spark.

    Attributes:
        speed_rpm: Engine speed. [r/min]
        current_a: Primary current when the points open, or the unit cuts off; None where a
            capacitor makes the spark. [A]
        energy_j: Energy stored then, in the coil's field or in the capacitor. [J]
    """

    speed_rpm: int
    current_a: float | None
    energy_j: float


def sparks(
    configuration: Configuration, running: OperatingPoint, speeds: Speeds = SPEEDS_RPM
) -> tuple[Spark, ...]:
    """
    Current and energy at some engine speeds; () where the profile does not give what is needed.

    For points and modules the whole circuit's resistance follows from the network: battery voltage
    over the current with the switch closed. A unit lets current rise until its own limit. A
    capacitor-discharge unit stores the same energy at every speed, if its ratings say how much.
    """
    discharging = configuration.parts_that(Capability.DISCHARGES)
    if discharging:
        return _discharges(discharging[-1], speeds)
    packs = configuration.parts_of(Family.COIL_PACK)
    controllers = configuration.parts_that(Capability.DRIVES_PACK)
    if packs and controllers:
        return _pack_sparks(packs[-1], controllers[-1], running, speeds)
    distributor = configuration.component_by_role.get("distributor")
    if distributor is not None and distributor.can(Capability.HOLDS_COIL):
        return _unit_sparks(distributor, running, speeds)
    coil = configuration.component_by_role.get("coil")
    if distributor is None or coil is None:
        return ()
    return _coil_sparks(coil, distributor, running, speeds)


def _coil_sparks(
    coil: Component, distributor: Component, running: OperatingPoint, speeds: Speeds
) -> tuple[Spark, ...]:
    """A coil whose current points or a module switch, without a limit of their own."""
    current_a = abs(running.element_current_a(coil.role))
    inductance = coil.ratings.get("primary_inductance")
    if inductance is None or current_a == 0:
        return ()
    ohms, found = running.battery_v / current_a, []
    for speed in speeds:
        closed_s = closed_s_of(distributor, speed)
        if closed_s is None:
            return ()
        risen_a = primary_current(running.battery_v, ohms, inductance, closed_s)
        found.append(_spark(speed, risen_a, inductance))
    return tuple(found)


def closed_s_of(distributor: Component, speed_rpm: int) -> float | None:
    """Time for which current rises before one spark; None if the profile does not tell. [s]"""
    if distributor.family is Family.POINTS:
        dwell_deg = distributor.ratings.get("dwell_angle")
        return None if dwell_deg is None else closed_time(dwell_deg, speed_rpm)
    ratio = float(distributor.ratings.get("closed_ratio", MODULE_CLOSED_RATIO))
    return ratio * period_s_of(speed_rpm, distributor)


def period_s_of(speed_rpm: int, distributor: Component) -> float:
    """Between two sparks of a four-stroke engine with one coil. [s]"""
    return 120.0 / speed_rpm / float(distributor.ratings["cylinders"])


def _unit_sparks(unit: Component, running: OperatingPoint, speeds: Speeds) -> tuple[Spark, ...]:
    """A unit with coil: current rises until the unit's limit."""
    limit_a = unit.ratings.get("maximum_current")
    return _limited(unit, running, limit_a, {s: period_s_of(s, unit) for s in speeds})


def _pack_sparks(
    pack: Component, controller: Component, running: OperatingPoint, speeds: Speeds
) -> tuple[Spark, ...]:
    """Each coil of a pack fires once a turn of the engine, into two cylinders."""
    limit_a = controller.ratings.get("maximum_current")
    return _limited(pack, running, limit_a, {speed: 60.0 / speed for speed in speeds})


def _limited(
    coil: Component, running: OperatingPoint, limit_a: float | None, periods_s: dict[int, float]
) -> tuple[Spark, ...]:
    inductance = coil.ratings.get("primary_inductance")
    if inductance is None:
        return ()
    found = []
    for speed, period_s in periods_s.items():
        risen_a = primary_current(
            running.battery_v,
            coil.ratings["primary_resistance"],
            inductance,
            UNIT_CLOSED_RATIO * period_s,
        )
        found.append(
            _spark(speed, risen_a if limit_a is None else min(risen_a, limit_a), inductance)
        )
    return tuple(found)


def _discharges(unit: Component, speeds: Speeds) -> tuple[Spark, ...]:
    """W = C V²/2, if the ratings give both; never a figure of our own."""
    farad, volts = (unit.ratings.get(name) for name in ("capacitance", "discharge_voltage"))
    if farad is None or volts is None:
        return ()
    energy_j = float(farad) * float(volts) ** 2 / 2.0
    return tuple(Spark(speed_rpm=s, current_a=None, energy_j=energy_j) for s in speeds)


def _spark(speed_rpm: int, current_a: float, inductance_h: float) -> Spark:
    return Spark(
        speed_rpm=speed_rpm,
        current_a=current_a,
        energy_j=stored_energy(inductance_h, current_a),
    )
