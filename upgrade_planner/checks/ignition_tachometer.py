"""Rules on the tachometer: its pulses come from the right terminal, and suit its kind."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity, worded
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
        where = (str(ref), *(wire.id for wire in wires))
        right = " or ".join(sorted(good)) or "a unit with a tachometer terminal"
        if reached & high:
            yield _at_high_voltage(where, right)
        elif wires and not reached & good:
            yield worded(
                code="IGN-TACHOMETER",
                title="Tachometer lead on a wrong terminal",
                severity=Severity.CAUTION,
                where=where,
                what="Its signal wire leads to no terminal that gives the engine's pulses.",
                remedy=f"Join the signal wire to {right}.",
                source="common practice",
            )


def _at_high_voltage(where: tuple[str, ...], right: str) -> Finding:
    return worded(
        code="IGN-TACHOMETER-HIGH",
        title="Tachometer on the coil of a capacitor-discharge unit",
        severity=Severity.DANGER,
        where=where,
        what="The coil terminals carry several hundred volts; the meter dies and its wire, in "
        "the cabin, is dangerous to touch.",
        remedy=f"Take it off the coil; join it to {right} and nothing else.",
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
    return worded(
        code="IGN-TACHOMETER-CURRENT",
        title="Tachometer will not read",
        severity=Severity.CAUTION,
        where=(meter.role, unit.role),
        what=f"It counts pulses of coil current; the {kinds()[unit.kind].words} draws its own "
        "kind of current through that wire.",
        remedy="Fit the maker's adapter, or have the meter changed to a voltage signal; then "
        "lead the ignition feed past it.",
        source="common practice",
    )
