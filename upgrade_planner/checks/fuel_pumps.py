"""Rules on electric fuel pumps: one that runs with the engine stopped feeds a fire."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Remedy, Severity, at_part
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Component, Configuration
from upgrade_planner.electrical.operating_points import OperatingPoint
from upgrade_planner.electrical.states import KEY_ON, OFF

RUNS_A = 0.2
"""Current at which a pump runs. [A] Source: our assumption."""

CRASH_SWITCH = "inertia"
"""What the role of a switch that a crash opens contains."""


def pumps(configuration: Configuration) -> list[Component]:
    """Electric fuel pumps, known by their role."""
    found = configuration.parts_of(Family.MOTOR, Family.LOAD)
    return [part for part in found if "fuel_pump" in part.role]


def pump_current_a(pump: Component, point: OperatingPoint) -> float:
    """Current of a pump, through whichever feed. [A]"""
    names = (pump.role, *(f"{pump.role}:{terminal.name}" for terminal in pump.terminals))
    return max(abs(point.element_current_a(name)) for name in names)


def runs_with_engine_stopped(examined: Examined) -> Iterator[Finding]:
    """A pump that runs with the key on and the engine stopped, or even with the key off."""
    off, key_on = (examined.points.get(state.name) for state in (OFF, KEY_ON))
    for pump in pumps(examined.configuration) if off is not None and key_on is not None else ():
        if off is not None and pump_current_a(pump, off) > RUNS_A:
            yield _runs(pump, "key-off", Severity.DANGER)
        elif key_on is not None and pump_current_a(pump, key_on) > RUNS_A:
            if any(CRASH_SWITCH in p.role for p in examined.configuration.components):
                yield _runs(pump, "guarded", Severity.NOTE)
            else:
                yield _runs(pump, "key-on", Severity.CAUTION)


def _runs(pump: Component, cause: str, severity: Severity) -> Finding:
    guarded = cause == "guarded"
    return Finding(
        code="FUEL-RUNS",
        cause=cause,
        severity=severity,
        subjects=(at_part(pump.role),),
        remedy=Remedy("try-inertia-switch" if guarded else "feed-pump-through-pressure-switch"),
        source="common practice",
    )
