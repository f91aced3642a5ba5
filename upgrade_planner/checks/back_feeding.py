"""
Rules on current that flows backwards: into the ignition after key-off, into a field, a solenoid.

A turning alternator is a second source. Through the charge lamp it can feed what the key has cut.
"""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Finding,
    Remedy,
    Severity,
    at_part,
    at_parts,
    at_terminal,
    at_wires,
)
from upgrade_planner.checks.ignition_parts import Fed, alive_v, fed_parts, supply_v
from upgrade_planner.checks.paths import (
    WITH_RESISTANCE,
    LinkMedium,
    links_of,
    live_node,
    names_on,
    paths_from,
    wires_reached,
)
from upgrade_planner.checks.self_acting import closed_links
from upgrade_planner.checks.trials import (
    live_in,
    with_diode_at,
    with_unit_at_rest,
    without,
)
from upgrade_planner.configuration.kinds import Capability, TerminalUse
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.configuration.values.measures import ampere, volt
from upgrade_planner.electrical.models.assumptions import UNIT_RESTING_A
from upgrade_planner.electrical.network.solving import Solution
from upgrade_planner.electrical.operating_points import OperatingPoint
from upgrade_planner.electrical.states import COASTING, OFF

SOLENOID_HOLDS_V = 3.0
"""Voltage at a solenoid, at 12 V, that may hold it in. [V] Source: our assumption; a pulled-in
magnet holds at a quarter of its rated voltage."""

SOLENOID_QUIET_V = 1.0
"""Voltage at a solenoid at rest, at 12 V, above which something feeds it. [V]
Source: our assumption."""

DRAIN_A = 0.1
"""Field current with the key off that is no leakage. [A] Source: our assumption; it empties a
50 Ah battery in three weeks. US Army TM 10-3930-671-24, p. F-276: 0 V at the field, key off."""


def runs_on(examined: Examined) -> Iterator[Finding]:
    """The alternator keeps the ignition alive after the key is off: the engine runs on."""
    configuration = examined.configuration
    off, coasting = (examined.points.get(state.name) for state in (OFF, COASTING))
    if off is None or coasting is None:
        return
    for fed in fed_parts(configuration):
        limit = alive_v(fed, configuration)
        if (supply_v(fed, off) or 0.0) >= limit:
            continue  # live with the engine stopped: a rule of the ignition says so
        volts = supply_v(fed, coasting) or 0.0
        if volts >= limit:
            yield _run_on(fed, volts, limit, coasting)
        elif fed.is_unit:
            yield from _may_catch_again(fed, limit, coasting)


def _scale(configuration: Configuration) -> float:
    return configuration.vehicle.voltage_v / 12.0


def _run_on(fed: Fed, volts: float, limit: float, point: OperatingPoint) -> Finding:
    closed = closed_links(point.configuration, COASTING, point)
    held = paths_from(closed, fed.node, WITH_RESISTANCE).get(live_node(point.configuration))
    relays = [n for n in point.operated if any(link.name == n for link in held or ())]
    if held and relays:
        return _held_by_relay(fed, volts, limit, sorted(relays), names_on(held))
    ways = _lamp_terminals(point.configuration)
    tried = [(ref, _left_behind_diode(ref, fed, point)) for ref in ways]
    good = [(ref, left) for ref, left in tried if left is not None and left < limit]
    wires = tuple(wire.id for ref in ways for wire in point.configuration.wires_at.get(ref, ()))
    if good:
        ref, left = good[0]
        remedy = Remedy(
            "fit-diode-in-lamp-wire", {"terminal": at_terminal(ref), "left": volt(left)}
        )
    else:
        remedy = Remedy("part-charging-from-ignition" if not ways else "part-diode-is-no-help")
    return Finding(
        code="CHG-RUN-ON",
        cause="alternator",
        severity=Severity.DANGER,
        subjects=(at_terminal(fed.ref), *at_wires(wires)),
        value=volt(volts),
        limit=volt(limit),
        facts={"fed": at_terminal(fed.ref)},
        remedy=remedy,
        source="tractor-club conversion note and vehicle wiki: diode in the lamp feed",
    )


def _held_by_relay(
    fed: Fed, volts: float, limit: float, relays: list[str], wires: tuple[str, ...]
) -> Finding:
    return Finding(
        code="CHG-RUN-ON",
        cause="held",
        severity=Severity.DANGER,
        subjects=(at_terminal(fed.ref), *at_parts(relays), *at_wires(wires)),
        value=volt(volts),
        limit=volt(limit),
        facts={"fed": at_terminal(fed.ref), "relays": at_parts(relays)},
        remedy=Remedy("part-relay-from-ignition", {"relays": at_parts(relays)}),
        source="network computation",
    )


