"""Rules on electric fuel pumps: one that runs with the engine stopped feeds a fire."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.checks.paths import of_kind
from upgrade_planner.configuration.model import Component, Configuration
from upgrade_planner.electrical.operating_points import OperatingPoint
from upgrade_planner.electrical.states import KEY_ON, OFF

RUNS_A = 0.2
"""Current at which a pump runs. [A] Source: our assumption."""

CRASH_SWITCH = "inertia"
"""What the role of a switch that a crash opens contains."""


def pumps(configuration: Configuration) -> list[Component]:
    """Electric fuel pumps, known by their role."""
    found = of_kind(configuration, "motor", "load")
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
            yield _runs(pump, "with the key off", Severity.DANGER)
        elif key_on is not None and pump_current_a(pump, key_on) > RUNS_A:
            has_switch = any(CRASH_SWITCH in p.role for p in examined.configuration.components)
            severity = Severity.NOTE if has_switch else Severity.CAUTION
            yield _runs(pump, "with the key on and the engine stopped", severity)


def _runs(pump: Component, when: str, severity: Severity) -> Finding:
    after = (
        "after an accident only the inertia switch stops it"
        if severity is Severity.NOTE
        else "after an accident, or with a flooding carburettor, it pumps fuel into a fire"
    )
    return Finding(
        code="FUEL-RUNS",
        title="Fuel pump runs with the engine stopped",
        severity=severity,
        where=(pump.role,),
        what=f"It runs {when}: {after}.",
        remedy="Try the inertia switch; an oil pressure switch in the coil feed is better."
        if severity is Severity.NOTE
        else "Feed its relay through an oil pressure switch, or at least an inertia switch.",
        source="common practice",
    )
