"""
Rules on switches that somebody or something moves while the key is off: brake pedal, float, door,
thermostat, oil pressure. Each is tried in every position; a state holds it in one.

Only where the contacts could join the battery to what must be dead is anything solved.
"""

from collections.abc import Container, Iterator

from attrs import evolve

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Finding,
    Remedy,
    Severity,
    Subject,
    at_part,
    at_terminal,
    at_wires,
)
from upgrade_planner.checks.ignition_parts import Fed, alive_v, fed_parts, supply_v
from upgrade_planner.checks.paths import (
    WITH_RESISTANCE,
    Link,
    LinkMedium,
    links_of,
    live_node,
    names_on,
    paths_from,
)
from upgrade_planner.configuration.kinds import Capability, Family, Passing, TerminalUse, When
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.configuration.values.measures import volt
from upgrade_planner.electrical.models.context import node_of
from upgrade_planner.electrical.network.unsolvable import NetworkError
from upgrade_planner.electrical.operated import coils_of
from upgrade_planner.electrical.operating_points import OperatingPoint, operating_point
from upgrade_planner.electrical.passing import Way, ways_through
from upgrade_planner.electrical.states import CRANKING, KEY_ON, OFF, Engine, State, position_of

HOLDS_RATIO = 0.25
"""Voltage at a solenoid, as part of the system's, that may hold it in. [1] Source: our assumption,
as at `back_feeding.SOLENOID_HOLDS_V`."""

AT_ACCESSORY = State("", "key at accessory, engine stopped", "accessory", Engine.STOPPED)
"""The key where it feeds a radio while nobody drives."""

SOURCE = "position map of the switches in the profile; network computation"


def live_by_a_switch(examined: Examined) -> Iterator[Finding]:
    """With the key off, a switch that works by itself or by foot feeds the ignition."""
    configuration = examined.configuration
    live = live_node(configuration)
    found: dict[str, list[tuple[Fed, float, tuple[str, ...]]]] = {}
    for fed in fed_parts(configuration):
        resting = paths_from(links_of(configuration, OFF), fed.node, WITH_RESISTANCE)
        if live in resting:
            continue  # live whatever they do: a rule of the ignition says so
        for switch, point, wires in _fed_by_switches(fed.node, OFF, examined):
            volts = supply_v(fed, point) or 0.0
            if volts >= alive_v(fed, configuration):
                found.setdefault(switch.role, []).append((fed, volts, wires))
    for role, several in found.items():
        yield _live(role, several)


def _live(role: str, several: list[tuple[Fed, float, tuple[str, ...]]]) -> Finding:
    """One finding a switch, whatever it feeds."""
    fed, volts, _ = several[0]
    wires = dict.fromkeys(wire for _, _, of_one in several for wire in of_one)
    closing = at_part(role)
    return Finding(
        code="IGN-SWITCH-LIVE",
        severity=Severity.DANGER,
        subjects=(*(at_terminal(one.ref) for one, _, _ in several), closing, *at_wires(wires)),
        value=volt(volts),
        facts={"fed": at_terminal(fed.ref), "closing": closing},
        remedy=Remedy("part-switch-from-ignition", {"closing": closing}),
        source=SOURCE,
    )


def start_signal_by_a_switch(examined: Examined) -> Iterator[Finding]:
    """With the key in run, a switch that has nothing to do with starting feeds the solenoid."""
    configuration = examined.configuration
    least_v = HOLDS_RATIO * configuration.vehicle.voltage_v
    for _, ref in configuration.parts_with(TerminalUse.START_SIGNAL):
        resting = examined.points.get(KEY_ON.name)
        if resting is None or _above_case_v(ref, resting) >= least_v:
            continue  # a rule of back-feeding says so
        for switch, point, wires in _fed_by_switches(node_of(ref), KEY_ON, examined):
            volts = _above_case_v(ref, point)
            if volts >= least_v and not _is_for_starting(switch, configuration):
                yield _starts(ref, switch, volts, wires, least_v)
                break


def _above_case_v(ref: TerminalRef, point: OperatingPoint) -> float:
    return (point.live_v(ref) or 0.0) - (point.live_v(TerminalRef(ref.role, "case")) or 0.0)


def _is_for_starting(switch: Component, configuration: Configuration) -> bool:
    """A button that starts, by the circuit of a wire at it."""
    refs = (TerminalRef(switch.role, terminal.name) for terminal in switch.terminals)
    wires = (wire for ref in refs for wire in configuration.wires_at.get(ref, ()))
    return any(wire.circuit == "start signal" for wire in wires)


def _starts(
    ref: TerminalRef, switch: Component, volts: float, wires: tuple[str, ...], least_v: float
) -> Finding:
    return Finding(
        code="STA-SWITCH-LIVE",
        severity=Severity.DANGER,
        subjects=(at_terminal(ref), at_part(switch.role), *at_wires(wires)),
        value=volt(volts),
        limit=volt(least_v),
        facts={"fed": at_terminal(ref), "closing": at_part(switch.role)},
        remedy=Remedy("part-switch-from-start", {"closing": at_part(switch.role)}),
        source=SOURCE,
    )


