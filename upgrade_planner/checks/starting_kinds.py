"""Rules on starters with a relay, a mechanical switch or permanent magnets."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity, worded
from upgrade_planner.checks.paths import (
    RESTING_RUN,
    links_of,
    live_node,
    names_on,
    paths_from,
    wires_of,
)
from upgrade_planner.configuration.kinds import Capability, Family, Job
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.electrical.states import CRANKING, Engine

TURNS_RATIO = 0.5
"""Part of its cranking current below which a starter does not turn. [1] Source: our assumption."""


def _without_solenoid(configuration: Configuration) -> list[Component]:
    starters = configuration.parts_of(Family.STARTER)
    return [part for part in starters if part.terminal_as(Job.START_SIGNAL) is None]


def does_not_turn(examined: Examined) -> Iterator[Finding]:
    """With everything set for cranking, no current worth the name reaches the starter."""
    point, configuration = examined.points.get(CRANKING.name), examined.configuration
    for starter in _without_solenoid(configuration) if point is not None else ():
        amps = abs(point.element_current_a(starter.role)) if point is not None else 0.0
        if amps >= TURNS_RATIO * starter.ratings["cranking_current"]:
            continue
        relays = [part.role for part in configuration.parts_of(Family.STARTER_RELAY)]
        yield worded(
            code="STA-DEAD",
            title="Starter does not turn",
            severity=Severity.WARNING,
            where=(starter.role, *relays, *_wires_at(f"{starter.role}.battery", configuration)),
            what=f"{amps:.0f} A reach it while cranking."
            + (" Its relay does not pull in." if relays else " Its switch does not close."),
            remedy="Look at the start signal, the ground of the relay, the heavy cables.",
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
            node = f"{starter.role}.battery"
            yield worded(
                code="STA-LIVE",
                title="Starter live without the key in start",
                severity=Severity.DANGER,
                where=(starter.role, *_wires_at(node, examined.configuration)),
                what=f"{amps:.0f} A flow through it, {point.state.title}: it turns by itself.",
                remedy="Its cable belongs behind the start relay or start switch, alone.",
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
            yield worded(
                code="STA-BY-HAND",
                title="Start switch without interlock",
                severity=Severity.NOTE,
                where=(by_hand[0], starter.role),
                what="It cranks with a gear engaged and the key off: the vehicle may lurch off.",
                remedy="Neutral and brake before it is pulled; a label beside it says so.",
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
        yield worded(
            code="STA-HOLDS",
            title="Solenoid fed by the starter's own stud",
            severity=Severity.WARNING,
            where=(starter.role, *names_on(jumper)),
            what="After the relay lets go, the motor with its magnets runs down as a generator and "
            "holds its own solenoid in: the pinion stays in the ring gear of a running engine.",
            remedy="Feed the solenoid from the start signal, and the heavy stud straight from the "
            "battery.",
            source="common practice",
        )


def feeds_while_running_down(examined: Examined) -> Iterator[Finding]:
    """What else hangs at solenoid or bypass of a permanent-magnet starter gets its run-down."""
    configuration = examined.configuration
    for starter in configuration.parts_that(Capability.PERMANENT_MAGNETS):
        extra = _extra_wires(starter, configuration)
        if extra:
            yield worded(
                code="STA-RUN-DOWN",
                title="More than the start wire at a permanent-magnet starter",
                severity=Severity.CAUTION,
                where=(starter.role, *extra),
                what="For a second or two after each start the motor is a generator; through its "
                "solenoid it feeds these wires. Ignition or relays at them stay on.",
                remedy="Leave the start wire alone at the starter; take the others from the start "
                "signal behind a diode.",
                source="common practice; how long and how high is not computed",
            )


def _extra_wires(starter: Component, configuration: Configuration) -> tuple[str, ...]:
    at = configuration.wires_at
    bypass = at.get(TerminalRef(starter.role, "bypass"), ())
    signal = at.get(TerminalRef(starter.role, "solenoid"), ())
    others = [wire for wire in signal if wire.circuit != "start signal"]
    return tuple(dict.fromkeys(wire.id for wire in (*bypass, *others)))
