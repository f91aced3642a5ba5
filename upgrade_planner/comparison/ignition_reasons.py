"""Why wires of the ignition come and go, by the sort of ignition that the target has."""

from collections.abc import Callable

from upgrade_planner.configuration.kinds import Capability, Family, Job
from upgrade_planner.configuration.model import (
    Component,
    Conductor,
    Configuration,
    TerminalRef,
    Wire,
)
from upgrade_planner.electrical.passing import reached_through

_EMPTY_CONTACT = (
    "The bypass contact of solenoid or relay stays empty: a wire on it would feed back."
)

_PAIR = "The two wires of the pair run twisted together, away from plug leads and coil wires."

Writer = Callable[[Wire, Configuration], str]


def removal(old: Wire, after: Configuration) -> str:
    """Why a wire of the ignition is not wanted any more; "" if nothing special is to be said."""
    if old.conductor is Conductor.RESISTANCE and old.circuit == "ignition feed":
        return _no_resistance(after)
    if old.circuit == "start bypass" and not _has(after, "start bypass"):
        return _no_bypass(after)
    discharge = _discharging(after)
    if discharge and old.circuit in ("ignition feed", "ignition primary") and _at_coil(old):
        return (
            f"The {discharge.words} puts several hundred volts on the coil: nothing else may be "
            "joined there."
        )
    return ""


def _no_resistance(after: Configuration) -> str:
    unit, discharge = full_voltage_unit(after), _discharging(after)
    if discharge:
        return (
            f"The {discharge.words} fires the coil alone; a feed beside it would be ruined. "
            "Never use this wire as the unit's supply."
        )
    if "ballast" in after.component_by_role:
        return "The ballast resistor takes its place; both in a row would starve the coil."
    if unit:
        return (
            f"The {unit.words} wants full battery voltage; a resistance wire starves it. "
            "Never use this wire as its feed."
        )
    return "The coil of the target bears full battery voltage; a resistance wire would weaken it."


def _no_bypass(after: Configuration) -> str:
    unit, discharge = full_voltage_unit(after), _discharging(after)
    if discharge:
        return (
            f"The {discharge.words} fires the coil with full energy while cranking, and nothing "
            f"else may be joined to the coil. {_EMPTY_CONTACT}"
        )
    if unit:
        return (
            f"The {unit.words} has full voltage from the key switch while cranking. "
            + _EMPTY_CONTACT
        )
    return f"The coil has full voltage in run and start; nothing is left to pass. {_EMPTY_CONTACT}"


def addition(new: Wire, after: Configuration) -> str:
    """Why a wire of the ignition is new; "" if nothing special is to be said."""
    writer = _WRITERS.get(new.circuit)
    text = writer(new, after) if writer else ""
    if text and new.conductor is Conductor.LINK:
        return "Guards the wire behind it, from the place where that is fed."
    return text


def _feed(new: Wire, after: Configuration) -> str:
    discharge = _discharging(after)
    if discharge:
        return _discharge_feed(new, discharge, after)
    unit = full_voltage_unit(after)
    ballasted = "ballast" in after.component_by_role
    if ballasted and _touches(new, "coil"):
        return "From the ballast resistor to the coil: lower voltage while running."
    if unit and ballasted and unit.role in _roles(new):
        return (
            f"The {unit.words} wants full battery voltage. It is taken from before the ballast: "
            "behind it, the voltage swings with the coil current and falls too low."
        )
    if ballasted:
        return "Feeds the ballast resistor. " + fed_in(new, after)
    if unit:
        return f"Plain copper for full battery voltage at the {unit.words}. " + fed_in(new, after)
    if _touches(new, "coil"):
        return "Plain copper: the coil bears full battery voltage. " + fed_in(new, after)
    return ""


def _discharge_feed(new: Wire, unit: Component, after: Configuration) -> str:
    ends = _reached(new, after)
    if TerminalRef(unit.role, "switched") in ends:
        return "Light lead: by it the key only wakes the unit. " + fed_in(new, after)
    return (
        f"Heavy supply of the {unit.words}, straight from the battery through a fuse: it draws "
        "in pulses that neither key switch nor instruments should share."
    )


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


def _primary(new: Wire, after: Configuration) -> str:
    discharge, module = (
        _discharging(after),
        next(iter(after.parts_of(Family.IGNITION_MODULE)), None),
    )
    if discharge and discharge.role in _roles(new):
        return "The unit alone drives the coil, by several hundred volts: nothing shares it."
    if module and module.role in _roles(new):
        return "The module switches the coil, in place of the points."
    if _touches(new, "coil_pack"):
        return "The controller switches this coil of the pack to ground; the coils take turns."
    return ""


def _trigger(new: Wire, after: Configuration) -> str:
    points = [ref for ref in new.ends if after.component(ref.role).family is Family.POINTS]
    if points:
        return "The points only trigger the unit: they carry about half an ampere."
    return f"Timing signal of the pick-up, weak while cranking. {_PAIR}"


def _ground(new: Wire, after: Configuration) -> str:
    for ref in new.ends:
        part = after.component(ref.role)
        if part.can(Capability.DISCHARGES) and ref.terminal == "ground":
            return "The spark returns from the engine to the unit by a wire of its own."
        if part.can(Capability.DISCHARGES):
            return "Heavy return of the unit, straight to the battery, as thick as its supply."
        if part.family is Family.IGNITION_MODULE or part.can(Capability.DRIVES_PACK):
            return f"All coil current returns through the {part.words}: it has its own ground."
    return ""


def _tachometer(new: Wire, after: Configuration) -> str:
    for ref in new.ends:
        part = after.component(ref.role)
        if part.can(Capability.DISCHARGES):
            return "The unit has its own output for the meter; the coil's high voltage kills it."
        if part.can(Capability.DRIVES_PACK):
            return "No single coil gives every spark; the controller has an output for the meter."
    return ""


def _bypass(new: Wire, after: Configuration) -> str:
    return "Full voltage for the ballasted coil, only while cranking."


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


def fed_in(wire: Wire, after: Configuration) -> str:
    """In which key positions the feed is live, from the position map of the key switch."""
    for ref in wire.ends:
        part = after.component(ref.role)
        if part.can(Capability.KEY):
            live = live_positions(part, ref.terminal)
            label = part.terminal(ref.terminal)
            name = label.label if label else ref.terminal
            return f"Terminal {name} of the key switch is live in {' and '.join(live)}."
    return ""


def live_positions(switch: Component, terminal: str) -> tuple[str, ...]:
    """Positions of a key switch in which `terminal` is joined to its battery terminal."""
    positions, supply = switch.ratings["positions"], switch.terminal_as(Job.SUPPLY)
    return tuple(
        name
        for name, groups in positions.items()
        if any(supply in group and terminal in group for group in groups)
    )
