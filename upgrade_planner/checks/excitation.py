"""Rules on the charge lamp: it excites the field before the machine turns fast enough itself."""

from collections.abc import Iterator

from upgrade_planner.checks.charging import is_control_box
from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Facts,
    Finding,
    Remedy,
    Severity,
    at_part,
    at_parts,
    at_terminal,
    at_wires,
)
from upgrade_planner.checks.moves import changed_over
from upgrade_planner.checks.paths import (
    PLAIN,
    WITH_RESISTANCE,
    LinkMedium,
    is_grounded,
    links_of,
    live_node,
    names_on,
    paths_from,
    wires_of,
)
from upgrade_planner.configuration.kinds import Capability, Family, TerminalUse
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.configuration.values.measures import ampere, volt
from upgrade_planner.electrical.states import KEY_ON, LOADED, OFF

LEAST_EXCITING_A = 0.1
"""Least current that surely excites a 12 V machine at idle. [A] Source: our assumption; the lamp of
2 W that passenger-car workshop data of 1998 demand passes 0.17 A."""

CHARGE_LAMP = "charge_lamp"

VOLTMETER_V = 0.5
"""Error of a voltmeter's feed, at 12 V, that misleads. [V] Source: our assumption."""


def no_excitation(examined: Examined) -> Iterator[Finding]:
    """Too little current through the charge lamp: no charge until high speed."""
    configuration = examined.configuration
    point = examined.points.get(KEY_ON.name)
    links = links_of(configuration, KEY_ON)
    for ref, name in _lamp_terminals(configuration) if point else ():
        if not configuration.component(ref.role).can(Capability.EXCITED_BY_LAMP):
            continue  # its field is fed from the ignition, not through the lamp
        amps = abs(point.element_current_a(name)) if point else 0.0
        part = configuration.component(ref.role)
        if amps >= LEAST_EXCITING_A or not is_grounded(part, configuration, links):
            continue
        wires = at_wires(wire.id for wire in configuration.wires_at.get(ref, ()))
        diode = _barring_diode(ref, configuration)
        barring = (at_part(diode.role),) if diode else ()
        facts: Facts = {"barring": barring[0]} if barring else {}
        yield Finding(
            code="CHG-NO-EXCITE",
            cause="diode-reversed" if diode else "too-little",
            severity=Severity.WARNING,
            subjects=(at_terminal(ref), *barring, *wires),
            value=ampere(amps),
            limit=ampere(LEAST_EXCITING_A),
            facts=facts,
            remedy=_turned(diode, configuration) if diode else Remedy("fit-charge-lamp"),
            source="our assumption, after passenger-car workshop data, 1998: lamp of 2 W",
        )


def _barring_diode(ref: TerminalRef, configuration: Configuration) -> Component | None:
    """A diode that wires join to a lamp terminal with the end from which no current comes."""
    grounded_side = "cathode" if configuration.vehicle.ground == "negative" else "anode"
    reached = paths_from(wires_of(configuration), str(ref))
    for diode in configuration.parts_of(Family.DIODE):
        wrong = next(t.name for t in diode.terminals if t.name != grounded_side)
        if f"{diode.role}.{wrong}" in reached:
            return diode
    return None


def _turned(diode: Component, configuration: Configuration) -> Remedy:
    one, other = (TerminalRef(diode.role, name) for name in ("anode", "cathode"))
    edits = changed_over(one, other, configuration)
    return Remedy("turn-diode", {"barring": at_part(diode.role)}, edits=edits)


def _lamp_terminals(configuration: Configuration) -> Iterator[tuple[TerminalRef, str]]:
    """Lamp terminals, each with the element whose current excites."""
    for part, ref in configuration.parts_with(TerminalUse.LAMP):
        if part.can(Capability.CHARGES):
            yield ref, f"{part.role}:exciter"
        elif part.family is Family.REGULATOR and not is_control_box(part):
            # the lamp of a dynamo shows and does not excite
            name = "rest contact" if part.can(Capability.EXCITED_BY_LAMP) else TerminalUse.LAMP
            yield ref, f"{part.role}:{name}"


def lamp_joined_to_nothing(examined: Examined) -> Iterator[Finding]:
    """A charge lamp whose far side no wire joins: it never lights, and warns of nothing."""
    configuration = examined.configuration
    lamp = configuration.component_by_role.get(CHARGE_LAMP)
    if lamp is None or lamp.terminal("return") is None:
        return
    ref = TerminalRef(lamp.role, "return")
    machines = configuration.parts_that(Capability.CHARGES)
    if configuration.wires_at.get(ref) or not machines:
        return
    self_excited = any(part.excites_itself for part in machines)
    yield Finding(
        code="CHG-LAMP-LOOSE",
        cause="self-excited" if self_excited else "lamp-wanted",
        severity=Severity.CAUTION if self_excited else Severity.WARNING,
        subjects=(at_terminal(ref), *at_parts(part.role for part in machines)),
        remedy=Remedy("fit-voltmeter-for-lamp" if self_excited else "join-charge-lamp"),
        source="common practice",
    )


