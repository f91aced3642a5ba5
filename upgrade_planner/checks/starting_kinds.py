"""Rules on starters with a relay, a mechanical switch or permanent magnets."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Finding,
    Remedy,
    Severity,
    at_part,
    at_parts,
    at_wires,
)
from upgrade_planner.checks.paths import (
    RESTING_RUN,
    links_of,
    live_node,
    names_on,
    paths_from,
    wires_of,
)
from upgrade_planner.configuration.kinds import Capability, Family, TerminalUse
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.configuration.values.measures import ampere
from upgrade_planner.electrical.states import CRANKING, Engine

TURNS_RATIO = 0.5
"""Part of its cranking current below which a starter does not turn. [1] Source: our assumption."""


def _without_solenoid(configuration: Configuration) -> list[Component]:
    starters = configuration.parts_of(Family.STARTER)
    return [part for part in starters if part.terminal_as(TerminalUse.START_SIGNAL) is None]


def does_not_turn(examined: Examined) -> Iterator[Finding]:
    """With everything set for cranking, no current worth the name reaches the starter."""
    point, configuration = examined.points.get(CRANKING.name), examined.configuration
    for starter in _without_solenoid(configuration) if point is not None else ():
        amps = abs(point.element_current_a(starter.role)) if point is not None else 0.0
        if amps >= TURNS_RATIO * starter.ratings["cranking_current"]:
            continue
        relays = [part.role for part in configuration.parts_of(Family.STARTER_RELAY)]
        wires = _wires_at(f"{starter.role}.battery", configuration)
        yield Finding(
            code="STA-DEAD",
            severity=Severity.WARNING,
            subjects=(at_part(starter.role), *at_parts(relays), *at_wires(wires)),
            cause="relay-stays-out" if relays else "switch-stays-open",
            value=ampere(amps),
            remedy=Remedy("look-at-start-circuit"),
            source="network computation",
        )


def _wires_at(node: str, configuration: Configuration) -> tuple[str, ...]:
    return tuple(w.id for w in configuration.wires if node in map(str, w.ends))


def turns_unasked(examined: Examined) -> Iterator[Finding]:
    """A starter without solenoid that is live while the key is not in start."""
    for starter in _without_solenoid(examined.configuration):
        for point in examined.points.values():
            amps = abs(point.element_current_a(starter.role))
            if point.state.engine is Engine.CRANKING or amps < 1.0:
                continue
            wires = _wires_at(f"{starter.role}.battery", examined.configuration)
            yield Finding(
                code="STA-LIVE",
                severity=Severity.DANGER,
                subjects=(at_part(starter.role), *at_wires(wires)),
                value=ampere(amps),
                facts={"state": point.state},
                remedy=Remedy("move-cable-behind-start-switch"),
                source="network computation",
            )
            break


def mechanical_switch(examined: Examined) -> Iterator[Finding]:
    """A start switch worked by hand has no interlock: the gear lever is the driver's business."""
    configuration = examined.configuration
    switches = {
        part.role for part in configuration.parts_of(Family.SWITCH) if not part.can(Capability.KEY)
    }
    links = links_of(configuration, CRANKING)
    for starter in _without_solenoid(configuration):
        path = paths_from(links, f"{starter.role}.battery").get(live_node(configuration), ())
        by_hand = [link.name for link in path if link.name in switches and not link.is_wire]
        if by_hand:
            yield Finding(
                code="STA-BY-HAND",
                severity=Severity.NOTE,
                subjects=at_parts((by_hand[0], starter.role)),
                remedy=Remedy("neutral-and-brake-first"),
                source="common practice",
            )


def holds_itself(examined: Examined) -> Iterator[Finding]:
    """A permanent-magnet starter whose solenoid is jumped to its own switched stud."""
    configuration = examined.configuration
    resting = links_of(configuration, RESTING_RUN)
    for starter in configuration.parts_that(Capability.PERMANENT_MAGNETS):
        ends = f"{starter.role}.solenoid", f"{starter.role}.battery"
        jumper = paths_from(wires_of(configuration), ends[0]).get(ends[1])
        is_live = live_node(configuration) in paths_from(resting, ends[1])
        if jumper is None or is_live:
            continue  # live for good: another rule says that it turns by itself
        yield Finding(
            code="STA-HOLDS",
            severity=Severity.WARNING,
            subjects=(at_part(starter.role), *at_wires(names_on(jumper))),
            remedy=Remedy("feed-solenoid-from-start-signal"),
            source="common practice",
        )


def feeds_while_running_down(examined: Examined) -> Iterator[Finding]:
    """What else hangs at solenoid or bypass of a permanent-magnet starter gets its run-down."""
    configuration = examined.configuration
    for starter in configuration.parts_that(Capability.PERMANENT_MAGNETS):
        extra = _extra_wires(starter, configuration)
        if extra:
            yield Finding(
                code="STA-RUN-DOWN",
                severity=Severity.CAUTION,
                subjects=(at_part(starter.role), *at_wires(extra)),
                remedy=Remedy("take-others-from-start-signal"),
                source="common practice; how long and how high is not computed",
            )


def _extra_wires(starter: Component, configuration: Configuration) -> tuple[str, ...]:
    at = configuration.wires_at
    bypass = at.get(TerminalRef(starter.role, "bypass"), ())
    signal = at.get(TerminalRef(starter.role, "solenoid"), ())
    others = [wire for wire in signal if wire.circuit != "start signal"]
    return tuple(dict.fromkeys(wire.id for wire in (*bypass, *others)))
