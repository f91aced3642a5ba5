"""Why wires of the ignition come and go, by the sort of ignition that the target has."""

from collections.abc import Callable

from upgrade_planner.comparison.why import Reasons, because
from upgrade_planner.configuration.kinds import Capability, Family, TerminalUse
from upgrade_planner.configuration.model import (
    Component,
    Conductor,
    Configuration,
    TerminalRef,
    Wire,
)
from upgrade_planner.electrical.passing import reached_through

Writer = Callable[[Wire, Configuration], Reasons]


def removal(old: Wire, after: Configuration) -> Reasons:
    """Why a wire of the ignition is not wanted any more; () if nothing special is to be said."""
    if old.conductor is Conductor.RESISTANCE and old.circuit == "ignition feed":
        return _no_resistance(after)
    if old.circuit == "start bypass" and not _has(after, "start bypass"):
        return _no_bypass(after)
    discharge = _discharging(after)
    if discharge and old.circuit in ("ignition feed", "ignition primary") and _at_coil(old):
        return (because("discharge-alone-at-coil", unit=discharge.kind),)
    return ()


def _no_resistance(after: Configuration) -> Reasons:
    unit, discharge = full_voltage_unit(after), _discharging(after)
    if discharge:
        return (because("feed-would-be-ruined", unit=discharge.kind),)
    if "ballast" in after.component_by_role:
        return (because("ballast-takes-over"),)
    if unit:
        return (because("resistance-starves-unit", unit=unit.kind),)
    return (because("coil-bears-full-voltage"),)


def _no_bypass(after: Configuration) -> Reasons:
    unit, discharge = full_voltage_unit(after), _discharging(after)
    empty = because("bypass-contact-empty")
    if discharge:
        return (because("discharge-needs-no-bypass", unit=discharge.kind), empty)
    if unit:
        return (because("unit-needs-no-bypass", unit=unit.kind), empty)
    return (because("coil-needs-no-bypass"), empty)


def addition(new: Wire, after: Configuration) -> Reasons:
    """Why a wire of the ignition is new; () if nothing special is to be said."""
    writer = _WRITERS.get(new.circuit)
    reasons = writer(new, after) if writer else ()
    if reasons and new.conductor is Conductor.LINK:
        return (because("guards-wire"),)
    return reasons


def _feed(new: Wire, after: Configuration) -> Reasons:
    discharge = _discharging(after)
    if discharge:
        return _discharge_feed(new, discharge, after)
    unit = full_voltage_unit(after)
    ballasted = "ballast" in after.component_by_role
    if ballasted and _touches(new, "coil"):
        return (because("ballast-to-coil"),)
    if unit and ballasted and unit.role in _roles(new):
        return (because("taken-before-ballast", unit=unit.kind),)
    if ballasted:
        return (because("feeds-ballast"), *_fed_in(new, after))
    if unit:
        return (because("full-voltage-at-unit", unit=unit.kind), *_fed_in(new, after))
    if _touches(new, "coil"):
        return (because("full-voltage-at-coil"), *_fed_in(new, after))
    return ()


def _discharge_feed(new: Wire, unit: Component, after: Configuration) -> Reasons:
    if TerminalRef(unit.role, "switched") in _reached(new, after):
        return (because("key-wakes-unit"), *_fed_in(new, after))
    return (because("heavy-supply", unit=unit.kind),)


def _reached(new: Wire, after: Configuration) -> set[TerminalRef]:
    """Ends of a wire, and of the wires behind a fuse that it ends at."""
    found = set(new.ends)
    for ref in new.ends:
        part = after.component(ref.role)
        if part.family is Family.PROTECTION:
            for side in (ref, *reached_through(ref, part)):
                for wire in after.wires_at.get(side, ()):
                    found |= set(wire.ends)
    return found


def _primary(new: Wire, after: Configuration) -> Reasons:
    discharge, module = (
        _discharging(after),
        next(iter(after.parts_of(Family.IGNITION_MODULE)), None),
    )
    if discharge and discharge.role in _roles(new):
        return (because("unit-alone-drives-coil"),)
    if module and module.role in _roles(new):
        return (because("module-switches-coil"),)
    if _touches(new, "coil_pack"):
        return (because("controller-switches-pack"),)
    return ()


def _trigger(new: Wire, after: Configuration) -> Reasons:
    if any(after.component(ref.role).family is Family.POINTS for ref in new.ends):
        return (because("points-trigger-only"),)
    return (because("pick-up-signal"), because("twisted-pair"))


def _ground(new: Wire, after: Configuration) -> Reasons:
    for ref in new.ends:
        part = after.component(ref.role)
        if part.can(Capability.DISCHARGES):
            return (because("spark-returns" if ref.terminal == "ground" else "heavy-return"),)
        if part.family is Family.IGNITION_MODULE or part.can(Capability.DRIVES_PACK):
            return (because("coil-current-returns", unit=part.kind),)
    return ()


def _tachometer(new: Wire, after: Configuration) -> Reasons:
    for ref in new.ends:
        part = after.component(ref.role)
        if part.can(Capability.DISCHARGES):
            return (because("meter-from-discharge-unit"),)
        if part.can(Capability.DRIVES_PACK):
            return (because("meter-from-controller"),)
    return ()


def _bypass(new: Wire, after: Configuration) -> Reasons:
    return (because("bypass-while-cranking"),)


_WRITERS: dict[str, Writer] = {
    "ignition feed": _feed,
    "ignition primary": _primary,
    "trigger": _trigger,
    "ground": _ground,
    "tachometer": _tachometer,
    "start bypass": _bypass,
}


def full_voltage_unit(configuration: Configuration) -> Component | None:
    """The ignition part that wants full battery voltage, if the configuration has one."""
    return next(iter(configuration.parts_that(Capability.FULL_VOLTAGE)), None)


def _discharging(configuration: Configuration) -> Component | None:
    return next(iter(configuration.parts_that(Capability.DISCHARGES)), None)


def _has(configuration: Configuration, circuit: str) -> bool:
    return any(wire.circuit == circuit for wire in configuration.wires)


def _roles(wire: Wire) -> set[str]:
    return {ref.role for ref in wire.ends}


def _touches(wire: Wire, role: str) -> bool:
    return role in _roles(wire)


def _at_coil(wire: Wire) -> bool:
    return _touches(wire, "coil")


def _fed_in(wire: Wire, after: Configuration) -> Reasons:
    """In which key positions the feed is live, from the position map of the key switch."""
    for ref in wire.ends:
        part = after.component(ref.role)
        if part.can(Capability.KEY):
            terminal = part.terminal(ref.terminal)
            label = (terminal.mark if terminal else "") or ref.terminal
            positions = _live_positions(part, ref.terminal)
            return (because("live-in-positions", terminal=label, positions=positions),)
    return ()


def _live_positions(switch: Component, terminal: str) -> tuple[str, ...]:
    """Positions of a key switch in which `terminal` is joined to its battery terminal."""
    positions, supply = switch.ratings["positions"], switch.terminal_as(TerminalUse.SUPPLY)
    return tuple(
        name
        for name, groups in positions.items()
        if any(supply in group and terminal in group for group in groups)
    )
