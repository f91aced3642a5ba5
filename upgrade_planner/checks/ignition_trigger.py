"""Rules on the trigger of an electronic unit: joined at all, and the right way round."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Finding,
    Remedy,
    Severity,
    at_part,
    at_terminal,
)
from upgrade_planner.checks.paths import paths_from, wires_of
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef

TRIGGERED = (Family.IGNITION_MODULE, Family.IGNITION_UNIT)


def pick_up_crossed(examined: Examined) -> Iterator[Finding]:
    """The two wires of a pick-up are changed over: the spark comes at the wrong edge."""
    configuration = examined.configuration
    for unit in configuration.parts_of(*TRIGGERED):
        for pick_up in configuration.parts_of(Family.PICK_UP):
            if _is_joined(unit, "trigger_plus", pick_up, "minus", configuration):
                yield Finding(
                    code="IGN-PICK-UP-CROSSED",
                    severity=Severity.WARNING,
                    subjects=(
                        at_part(unit.role),
                        at_terminal(TerminalRef(unit.role, "trigger_plus")),
                        at_part(pick_up.role),
                    ),
                    remedy=Remedy("swap-wires-at-one-end"),
                    source="common practice: keep the polarity of the pick-up",
                )


def trigger_missing(examined: Examined) -> Iterator[Finding]:
    """A unit that neither pick-up nor points trigger: no spark at all."""
    configuration = examined.configuration
    for unit in configuration.parts_of(*TRIGGERED):
        missing = _missing(unit, configuration)
        if missing:
            refs = [TerminalRef(unit.role, name) for name in missing]
            yield Finding(
                code="IGN-NO-TRIGGER",
                severity=Severity.WARNING,
                subjects=(at_part(unit.role), *map(at_terminal, refs)),
                remedy=Remedy("join-trigger"),
                source="our own reasoning from the wiring",
            )


def _missing(unit: Component, configuration: Configuration) -> list[str]:
    """Trigger terminals without a trigger; one wired form of trigger is enough."""
    names = [name for name in ("trigger_plus", "trigger_minus", "points") if unit.terminal(name)]
    joined = {name for name in names if _has_trigger(unit, name, configuration)}
    pair = {"trigger_plus", "trigger_minus"}
    if not names or pair <= joined or "points" in joined:
        return []
    if _switched_by_points(unit, configuration):
        return []
    return [name for name in names if name not in joined]


def _has_trigger(unit: Component, name: str, configuration: Configuration) -> bool:
    ends = {
        f"{part.role}.{terminal}"
        for part in configuration.parts_of(Family.PICK_UP, Family.POINTS)
        for terminal in ("plus", "minus", "points")
    }
    return bool(ends & set(paths_from(wires_of(configuration), f"{unit.role}.{name}")))


def _switched_by_points(unit: Component, configuration: Configuration) -> bool:
    """True for a module with the points at one of its trigger terminals."""
    return any(
        _is_joined(unit, name, part, "points", configuration)
        for part in configuration.parts_of(Family.POINTS)
        for name in ("trigger_plus", "trigger_minus")
    )


def _is_joined(
    unit: Component, name: str, other: Component, terminal: str, configuration: Configuration
) -> bool:
    reached = paths_from(wires_of(configuration), f"{unit.role}.{name}")
    return f"{other.role}.{terminal}" in reached
