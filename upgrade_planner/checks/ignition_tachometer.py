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
    DISCHARGE,
    SWITCHES,
    UNIT,
    fed_parts,
    is_driven,
    other_pole,
)
from upgrade_planner.checks.paths import of_kind, paths_from, wires_of
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.configuration.registry import kinds

OUTPUTS = (UNIT, "ignition_controller", DISCHARGE)
"""Kinds that may have a tachometer output of their own."""

NO_CURRENT_PULSES = (UNIT, "ignition_controller", DISCHARGE)
"""Kinds whose supply current a meter that counts coil-current pulses cannot be trusted to read."""


def tachometer_misplaced(examined: Examined) -> Iterator[Finding]:
    """The signal of a tachometer comes from a terminal that gives none, or high voltage."""
    configuration = examined.configuration
    good, high = set(_signal_nodes(configuration)), set(_high_voltage_nodes(configuration))
    for meter in of_kind(configuration, "tachometer"):
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
    for unit in of_kind(configuration, *OUTPUTS):
        if unit.terminal("tachometer") is not None:
            yield f"{unit.role}.tachometer"
    fed = [part for part in fed_parts(configuration) if not part.is_unit]
    for coil in fed:
        yield f"{coil.part.role}.{other_pole(coil.ref.terminal)}"
    if fed:
        for part in of_kind(configuration, *SWITCHES):
            yield f"{part.role}.{SWITCHES[part.kind]}"


def _high_voltage_nodes(configuration: Configuration) -> Iterator[str]:
    for unit in of_kind(configuration, DISCHARGE):
        yield from (f"{unit.role}.coil_positive", f"{unit.role}.coil_negative")
    for coil in of_kind(configuration, "coil"):
        if is_driven(coil, configuration):
            yield from (f"{coil.role}.positive", f"{coil.role}.negative")


def tachometer_cannot_read(examined: Examined) -> Iterator[Finding]:
    """A meter that counts pulses of coil current, with an ignition that gives it none."""
    configuration = examined.configuration
    units = of_kind(configuration, *NO_CURRENT_PULSES)
    for meter in of_kind(configuration, "tachometer_current_sensing"):
        if units:
            yield _silent(meter, units[0])


def _silent(meter: Component, unit: Component) -> Finding:
    return Finding(
        code="IGN-TACHOMETER-CURRENT",
        severity=Severity.CAUTION,
        subjects=(at_part(meter.role), at_part(unit.role)),
        facts={"kind": kinds()[unit.kind].words},
        remedy=Remedy("fit-tachometer-adapter"),
        source="common practice",
    )
