"""Why a wire stays, goes, comes or grows: plain sentences from the facts of both sides."""

from upgrade_planner.comparison.results import Difference
from upgrade_planner.comparison.reuse import shortfalls
from upgrade_planner.configuration.model import (
    Component,
    Conductor,
    Configuration,
    Run,
    TerminalRef,
    Wire,
)
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.electrical.conductors import wire_resistance

FULL_VOLTAGE_KINDS = ("integral_coil_distributor",)
"""Kinds that want full battery voltage, in run and in start."""

WORKING_TEMPERATURE_C = 60.0
"""Temperature for the drops named in reasons. [°C] Source: our assumption, a warm engine space;
replaced by the working temperature once the network model is there."""


PLAIN_KEEP = "Same ends, still large enough."


def keep_reason(old: Wire, new: Wire, differences: tuple[Difference, ...]) -> str:
    """Why a wire can stay as it is."""
    attributes = {difference.attribute for difference in differences}
    notes = []
    if old.size.area_mm2 > new.size.area_mm2:
        notes.append(f"It is larger than the {new.size.label} that is needed.")
    if "colour" in attributes:
        notes.append(f"The target names {new.colour.code}: tag it.")
    if "circuit" in attributes:
        notes.append(f"It now serves as {new.circuit}.")
    return " ".join([PLAIN_KEEP, *notes])


def resize_reason(old: Wire, new: Wire, after: Configuration) -> str:
    """Why a wire gives way to another conductor between the same ends."""
    text = "; ".join(shortfalls(old, new))
    text = text[:1].upper() + text[1:] + "."
    alternator = after.component_by_role.get("alternator")
    heavier = new.size.area_mm2 > old.size.area_mm2
    if heavier and alternator is not None and new.circuit in ("charge output", "main feed"):
        amps = alternator.ratings["rated_output"]
        text += f" The alternator delivers up to {amps:g}\N{NO-BREAK SPACE}A."
    if new.conductor is Conductor.LINK:
        text += " The link must melt before the wire behind it suffers."
    return text


def move_reason(old: Wire, new: Wire) -> str:
    """Why and how the same conductor goes to another terminal."""
    common = old.joins & new.joins
    kept = f" Its end at the {_place_words(next(iter(common)))} stays." if common else ""
    return f"Same circuit, large and long enough: the conductor serves again.{kept}"


def _place_words(ref: TerminalRef) -> str:
    return f"{ref.role} ({ref.terminal})".replace("_", " ")


def removal_reason(old: Wire, before: Configuration, after: Configuration) -> str:
    """Why a wire is not wanted any more."""
    if is_earlier_addition(old):
        return "An earlier alteration, no part of the original nor of the target."
    unit = full_voltage_unit(after)
    if unit and old.conductor is Conductor.RESISTANCE and old.circuit == "ignition feed":
        return (
            f"The {_words(unit)} wants full battery voltage; a resistance wire starves it. "
            "Never use this wire as its feed."
        )
    if unit and old.circuit == "start bypass":
        return (
            f"The {_words(unit)} has full voltage from the key switch while cranking. "
            "The bypass contact of the solenoid stays empty: a wire on it would feed back."
        )
    gone = [
        before.component(ref.role) for ref in old.ends if ref.role not in after.component_by_role
    ]
    if gone:
        return f"The {gone[0].role.replace('_', ' ')} goes: nothing is left to join."
    return "The target does without it."


def is_earlier_addition(wire: Wire) -> bool:
    """True for a wire that an earlier owner added; nobody wants it kept for originality."""
    return wire.slot == "as found"


def add_reason(new: Wire, run: Run, after: Configuration) -> str:
    """Why a wire is new; with the computed figures where they decide."""
    if new.circuit == "sensing":
        return _sensing_reason(new, after)
    unit = full_voltage_unit(after)
    if unit and new.circuit == "ignition feed":
        return f"Plain copper for full battery voltage at the {_words(unit)}. " + _fed_in(
            new, after
        )
    if new.circuit == "charge lamp" and new.conductor is Conductor.COPPER:
        return "Brings the charge lamp, and with it the first field current, to the alternator."
    return "The target has it, the vehicle has not."


def full_voltage_unit(configuration: Configuration) -> Component | None:
    """The ignition part that wants full battery voltage, if the configuration has one."""
    return next(
        (part for part in configuration.components if part.kind in FULL_VOLTAGE_KINDS), None
    )


def _words(part: Component) -> str:
    return kinds()[part.kind].words


def _fed_in(wire: Wire, after: Configuration) -> str:
    """In which key positions the feed is live, from the position map of the key switch."""
    for ref in wire.ends:
        part = after.component(ref.role)
        if part.kind == "key_switch":
            live = live_positions(part, ref.terminal)
            label = part.terminal(ref.terminal)
            name = label.label if label else ref.terminal
            return f"Terminal {name} of the key switch is live in {' and '.join(live)}."
    return ""


def live_positions(switch: Component, terminal: str) -> tuple[str, ...]:
    """Positions of a key switch in which `terminal` is joined to its battery terminal."""
    positions = switch.ratings["positions"]
    return tuple(
        name
        for name, groups in positions.items()
        if any("battery" in group and terminal in group for group in groups)
    )


def _sensing_reason(wire: Wire, after: Configuration) -> str:
    text = (
        "Joins the main junction, where battery and loads meet, and not the alternator's own "
        "output: there the regulator would not see what the output wire loses."
    )
    drop = output_drop_v(after)
    if drop is None:
        return text
    return text + f" At full output that is {drop:.2f}\N{NO-BREAK SPACE}V (wire alone, 60 °C)."


def output_drop_v(configuration: Configuration) -> float | None:
    """Drop along the charge output wire at the alternator's rated output; None without one. [V]"""
    alternator = configuration.component_by_role.get("alternator")
    wires = [wire for wire in configuration.wires if wire.circuit == "charge output"]
    if alternator is None or len(wires) != 1:
        return None
    run = configuration.runs[wires[0].id]
    ohms = wire_resistance(wires[0].size, run.length_m, WORKING_TEMPERATURE_C)
    return ohms * float(alternator.ratings["rated_output"])
