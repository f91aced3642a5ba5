"""Rules on what alternator or dynamo delivers: what carries it, and whether it is enough."""

from collections.abc import Iterator

from attrs import evolve

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Fact,
    Finding,
    Remedy,
    Severity,
    at_part,
    at_parts,
    at_wire,
    at_wires,
)
from upgrade_planner.checks.moves import taken_out
from upgrade_planner.checks.paths import (
    Path,
    links_of,
    live_node,
    names_on,
    paths_from,
    wires_of,
)
from upgrade_planner.configuration.edits import Resize
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import Component, Conductor, Configuration, Wire
from upgrade_planner.configuration.values.measures import ampere, celsius, is_above, volt
from upgrade_planner.configuration.values.sizes import sizes_in
from upgrade_planner.electrical.heat_balance import conductor_temperature
from upgrade_planner.electrical.mean_points import mean_of
from upgrade_planner.electrical.models.context import node_of, ref_of
from upgrade_planner.electrical.network.unsolvable import NetworkError
from upgrade_planner.electrical.operating_points import HOTTEST_C, OperatingPoint, operating_point
from upgrade_planner.electrical.output_drop import output_of, rated_drop_v
from upgrade_planner.electrical.performance import battery_current_a
from upgrade_planner.electrical.states import KEY_ON, LOADED, OFF, Engine, State

INSULATED_SIDE_V = 0.7
"""Drop from output to battery, at 12 V. [V] Source: NAVEDTRA 14273, p. 2-24: insulated side, at
20 A; the same at rated output: our assumption."""

HOT_AMMETER_RATIO = 1.5
"""Output, as part of an ammeter's range, at which its shunt and studs burn behind the dash. [1]
Source: our assumption; heat grows with the square, so more than twice what it is made for."""

DISCHARGE_A = 1.0
"""Discharge that no ammeter shows for sure. [A] Source: our assumption."""

IDLE_LOADED = State(LOADED.name, "idling, loads on", LOADED.key, Engine.IDLING)
"""The switches of `loaded`, found by its name, at the speed of idle."""


def _machines(configuration: Configuration) -> Iterator[tuple[Component, float, Path | None]]:
    """Machines, rated output, and the plain path from their output to the battery."""
    links = links_of(configuration, KEY_ON)
    for machine in configuration.parts_that(Capability.CHARGES):
        path = paths_from(links, node_of(output_of(machine))).get(live_node(configuration))
        yield machine, machine.ratings["rated_output"], path


def _wires(path: Path, configuration: Configuration) -> list[Wire]:
    return [configuration.wire_by_id[name] for name in names_on(path)]


def output_not_joined(examined: Examined) -> Iterator[Finding]:
    """The output does not reach the battery, or not with the key off: its voltage may surge."""
    configuration = examined.configuration
    off, live = links_of(configuration, OFF), live_node(configuration)
    for machine, _, path in _machines(configuration):
        is_switched = path is not None and live not in paths_from(off, node_of(output_of(machine)))
        if path is None or is_switched:
            yield Finding(
                code="CHG-OUTPUT-OPEN",
                cause="switched" if is_switched else "open",
                severity=Severity.DANGER,
                subjects=(at_part(machine.role), *at_wires(names_on(path or ()))),
                remedy=Remedy("join-output-always-live" if is_switched else "join-output"),
                source="US Army TM 10-3930-671-24, p. F-275",
            )


def output_drop(examined: Examined) -> Iterator[Finding]:
    """The way from output to battery loses too much at rated output."""
    configuration = examined.configuration
    limit = INSULATED_SIDE_V * configuration.vehicle.voltage_v / 12.0
    for machine, amps, path in _machines(configuration):
        wires = _wires(path or (), configuration)
        drops = {wire.id: rated_drop_v(wire, machine, configuration) for wire in wires}
        total = sum(drops.values())
        if is_above(volt(total), volt(limit)):
            worst = sorted(drops, key=lambda wire_id: -drops[wire_id])
            yield Finding(
                code="CHG-OUTPUT-DROP",
                severity=Severity.CAUTION,
                subjects=at_wires(worst),
                value=volt(total),
                limit=volt(limit),
                facts={"output": ampere(amps), "worst": at_wire(worst[0])},
                remedy=_larger_output_wire(worst[0], total - limit, machine, configuration),
                source="NAVEDTRA 14273, p. 2-24: 0.7 V on the insulated side at 20 A; at rated "
                "output: our assumption",
            )


