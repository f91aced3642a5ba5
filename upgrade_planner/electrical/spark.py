"""Primary current and stored energy over engine speed, for points and for electronic units."""

from attrs import frozen

from upgrade_planner.configuration.model import Component, Configuration
from upgrade_planner.electrical.coil_current import closed_time, primary_current, stored_energy
from upgrade_planner.electrical.operating_points import OperatingPoint

SPEEDS_RPM = (1000, 3000)
"""Engine speeds that are shown. [r/min]"""

UNIT_CLOSED_RATIO = 0.75
"""Longest part of the spark period for which an electronic unit lets current rise. [1]
Source: our assumption; units with dwell control leave the rest for the spark."""


@frozen(kw_only=True)
class Spark:
    """Primary current when the points open, or the unit cuts off, and the energy then."""

    speed_rpm: int
    current_a: float
    energy_j: float


def sparks(configuration: Configuration, running: OperatingPoint) -> tuple[Spark, ...]:
    """
    Current and energy at `SPEEDS_RPM`; () where the profile does not give what is needed.

    For points the whole circuit's resistance follows from the network: battery voltage over the
    current with points closed. A unit lets current rise until its own limit.
    """
    distributor = configuration.component_by_role.get("distributor")
    coil = configuration.component_by_role.get("coil", distributor)
    if distributor is None or coil is None or "primary_inductance" not in coil.ratings:
        return ()
    if distributor.kind == "integral_coil_distributor":
        return tuple(_unit_spark(distributor, running, speed) for speed in SPEEDS_RPM)
    current = abs(running.element_current_a(coil.role))
    if "dwell_angle" not in distributor.ratings or current == 0:
        return ()
    ohms = running.battery_v / current
    dwell = distributor.ratings["dwell_angle"]
    return tuple(
        _spark(
            speed,
            primary_current(
                running.battery_v,
                ohms,
                coil.ratings["primary_inductance"],
                closed_time(dwell, speed),
            ),
            coil.ratings["primary_inductance"],
        )
        for speed in SPEEDS_RPM
    )


def _unit_spark(unit: Component, running: OperatingPoint, speed_rpm: int) -> Spark:
    inductance = unit.ratings["primary_inductance"]
    period_s = 120.0 / speed_rpm / unit.ratings["cylinders"]
    risen = primary_current(
        running.battery_v,
        unit.ratings["primary_resistance"],
        inductance,
        UNIT_CLOSED_RATIO * period_s,
    )
    return _spark(speed_rpm, min(risen, unit.ratings.get("maximum_current", risen)), inductance)


def _spark(speed_rpm: int, current_a: float, inductance_h: float) -> Spark:
    return Spark(
        speed_rpm=speed_rpm,
        current_a=current_a,
        energy_j=stored_energy(inductance_h, current_a),
    )
