"""Rules on the ignition feed: full voltage where it is wanted, from the right switch terminal."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.configuration.model import (
    Component,
    Conductor,
    Configuration,
    TerminalRef,
    Wire,
)

FULL_VOLTAGE_KINDS = ("integral_coil_distributor",)


def _feeds(configuration: Configuration) -> Iterator[tuple[Wire, Component, TerminalRef]]:
    """Ignition feeds that leave a key switch, with the switch and its terminal."""
    for wire in configuration.wires:
        if wire.circuit != "ignition feed":
            continue
        for ref in wire.ends:
            part = configuration.component(ref.role)
            if part.kind == "key_switch":
                yield wire, part, ref


def _is_live(switch: Component, position: str, terminal: str) -> bool:
    groups = switch.ratings["positions"].get(position, ())
    return any("battery" in group and terminal in group for group in groups)


def feed_live_with_key_off(examined: Examined) -> Iterator[Finding]:
    """The ignition stays on when the key is off: the engine cannot be stopped."""
    configuration = examined.configuration
    for wire, switch, ref in _feeds(configuration):
        if ref.terminal == "battery" or _is_live(switch, "off", ref.terminal):
            yield Finding(
                code="IGN-KEY-OFF",
                title="Ignition live with the key off",
                severity=Severity.DANGER,
                where=(wire.id, str(ref)),
                what="The feed is joined to a terminal that is live in the off position.",
                remedy="Move it to the terminal that is live in run and start only.",
                source="position map of the key switch in the profile",
            )


def feed_dead_in_start(examined: Examined) -> Iterator[Finding]:
    """A unit without bypass has no supply while cranking: the engine will not start."""
    configuration = examined.configuration
    if any(wire.circuit == "start bypass" for wire in configuration.wires):
        return
    for wire, switch, ref in _feeds(configuration):
        positions = switch.ratings["positions"]
        if "start" in positions and not _is_live(switch, "start", ref.terminal):
            yield Finding(
                code="IGN-START",
                title="No ignition while cranking",
                severity=Severity.WARNING,
                where=(wire.id, str(ref)),
                what="The feed's switch terminal is dead in the start position.",
                remedy="Move it to the terminal that is live in run and start.",
                source="position map of the key switch in the profile",
            )


def starved_unit(examined: Examined) -> Iterator[Finding]:
    """A unit that wants full voltage is fed through a resistance."""
    configuration = examined.configuration
    for unit in configuration.components:
        if unit.kind not in FULL_VOLTAGE_KINDS:
            continue
        for wire in configuration.wires_at.get(TerminalRef(unit.role, "supply"), ()):
            far = configuration.component(wire.other_end(TerminalRef(unit.role, "supply")).role)
            if wire.conductor is Conductor.RESISTANCE or far.kind == "resistor":
                yield Finding(
                    code="IGN-STARVED",
                    title="Full-voltage unit behind a resistance",
                    severity=Severity.WARNING,
                    where=(unit.role, wire.id),
                    what="Its supply comes through a resistance wire or ballast resistor.",
                    remedy="Run a copper feed from the switch terminal live in run and start.",
                    source="common practice",
                )


def bypass_on_full_voltage_unit(examined: Examined) -> Iterator[Finding]:
    """A start bypass on a unit without ballast feeds the solenoid contact while running."""
    configuration = examined.configuration
    units = {p.role for p in configuration.components if p.kind in FULL_VOLTAGE_KINDS}
    for wire in configuration.wires:
        if wire.circuit == "start bypass" and any(ref.role in units for ref in wire.ends):
            yield Finding(
                code="IGN-BYPASS",
                title="Bypass on a full-voltage unit",
                severity=Severity.WARNING,
                where=(wire.id,),
                what="The bypass contact of the solenoid is joined to a unit without ballast.",
                remedy="Take the bypass wire off, or cap it at both ends.",
                source="common practice",
            )