def _larger_output_wire(
    wire_id: str, over_v: float, machine: Component, configuration: Configuration
) -> Remedy:
    """The wire that loses most, in the size that brings the whole way below its limit."""
    wire, facts = configuration.wire_by_id[wire_id], dict[str, Fact](worst=at_wire(wire_id))
    now_v = rated_drop_v(wire, machine, configuration)
    for size in sizes_in(configuration.vehicle.size_system):
        left_v = rated_drop_v(evolve(wire, size=size), machine, configuration)
        if wire.conductor is Conductor.COPPER and now_v - left_v >= over_v:
            more = {**facts, "size": size}
            return Remedy("fit-output-wire-of", more, edits=(Resize(wire_id, size),))
    return Remedy("fit-larger-output-wire", facts)


def output_above_ratings(examined: Examined) -> Iterator[Finding]:
    """Rated output exceeds the ammeter, a junction or a connector cavity on its way."""
    configuration = examined.configuration
    for machine, amps, path in _machines(configuration):
        for code, role, limit, remedy in _limits(path or (), configuration):
            if amps > limit:
                hot = code == "CHG-AMMETER" and amps >= HOT_AMMETER_RATIO * limit
                yield Finding(
                    code=code,
                    severity=Severity.DANGER if hot else Severity.WARNING,
                    subjects=(at_part(machine.role), at_part(role)),
                    value=ampere(amps),
                    limit=ampere(limit),
                    facts={"passed": at_part(role)},
                    remedy=remedy,
                    source="the profile's own figures; into a flat battery nearly all of it flows",
                )


def _limits(path: Path, configuration: Configuration) -> Iterator[tuple[str, str, float, Remedy]]:
    """
    What stands in a path: code, role, limit [A], remedy.

    Ammeter and fuse count where the path leads through them, not where it only touches a terminal
    of theirs, battery and machine on the same side. A junction is one terminal.
    """
    through = {link.name for link in path if not link.is_wire}
    roles = [ref_of(end).role for link in path for end in (link.one, link.other)]
    for role in dict.fromkeys(roles):
        part = configuration.component_by_role[role]
        if part.family is Family.AMMETER and role in through:
            yield "CHG-AMMETER", role, part.ratings["range"], Remedy("fit-wider-ammeter")
        elif part.family is Family.JOINT and "rated_current" in part.ratings:
            yield "CHG-JUNCTION", role, part.ratings["rated_current"], Remedy("fit-heavier-stud")
        elif part.is_single_fuse and role in through:
            yield "CHG-FUSE", role, part.ratings["rated_current"], Remedy("fit-fuse-above-output")
    passing: dict[str, list[str]] = {}
    for wire in _wires(path, configuration):
        for role in configuration.runs[wire.id].connectors:
            passing.setdefault(role, []).append(wire.id)
    for role, wires in passing.items():
        limit = configuration.component(role).ratings.get("cavity_current")
        if limit is not None:
            remedy = Remedy("lead-past-connector", {"wires": at_wires(wires)})
            yield "CHG-CAVITY", role, limit, remedy


def output_above_link(examined: Examined) -> Iterator[Finding]:
    """A link on the way to the battery gets hotter than its insulation at rated output."""
    configuration = examined.configuration
    for machine, amps, path in _machines(configuration):
        for wire in _wires(path or (), configuration):
            if wire.conductor is not Conductor.LINK:
                continue
            ambient_c = configuration.runs[wire.id].ambient_c
            found_c = conductor_temperature(wire.size, amps, ambient_c)
            limit_c = wire.insulation.rated_c
            if found_c > limit_c:
                yield Finding(
                    code="CHG-LINK",
                    cause="reaches" if found_c < HOTTEST_C else "beyond",
                    severity=Severity.WARNING,
                    subjects=(at_wire(wire.id), at_part(machine.role)),
                    value=celsius(min(found_c, HOTTEST_C)),
                    limit=celsius(limit_c),
                    facts={"output": ampere(amps)},
                    remedy=Remedy("fit-larger-link"),
                    source="heat balance of the wire; owners' forum: link of the old output kept",
                )


