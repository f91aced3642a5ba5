"""Rules on the tachometer: its pulses come from the right terminal, and suit its kind."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Finding,
    Remedy,
    Severity,
    Subject,
    at_node,
    at_part,
    at_terminal,
    at_wires,
)
from upgrade_planner.checks.ignition_parts import (
    fed_parts,
    is_driven,
    other_pole,
)
from upgrade_planner.checks.paths import paths_from, wires_of
from upgrade_planner.configuration.kinds import Capability, Family, TerminalUse
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef


def tachometer_misplaced(examined: Examined) -> Iterator[Finding]:
    """The signal of a tachometer comes from a terminal that gives none, or high voltage."""
    configuration = examined.configuration
    good, high = set(_signal_nodes(configuration)), set(_high_voltage_nodes(configuration))
    for meter in configuration.parts_of(Family.TACHOMETER):
        if meter.can(Capability.SENSES_CURRENT):
            continue
        ref = TerminalRef(meter.role, "signal")
        wires = configuration.wires_at.get(ref, ())
        reached = set(paths_from(wires_of(configuration), str(ref)))
        where = (at_terminal(ref), *at_wires(wire.id for wire in wires))
        right = tuple(map(at_node, sorted(good)))
        if reached & high:
            yield _at_high_voltage(where, right)
        elif wires and not reached & good:
            yield Finding(
                code="IGN-TACHOMETER",
                severity=Severity.CAUTION,
                subjects=where,
                remedy=Remedy("join-tachometer-to", {"right": right})
                if right
                else Remedy("join-tachometer-to-unit"),
                source="common practice",
            )


def _at_high_voltage(where: tuple[Subject, ...], right: tuple[Subject, ...]) -> Finding:
    return Finding(
        code="IGN-TACHOMETER-HIGH",
        severity=Severity.DANGER,
        subjects=where,
        remedy=Remedy("take-tachometer-off-coil", {"right": right})
        if right
        else Remedy("take-tachometer-off-coil-to-unit"),
        source="common practice; discharge at 250 to 600 V: encyclopaedia article",
    )


def _signal_nodes(configuration: Configuration) -> Iterator[str]:
    for unit in configuration.parts_of(Family.IGNITION_UNIT):
        if unit.terminal("tachometer") is not None:
            yield f"{unit.role}.tachometer"
    fed = [part for part in fed_parts(configuration) if not part.is_unit]
    for coil in fed:
        yield f"{coil.part.role}.{other_pole(coil.ref.terminal)}"
    if fed:
        yield from (str(ref) for _, ref in configuration.parts_with(TerminalUse.COIL_SWITCH))


def _high_voltage_nodes(configuration: Configuration) -> Iterator[str]:
    for unit in configuration.parts_that(Capability.DISCHARGES):
        yield from (f"{unit.role}.coil_positive", f"{unit.role}.coil_negative")
    for coil in configuration.parts_of(Family.COIL):
        if is_driven(coil, configuration):
            yield from (f"{coil.role}.positive", f"{coil.role}.negative")


def tachometer_cannot_read(examined: Examined) -> Iterator[Finding]:
    """A meter that counts pulses of coil current, with an ignition that gives it none."""
    configuration = examined.configuration
    units = configuration.parts_of(Family.IGNITION_UNIT)
    for meter in configuration.parts_that(Capability.SENSES_CURRENT):
        if units:
            yield _silent(meter, units[0])


def _silent(meter: Component, unit: Component) -> Finding:
    return Finding(
        code="IGN-TACHOMETER-CURRENT",
        severity=Severity.CAUTION,
        subjects=(at_part(meter.role), at_part(unit.role)),
        facts={"kind": unit.words},
        remedy=Remedy("fit-tachometer-adapter"),
        source="common practice",
    )