def excites_itself_late(examined: Examined) -> Iterator[Finding]:
    """A one-wire machine starts to charge only above its cut-in speed."""
    for part in examined.configuration.parts_that(Capability.CHARGES):
        if part.excites_itself:
            yield Finding(
                code="CHG-CUT-IN",
                severity=Severity.NOTE,
                subjects=(at_part(part.role),),
                remedy=Remedy("rev-engine-once"),
                source="common practice; the speed stands in the maker's sheet",
            )


def voltmeter_fed_wrong(examined: Examined) -> Iterator[Finding]:
    """A voltmeter that is live with the key off, or sits behind a drop of its own."""
    configuration = examined.configuration
    off, loaded = examined.points.get(OFF.name), examined.points.get(LOADED.name)
    for part in configuration.parts_of(Family.VOLTMETER) if off and loaded else ():
        ref = TerminalRef(part.role, "supply")
        if off is not None and (off.live_v(ref) or 0.0) > 1.0:
            yield _voltmeter(ref, configuration, "never-rests", Remedy("feed-from-ignition"), {})
        elif loaded is not None and configuration.wires_at.get(ref):
            shown = (loaded.live_v(ref) or 0.0) - (
                loaded.live_v(TerminalRef(part.role, "return")) or 0.0
            )
            wrong = loaded.battery_v - shown
            if wrong > VOLTMETER_V * configuration.vehicle.voltage_v / 12.0:
                facts = {"shown": volt(shown), "battery": volt(loaded.battery_v)}
                remedy = Remedy("feed-from-calm-point")
                yield _voltmeter(ref, configuration, "misleads", remedy, facts)


def _voltmeter(
    ref: TerminalRef, configuration: Configuration, cause: str, remedy: Remedy, facts: Facts
) -> Finding:
    wires = configuration.wires_at.get(ref, ())
    return Finding(
        code="CHG-VOLTMETER",
        cause=cause,
        severity=Severity.CAUTION,
        subjects=(at_terminal(ref), *at_wires(wire.id for wire in wires)),
        facts=facts,
        remedy=remedy,
        source="our assumption: half a volt misleads",
    )


def lamp_bridged(examined: Examined) -> Iterator[Finding]:
    """Plain wire joins the lamp terminal to the key: no lamp, no resistance between."""
    configuration = examined.configuration
    point = examined.points.get(KEY_ON.name)
    links = links_of(configuration, KEY_ON)
    for ref, name in _lamp_terminals(configuration):
        path = paths_from(links, str(ref), PLAIN).get(live_node(configuration))
        if path is None:
            continue
        yield Finding(
            code="CHG-LAMP-BRIDGED",
            cause="flows" if point else "joined",
            severity=Severity.WARNING,
            subjects=(at_terminal(ref), *at_wires(names_on(path)[:2])),
            value=ampere(abs(point.element_current_a(name))) if point else None,
            remedy=Remedy("lead-through-charge-lamp"),
            source="common practice; passenger-car repair data, 1983: 15 or 500 Ω beside the lamp",
        )


def lamp_without_resistance(examined: Examined) -> Iterator[Finding]:
    """A relay regulator whose lamp has no resistance beside it."""
    configuration = examined.configuration
    links = links_of(configuration, KEY_ON)
    live = live_node(configuration)
    for ref, name in _lamp_terminals(configuration):
        if not name.endswith("rest contact"):
            continue
        over_lamp = live in paths_from(links, str(ref), PLAIN | {LinkMedium.LAMP})
        if over_lamp and live not in paths_from(links, str(ref), WITH_RESISTANCE):
            yield Finding(
                code="CHG-LAMP-RESISTANCE",
                severity=Severity.CAUTION,
                subjects=(at_terminal(ref), *at_parts(_lamps(configuration))),
                remedy=Remedy("fit-resistance-beside-lamp"),
                source="passenger-car repair data, 1983, charge lamp test",
            )


def _lamps(configuration: Configuration) -> tuple[str, ...]:
    """Lamps that a wire of the charge lamp circuit ends at."""
    ends = {ref.role for w in configuration.wires if w.circuit == "charge lamp" for ref in w.ends}
    return tuple(part.role for part in configuration.parts_of(Family.LAMP) if part.role in ends)