def _fed_by_switches(
    node: str, state: State, examined: Examined
) -> Iterator[tuple[Component, OperatingPoint, tuple[str, ...]]]:
    """
    Each switch in each other position, solved, with the wires over which the node may be fed.

    Nothing where no contact at all could feed it; switches that serve for starting are left out.
    """
    configuration = examined.configuration
    whole = closed_links(configuration, state)
    path = paths_from(whole, node, WITH_RESISTANCE).get(live_node(configuration))
    if path is None:
        return
    resting = _links_at_rest(state, examined)
    for switch, moved in _moved_switches(configuration, state):
        at = position_of(switch, state, moved)
        closed = (_closed(way, switch) for way in ways_through(switch) if way.position == at)
        if resting and node not in _reached((*resting, *closed), configuration):
            continue
        try:
            point = operating_point(moved, state)
        except NetworkError:
            continue
        links = closed_links(moved, state, point)
        way = paths_from(links, node, WITH_RESISTANCE).get(live_node(configuration), path)
        yield switch, point, names_on(way)


def _moved_switches(
    configuration: Configuration, state: State
) -> Iterator[tuple[Component, Configuration]]:
    starting = configuration.switch_positions.get(CRANKING.name, {})
    held = configuration.switch_positions.get(state.name, {})
    for switch in configuration.parts_of(Family.SWITCH):
        if switch.can(Capability.KEY) or switch.role in starting:
            continue
        now = position_of(switch, state, configuration)
        for position in switch.ratings["positions"]:
            if position != now:
                mine = {**held, switch.role: position}
                positions = {**configuration.switch_positions, state.name: mine}
                yield switch, evolve(configuration, switch_positions=positions)


def _links_at_rest(state: State, examined: Examined) -> tuple[Link, ...]:
    """All that joins in a state, loads too, but for what is grounded; none if nothing is solved."""
    point, ways = examined.points.get(state.name), examined.ways
    if point is None or ways.live in ways.grounded:
        return ()
    ends = (element.ends for element in point.solution.network.elements)
    links = (Link(str(one), str(other), LinkMedium.CONTACT, "") for one, other in ends)
    return tuple(link for link in links if ways.grounded.isdisjoint((link.one, link.other)))


def _reached(links: tuple[Link, ...], configuration: Configuration) -> Container[str]:
    """
    Nodes that links join to the live post, and relays whose coils they reach.

    What is not among them is joined by ground alone: no switch brings it a voltage.
    """
    waiting = coils_of(configuration)
    while True:
        reached = paths_from(links, live_node(configuration))
        fed = [coil for coil in waiting if coil.one in reached or coil.other in reached]
        if not fed:
            return reached
        waiting = tuple(coil for coil in waiting if coil not in fed)
        relays = (configuration.component(coil.role) for coil in fed)
        links += tuple(_closed(way, relay) for relay in relays for way in ways_through(relay))


def _closed(way: Way, part: Component) -> Link:
    return Link(f"{part.role}.{way.one}", f"{part.role}.{way.other}", LinkMedium.CONTACT, part.role)


def closed_links(
    configuration: Configuration, state: State, point: OperatingPoint | None = None
) -> tuple[Link, ...]:
    """All links of a state; without a point with every switch but the key and relay closed."""
    links = list(links_of(configuration, state))
    for part in configuration.parts_of(Family.SWITCH, Family.RELAY):
        closed = point is None or part.role in point.operated
        for way in ways_through(part) if not part.can(Capability.KEY) else ():
            is_relay = way.when is When.PULLED_IN or (way.when is When.LET_GO and point is None)
            is_switch = way.when is When.BY_POSITION and point is None
            if way.passing is Passing.CONTACT and ((is_relay and closed) or is_switch):
                links.append(_closed(way, part))
    return tuple(links)


def live_at_accessory(examined: Examined) -> Iterator[Finding]:
    """The ignition is on where the key feeds accessories alone, or these while cranking."""
    configuration = examined.configuration
    for key in configuration.parts_that(Capability.KEY):
        if key.terminal("accessory") is None or AT_ACCESSORY.key not in key.ratings["positions"]:
            continue
        live = live_node(configuration)
        reached = paths_from(links_of(configuration, AT_ACCESSORY), live, WITH_RESISTANCE)
        off = paths_from(links_of(configuration, OFF), live, WITH_RESISTANCE)
        lit = [f for f in fed_parts(configuration) if f.node in reached and f.node not in off]
        if lit:
            wires = names_on(reached[lit[0].node])
            yield _joined(key, "lit", at_terminal(lit[0].ref), wires)
            continue
        node = f"{key.role}.accessory"
        path = paths_from(links_of(configuration, CRANKING), live).get(node)
        if path is not None and not any(link.name == key.role for link in path[-1:]):
            yield _joined(
                key, "cranking", at_terminal(TerminalRef(key.role, "accessory")), names_on(path)
            )


def _joined(key: Component, cause: str, fed: Subject, wires: tuple[str, ...]) -> Finding:
    return Finding(
        code="IGN-ACCESSORY",
        cause=cause,
        severity=Severity.CAUTION,
        subjects=(at_part(key.role), fed, *at_wires(wires)),
        facts={"fed": fed},
        remedy=Remedy("part-accessories-from-ignition"),
        source="position map of the key switch in the profile",
    )
