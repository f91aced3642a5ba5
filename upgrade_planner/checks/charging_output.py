"""Rules on what alternator or dynamo delivers: what carries it, and whether it is enough."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity, worded
from upgrade_planner.checks.paths import (
    Path,
    links_of,
    live_node,
    names_on,
    paths_from,
)
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import Component, Conductor, Configuration, Wire
from upgrade_planner.electrical.heat_balance import conductor_temperature
from upgrade_planner.electrical.models.context import node_of
from upgrade_planner.electrical.network.errors import NetworkError
from upgrade_planner.electrical.operating_points import HOTTEST_C, OperatingPoint, operating_point
from upgrade_planner.electrical.output_drop import output_of, rated_drop_v
from upgrade_planner.electrical.performance import battery_current_a
from upgrade_planner.electrical.states import KEY_ON, LOADED, Engine, State

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
    """The output does not reach the battery: nothing is charged, and voltage may surge."""
    for machine, _, path in _machines(examined.configuration):
        if path is None:
            yield worded(
                code="CHG-OUTPUT-OPEN",
                title="Charging output not joined to the battery",
                severity=Severity.DANGER,
                where=(machine.role,),
                what="No plain path leads from the output to the battery; run like this, its "
                "voltage climbs far above the regulated one.",
                remedy="Join the output to the main junction before the engine runs.",
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
        if total > limit:
            worst = sorted(drops, key=lambda wire_id: -drops[wire_id])
            yield worded(
                code="CHG-OUTPUT-DROP",
                title="Charging path loses too much",
                severity=Severity.CAUTION,
                where=tuple(worst),
                what=f"{total:.2f} V from output to battery at {amps:.0f} A, at most {limit:.2f} V "
                f"are right; most of it in {worst[0]}.",
                remedy=f"Fit a larger wire for {worst[0]}, or lead the output straight to the "
                "battery side of the starter.",
                source="NAVEDTRA 14273, p. 2-24: 0.7 V on the insulated side at 20 A; at rated "
                "output: our assumption",
            )


def output_above_ratings(examined: Examined) -> Iterator[Finding]:
    """Rated output exceeds the ammeter, a junction or a connector cavity on its way."""
    configuration = examined.configuration
    for machine, amps, path in _machines(configuration):
        for code, name, limit, remedy in _limits(path or (), configuration):
            if amps > limit:
                hot = code == "CHG-AMMETER" and amps >= HOT_AMMETER_RATIO * limit
                yield worded(
                    code=code,
                    title="Output larger than what it passes",
                    severity=Severity.DANGER if hot else Severity.WARNING,
                    where=(machine.role, name),
                    what=f"The machine can deliver {amps:.0f} A; {name} is made for {limit:.0f} A.",
                    remedy=remedy,
                    source="the profile's own figures; into a flat battery nearly all of it flows",
                )


def _limits(path: Path, configuration: Configuration) -> Iterator[tuple[str, str, float, str]]:
    """What stands in a path: code, role, limit [A], remedy."""
    roles = [end.partition(".")[0] for link in path for end in (link.one, link.other)]
    for role in dict.fromkeys(roles):
        part = configuration.component_by_role[role]
        if part.family is Family.AMMETER:
            remedy = "Fit an ammeter of wider range, or lead the output past it to the starter."
            yield "CHG-AMMETER", role, part.ratings["range"], remedy
        elif part.family is Family.JOINT and "rated_current" in part.ratings:
            remedy = "Fit a heavier stud, or lead the output straight to the battery side."
            yield "CHG-JUNCTION", role, part.ratings["rated_current"], remedy
        elif part.is_single_fuse:
            remedy = "Fit a fuse above the output, and wires that it guards."
            yield "CHG-FUSE", role, part.ratings["rated_current"], remedy
    passing: dict[str, list[str]] = {}
    for wire in _wires(path, configuration):
        for role in configuration.runs[wire.id].connectors:
            passing.setdefault(role, []).append(wire.id)
    for role, wires in passing.items():
        limit = configuration.component(role).ratings.get("cavity_current")
        if limit is not None:
            remedy = f"Lead {' and '.join(wires)} past the connector through a grommet."
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
                yield worded(
                    code="CHG-LINK",
                    title="Link too small for the output",
                    severity=Severity.WARNING,
                    where=(wire.id, machine.role),
                    what=f"At {amps:.0f} A it {_heats(found_c)}, its insulation stands "
                    f"{limit_c:.0f} °C: it ages and opens without a fault.",
                    remedy="Fit a larger link, and wires four gauge numbers larger than it.",
                    source="heat balance of the wire; owners' forum: link of the old output kept",
                )


def _heats(found_c: float) -> str:
    return f"reaches {found_c:.0f} °C" if found_c < HOTTEST_C else f"goes beyond {HOTTEST_C:.0f} °C"


def ammeter_overloaded(examined: Examined) -> Iterator[Finding]:
    """More current through the ammeter than its scale, in some state."""
    for part in examined.configuration.parts_of(Family.AMMETER):
        found = [
            (abs(point.element_current_a(part.role)), point.state.title)
            for point in examined.points.values()
        ]
        amps, state = max(found, default=(0.0, ""))
        if amps > part.ratings["range"]:
            yield worded(
                code="CHG-AMMETER-NOW",
                title="Ammeter overloaded",
                severity=Severity.WARNING,
                where=(part.role,),
                what=f"{amps:.0f} A flow through it ({state}), its scale ends at "
                f"{part.ratings['range']:.0f} A.",
                remedy="Lead starter and heavy loads past the ammeter, or fit one of wider range.",
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
            yield worded(
                code="CHG-AMMETER-BLIND",
                title="Ammeter that does not see the charge",
                severity=Severity.NOTE,
                where=(part.role, machine.role),
                what="The output reaches the battery past the ammeter: it shows what the loads "
                "take, as discharge, and never a charge.",
                remedy="Tell the driver, or fit a voltmeter, which says more.",
                source="common practice",
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
    return -battery_current_a(point)


def _discharging(point: OperatingPoint, amps: float, severity: Severity) -> Finding:
    machines = tuple(part.role for part in point.configuration.parts_that(Capability.CHARGES))
    return worded(
        code="CHG-BALANCE" if severity is Severity.WARNING else "CHG-BALANCE-IDLE",
        title="Battery discharges while the engine runs",
        severity=severity,
        where=machines,
        what=f"{amps:.0f} A leave the battery ({point.state.title}), {point.battery_v:.1f} V.",
        remedy="Fit a machine of larger output, or switch loads off at idle.",
        source="computed; output at idle from the profile, or 40 % of the rated: our assumption",
    )


def _not_computed(why: str) -> Finding:
    return worded(
        code="CHG-BALANCE-IDLE",
        title="Load balance at idle not computed",
        severity=Severity.NOTE,
        where=(),
        what=f"Not computed: {why}",
        remedy="Measure at the battery, idling with loads on.",
        source="our own network calculation",
    )
