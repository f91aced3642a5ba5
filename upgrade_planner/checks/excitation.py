"""Rules on the charge lamp: it excites the field before the machine turns fast enough itself."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.checks.paths import (
    PLAIN,
    WITH_RESISTANCE,
    Sort,
    is_grounded,
    links_of,
    live_post,
    names_on,
    of_kind,
    paths_from,
)
from upgrade_planner.configuration.model import Configuration, TerminalRef
from upgrade_planner.electrical.states import KEY_ON

LEAST_EXCITING_A = 0.1
"""Least current that surely excites a 12 V machine at idle. [A] Source: our assumption; the lamp of
2 W that passenger-car workshop data of 1998 demand passes 0.17 A."""

INTERNAL = "alternator_internal_regulator"
REGULATOR = "regulator_electromechanical"


def no_excitation(examined: Examined) -> Iterator[Finding]:
    """Too little current through the charge lamp: no charge until high speed."""
    configuration = examined.configuration
    point = examined.points.get(KEY_ON.name)
    links = links_of(configuration, KEY_ON)
    for ref, name in _lamp_terminals(configuration) if point else ():
        amps = abs(point.element_current_a(name)) if point else 0.0
        part = configuration.component(ref.role)
        if amps >= LEAST_EXCITING_A or not is_grounded(part, configuration, links):
            continue
        wires = configuration.wires_at.get(ref, ())
        yield Finding(
            code="CHG-NO-EXCITE",
            title="No lamp current to excite the field",
            severity=Severity.WARNING,
            where=(str(ref), *(wire.id for wire in wires)),
            what=f"{amps:.2f} A with the key on, at least {LEAST_EXCITING_A:g} A are wanted; "
            "the machine may not charge before high speed.",
            remedy="Fit a 2 W charge lamp, or a resistance beside it, from the ignition terminal.",
            source="our assumption, after passenger-car workshop data, 1998: lamp of 2 W",
        )


def _lamp_terminals(configuration: Configuration) -> Iterator[tuple[TerminalRef, str]]:
    """Lamp terminals, each with the element whose current excites."""
    for part in of_kind(configuration, INTERNAL):
        if part.terminal("lamp") is not None:
            yield TerminalRef(part.role, "lamp"), f"{part.role}:exciter"
    for part in of_kind(configuration, REGULATOR):
        if part.terminal("lamp") is not None:
            yield TerminalRef(part.role, "lamp"), f"{part.role}:rest contact"


def lamp_bridged(examined: Examined) -> Iterator[Finding]:
    """Plain wire joins the lamp terminal to the key: no lamp, no resistance between."""
    configuration = examined.configuration
    point = examined.points.get(KEY_ON.name)
    links = links_of(configuration, KEY_ON)
    for ref, name in _lamp_terminals(configuration):
        path = paths_from(links, str(ref), PLAIN).get(live_post(configuration))
        if path is None:
            continue
        amps = f"; {abs(point.element_current_a(name)):.1f} A flow with the key on" if point else ""
        yield Finding(
            code="CHG-LAMP-BRIDGED",
            title="Charge lamp bridged",
            severity=Severity.WARNING,
            where=(str(ref), *names_on(path)[:2]),
            what=f"No lamp and no resistance stand between key and lamp terminal{amps}. "
            "The lamp stays dark, and the machine feeds the ignition after key-off.",
            remedy="Lead the wire through the charge lamp; only a resistance may lie beside it.",
            source="common practice; passenger-car repair data, 1983: 15 or 500 Ω beside the lamp",
        )


def lamp_without_resistance(examined: Examined) -> Iterator[Finding]:
    """A relay regulator whose lamp has no resistance beside it."""
    configuration = examined.configuration
    links = links_of(configuration, KEY_ON)
    live = live_post(configuration)
    for part in of_kind(configuration, REGULATOR):
        start = f"{part.role}.lamp"
        over_lamp = live in paths_from(links, start, PLAIN | {Sort.LAMP})
        if over_lamp and live not in paths_from(links, start, WITH_RESISTANCE):
            yield Finding(
                code="CHG-LAMP-RESISTANCE",
                title="No resistance beside the charge lamp",
                severity=Severity.CAUTION,
                where=(start, *_lamps(configuration)),
                what="The lamp alone feeds the field; it may stay lit to about 2000 r/min.",
                remedy="Fit a resistance of about 15 Ω beside the lamp.",
                source="passenger-car repair data, 1983, charge lamp test",
            )


def _lamps(configuration: Configuration) -> tuple[str, ...]:
    """Lamps that a wire of the charge lamp circuit ends at."""
    ends = {ref.role for w in configuration.wires if w.circuit == "charge lamp" for ref in w.ends}
    return tuple(part.role for part in of_kind(configuration, "lamp") if part.role in ends)
