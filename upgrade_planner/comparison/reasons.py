"""Why a wire stays, goes, comes or grows: plain sentences from the facts of both sides."""

from upgrade_planner.comparison import ignition_reasons
from upgrade_planner.comparison.reuse import shortfalls
from upgrade_planner.comparison.wire_changes import Difference
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import (
    Component,
    Conductor,
    Configuration,
    TerminalRef,
    Wire,
)
from upgrade_planner.configuration.ways import Run
from upgrade_planner.electrical.output_drop import WORKING_C, rated_drop_v

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
    special = ignition_reasons.removal(old, after)
    if special:
        return special
    gone = [
        before.component(ref.role) for ref in old.ends if ref.role not in after.component_by_role
    ]
    if gone:
        return f"The {gone[0].role.replace('_', ' ')} goes: nothing is left to join."
    shared = [wire.joins & old.joins for wire in after.wires if wire.circuit == old.circuit]
    taken_over = sorted(ref for refs in shared for ref in refs)
    if taken_over:
        return f"A new wire takes over at the {_place_words(taken_over[0])}."
    return "The target does without it."


def is_earlier_addition(wire: Wire) -> bool:
    """True for a wire that an earlier owner added; nobody wants it kept for originality."""
    return wire.slot == "as found"


def add_reason(new: Wire, run: Run, after: Configuration) -> str:
    """Why a wire is new; with the computed figures where they decide."""
    if new.circuit == "sensing":
        return _sensing_reason(new, after)
    special = ignition_reasons.addition(new, after).strip()
    if special:
        return special
    if new.circuit == "charge lamp" and _at_diode(new, after):
        return (
            "By way of the diode the lamp excites the alternator, and nothing comes back to keep "
            "the ignition alive after key-off."
        )
    if new.circuit == "charge lamp":
        return _charge_lamp_reason(new, after)
    if new.conductor is Conductor.LINK:
        return "Guards the wires behind it, from the place where they are fed."
    fuses = [ref for ref in new.ends if after.component(ref.role).is_single_fuse]
    if fuses and fuses[0].terminal == "in":
        name = after.component(fuses[0].role).name
        return f"Feeds the {name[:1].lower()}{name[1:]}, close to its source."
    return _plain_add_reason(new, after)


def _charge_lamp_reason(new: Wire, after: Configuration) -> str:
    if new.conductor is Conductor.RESISTANCE:
        return "Carries exciting current beside the lamp: a dead bulb must not stop the charging."
    if any(after.component(ref.role).can(Capability.CHARGES) for ref in new.ends):
        return "Brings the charge lamp, and with it the first field current, to the alternator."
    return "Feeds the charge lamp, which is live with the ignition."


_AT_RELAY = {
    "coil_in": "Works the {relay}: it carries the little current of its coil.",
    "coil_out": "Ground of the coil of the {relay}.",
    "common": "Feeds the contact of the {relay}.",
    "normally_open": "From the contact of the {relay} to what it switches.",
}


def _plain_add_reason(new: Wire, after: Configuration) -> str:
    """By what the wire is for; else by the system that it belongs to."""
    parts = [after.component(ref.role) for ref in new.ends]
    for ref, part in zip(new.ends, parts, strict=True):
        if part.family is Family.RELAY and ref.terminal in _AT_RELAY:
            return _AT_RELAY[ref.terminal].format(relay=_named(part))
    if new.circuit == "charge output":
        return "Carries the charging current to where battery and loads meet."
    if new.circuit == "ground":
        own = [part for part in parts if part.family not in (Family.GROUND_POINT, Family.BATTERY)]
        if own:
            return f"Ground of the {_named(own[0])}, by a wire instead of rust and paint."
        return "Joins metal to metal, or metal to the battery: every current returns this way."
    system = after.system_titles.get(new.slot)
    if system is not None:
        return f"It belongs to: {system[:1].lower()}{system[1:]}."
    return "The target has it, the vehicle has not."


def _named(part: Component) -> str:
    return part.name[:1].lower() + part.name[1:]


def _at_diode(wire: Wire, configuration: Configuration) -> bool:
    return any(configuration.component(ref.role).family is Family.DIODE for ref in wire.ends)


def _sensing_reason(wire: Wire, after: Configuration) -> str:
    text = (
        "Joins the main junction, where battery and loads meet, and not the alternator's own "
        "output: there the regulator would not see what the output wire loses."
    )
    alternator = after.component_by_role.get("alternator")
    wires = [wire for wire in after.wires if wire.circuit == "charge output"]
    if alternator is None or len(wires) != 1:
        return text
    drop_v = rated_drop_v(wires[0], alternator, after)
    return (
        text + f" At full output that is {drop_v:.2f}\N{NO-BREAK SPACE}V "
        f"(the wire with its joints, {WORKING_C:.0f} °C)."
    )