def _left_behind_diode(ref: TerminalRef, fed: Fed, point: OperatingPoint) -> float | None:
    solution = with_diode_at(ref, point)
    return None if solution is None else live_in(solution, fed.ref, point) or 0.0


def _may_catch_again(fed: Fed, limit: float, point: OperatingPoint) -> Iterator[Finding]:
    """A unit that has died draws less, and may see enough to fire again: not decided."""
    rested = with_unit_at_rest(fed.part.role, UNIT_RESTING_A, point)
    volts = None if rested is None else live_in(rested, fed.ref, point)
    if volts is None or volts < limit or supply_v(fed, point) is None:
        return
    yield Finding(
        code="CHG-RUN-ON-TEST",
        severity=Severity.NOTE,
        subjects=(at_terminal(fed.ref),),
        value=volt(volts),
        limit=volt(limit),
        remedy=Remedy("try-stopping-at-idle"),
        source="our assumption on the current of an electronic unit",
    )


def _lamp_terminals(configuration: Configuration) -> list[TerminalRef]:
    """Lamp terminals of machines and regulators that are wired."""
    refs = [
        TerminalRef(part.role, TerminalUse.LAMP)
        for part in configuration.parts_that(Capability.EXCITED_BY_LAMP)
        if part.terminal_as(TerminalUse.LAMP) is not None
    ]
    return [ref for ref in refs if configuration.wires_at.get(ref)]


def field_drains(examined: Examined) -> Iterator[Finding]:
    """Field current with key off and engine stopped: the battery drains."""
    point = examined.points.get(OFF.name)
    if point is None:
        return
    for machine in examined.configuration.parts_that(Capability.CHARGES):
        names = (f"{machine.role}:exciter", f"{machine.role}:field")
        amps = max(abs(point.element_current_a(name)) for name in names)
        if amps > DRAIN_A:
            yield Finding(
                code="CHG-FIELD-DRAIN",
                severity=Severity.WARNING,
                subjects=(
                    at_part(machine.role),
                    *at_wires(_wires_at_field(machine, examined.configuration)),
                ),
                value=ampere(amps),
                limit=ampere(DRAIN_A),
                remedy=Remedy("feed-field-from-switched"),
                source="US Army TM 10-3930-671-24, p. F-276: 0 V at the field, key off",
            )


def _wires_at_field(machine: Component, configuration: Configuration) -> tuple[str, ...]:
    """Wires between what is live with the key off and the field, over lamp and resistance."""
    live = live_node(configuration)
    links = links_of(configuration, OFF)
    nodes = [f"{machine.role}.field", *map(str, _lamp_terminals(configuration))]
    for node in nodes:
        path = paths_from(links, node, WITH_RESISTANCE | {LinkMedium.LAMP}).get(live)
        if path is not None:
            return names_on(path)
    refs = [TerminalRef(machine.role, "field"), *_lamp_terminals(configuration)]
    return tuple(dict.fromkeys(w.id for ref in refs for w in configuration.wires_at.get(ref, ())))


def solenoid_fed(examined: Examined) -> Iterator[Finding]:
    """Something feeds the starter's solenoid while the key is not in start."""
    configuration = examined.configuration
    for _, ref in configuration.parts_with(TerminalUse.START_SIGNAL):
        states = [point for name, point in examined.points.items() if name != "cranking"]
        worst = max(states, key=lambda point: _held_v(ref, point), default=None)
        if worst is None or _held_v(ref, worst) < SOLENOID_QUIET_V * _scale(configuration):
            continue
        volts = _held_v(ref, worst)
        holds = volts >= SOLENOID_HOLDS_V * _scale(configuration)
        yield Finding(
            code="STA-FED",
            cause="holds" if holds else "lags",
            severity=Severity.DANGER if holds else Severity.WARNING,
            subjects=(at_terminal(ref), *at_wires(wires_reached(ref, configuration))),
            value=volt(volts),
            limit=volt(SOLENOID_QUIET_V * _scale(configuration)),
            facts={"fed": at_terminal(ref), "state": worst.state},
            remedy=Remedy("leave-start-wire-alone"),
            source="our assumption: a solenoid may hold at a quarter of the system voltage",
        )


def _held_v(ref: TerminalRef, point: OperatingPoint) -> float:
    """Voltage at a solenoid, of a pulled-in one if that is more: it draws far less. [V]"""
    ground = point.live_v(TerminalRef(ref.role, "case")) or 0.0
    resting = (point.live_v(ref) or 0.0) - ground
    if resting < LEAST_FED_V:
        return resting
    held: Solution | None = without(frozenset({f"{ref.role}:pull-in"}), point)
    return resting if held is None else max(resting, live_in(held, ref, point) or 0.0)


LEAST_FED_V = 0.1
"""Less at a solenoid is the drop of ground paths, not a feed. [V] Source: our assumption."""