def ammeter_overloaded(examined: Examined) -> Iterator[Finding]:
    """More current through the ammeter than its scale, in some state."""
    for part in examined.configuration.parts_of(Family.AMMETER):
        currents = [
            (abs(point.element_current_a(part.role)), point.state)
            for point in examined.points.values()
        ]
        for amps, state in sorted(currents, key=lambda one: (one[0], one[1].title))[-1:]:
            if amps > part.ratings["range"]:
                yield Finding(
                    code="CHG-AMMETER-NOW",
                    severity=Severity.WARNING,
                    subjects=(at_part(part.role),),
                    value=ampere(amps),
                    limit=ampere(part.ratings["range"]),
                    facts={"state": state},
                    remedy=Remedy("lead-loads-past-ammeter"),
                    source="the profile's own figures; owners' articles on hot ammeters",
                )


def ammeter_passed_by(examined: Examined) -> Iterator[Finding]:
    """The charge does not pass the ammeter on its way to the battery: it shows loads only."""
    configuration = examined.configuration
    for machine, _, path in _machines(configuration):
        nodes = {end for link in path or () for end in (link.one, link.other)}
        for part in configuration.parts_of(Family.AMMETER) if path is not None else ():
            if f"{part.role}.battery_side" in nodes:
                continue
            yield Finding(
                code="CHG-AMMETER-BLIND",
                severity=Severity.NOTE,
                subjects=(at_part(part.role), at_part(machine.role)),
                remedy=Remedy("tell-driver-or-fit-voltmeter"),
                source="common practice",
            )


def ammeter_bridged(examined: Examined) -> Iterator[Finding]:
    """Wires alone join both sides of an ammeter: what passes them, it does not show."""
    configuration = examined.configuration
    for part in configuration.parts_of(Family.AMMETER):
        ends = f"{part.role}.battery_side", f"{part.role}.load_side"
        bridge = paths_from(wires_of(configuration), ends[0]).get(ends[1])
        if bridge is None:
            continue
        wires = names_on(bridge)
        yield Finding(
            code="CHG-AMMETER-BRIDGED",
            severity=Severity.CAUTION,
            subjects=(at_part(part.role), *at_wires(wires)),
            facts={"wires": at_wires(wires)},
            remedy=Remedy(
                "take-bridge-off-ammeter",
                {"wires": at_wires(wires)},
                edits=taken_out(wires) if len(wires) == 1 else (),
            ),
            source="our own reasoning from the wiring",
        )


def battery_discharging(examined: Examined) -> Iterator[Finding]:
    """Loads take more than the machine gives: running, or at idle."""
    configuration = examined.configuration
    if not configuration.parts_that(Capability.CHARGES):
        return
    running = examined.points.get(LOADED.name)
    if running is None:
        return
    amps = _discharge_a(running)
    if amps > DISCHARGE_A:
        yield _discharging(running, amps, Severity.WARNING)
        return
    try:
        idling = operating_point(configuration, IDLE_LOADED)
    except NetworkError as error:
        yield _not_computed(str(error))
        return
    if _discharge_a(idling) > DISCHARGE_A:
        yield _discharging(idling, _discharge_a(idling), Severity.NOTE)


def _discharge_a(point: OperatingPoint) -> float:
    """Current that the battery gives. [A]"""
    return -battery_current_a(mean_of(point))


def _discharging(point: OperatingPoint, amps: float, severity: Severity) -> Finding:
    return Finding(
        code="CHG-BALANCE" if severity is Severity.WARNING else "CHG-BALANCE-IDLE",
        cause="discharging",
        severity=severity,
        subjects=at_parts(part.role for part in point.configuration.parts_that(Capability.CHARGES)),
        value=ampere(amps),
        limit=ampere(DISCHARGE_A),
        facts={"state": point.state, "battery": volt(point.battery_v)},
        remedy=Remedy("fit-larger-machine"),
        source="computed; output at idle from the profile, or 40 % of the rated: our assumption",
    )


def _not_computed(why: str) -> Finding:
    return Finding(
        code="CHG-BALANCE-IDLE",
        cause="not-computed",
        severity=Severity.NOTE,
        subjects=(),
        facts={"why": why},
        remedy=Remedy("measure-balance-at-idle"),
        source="our own network calculation",
    )
