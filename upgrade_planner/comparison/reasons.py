"""Why a wire stays, goes, comes or grows, from the facts of both sides."""

from upgrade_planner.comparison import ignition_reasons
from upgrade_planner.comparison.reuse import shortfalls
from upgrade_planner.comparison.why import Attribute, Difference, Reason, Reasons, because
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import Component, Conductor, Configuration, Wire
from upgrade_planner.configuration.values.measures import ampere, celsius, volt
from upgrade_planner.configuration.ways import Run
from upgrade_planner.electrical.output_drop import WORKING_C, rated_drop_v

STILL_FIT = because("still-fit")
"""Said of every wire that is kept."""


def keep_reasons(old: Wire, new: Wire, differences: tuple[Difference, ...]) -> Reasons:
    """Why a wire can stay as it is."""
    attributes = {difference.attribute for difference in differences}
    notes = [STILL_FIT]
    if old.size.area_mm2 > new.size.area_mm2:
        notes.append(because("larger", wanted=new.size))
    if Attribute.COLOUR in attributes:
        notes.append(because("other-colour", colour=new.colour.code))
    if Attribute.CIRCUIT in attributes:
        notes.append(because("serves-as", circuit=new.circuit))
    return tuple(notes)


def resize_reasons(old: Wire, new: Wire, after: Configuration) -> Reasons:
    """Why a wire gives way to another conductor between the same ends."""
    reasons = [because("falls-short", shortfalls=shortfalls(old, new))]
    alternator = after.component_by_role.get("alternator")
    heavier = new.size.area_mm2 > old.size.area_mm2
    if heavier and alternator is not None and new.circuit in ("charge output", "main feed"):
        output = ampere(alternator.ratings["rated_output"])
        reasons.append(because("alternator-delivers", output=output))
    if new.conductor is Conductor.LINK:
        reasons.append(because("link-melts-first"))
    return tuple(reasons)


def move_reasons(old: Wire, new: Wire) -> Reasons:
    """Why and how the same conductor goes to another terminal."""
    if _changes_post(old, new):
        return (because("ground-changes-over"),)
    reasons = (because("conductor-serves-again"),)
    for end in old.joins & new.joins:
        return (*reasons, because("end-stays", role=end.role, terminal=end.terminal))
    return reasons


def _changes_post(old: Wire, new: Wire) -> bool:
    """True if a wire goes from one post to the other of the same battery, coil or unit."""
    moved = old.joins ^ new.joins
    return {end.terminal for end in moved} == {"positive", "negative"} and all(
        sum(end.role == role for end in moved) == 2 for role in {end.role for end in moved}
    )


def removal_reasons(old: Wire, before: Configuration, after: Configuration) -> Reasons:
    """Why a wire is not wanted any more."""
    if is_earlier_addition(old):
        return (because("earlier-alteration"),)
    special = ignition_reasons.removal(old, after)
    if special:
        return special
    gone = [ref.role for ref in old.ends if ref.role not in after.component_by_role]
    if gone:
        return (because("part-goes", role=gone[0]),)
    shared = [wire.joins & old.joins for wire in after.wires if wire.circuit == old.circuit]
    taken_over = sorted(ref for refs in shared for ref in refs)
    if taken_over:
        ref = taken_over[0]
        return (because("new-wire-takes-over", role=ref.role, terminal=ref.terminal),)
    return (because("target-without"),)


def is_earlier_addition(wire: Wire) -> bool:
    """True for a wire that an earlier owner added; nobody wants it kept for originality."""
    return wire.slot == "as found"


def is_earlier_work(wire: Wire) -> bool:
    """True for a wire that an earlier owner added or joined elsewhere: its way is not known."""
    return wire.altered or is_earlier_addition(wire)


def add_reasons(new: Wire, after: Configuration) -> Reasons:
    """Why a wire is new; with the computed figures where they decide."""
    if new.circuit == "sensing":
        return _sensing_reasons(after)
    special = ignition_reasons.addition(new, after)
    if special:
        return special
    if new.circuit == "charge lamp":
        return (because(_charge_lamp_code(new, after)),)
    if new.conductor is Conductor.LINK:
        return (because("guards-wires"),)
    fuses = [ref for ref in new.ends if after.component(ref.role).is_single_fuse]
    if fuses and fuses[0].terminal == "in":
        return (because("feeds-fuse", name=after.component(fuses[0].role).name),)
    return _plain_add_reasons(new, after)


def _charge_lamp_code(new: Wire, after: Configuration) -> str:
    parts = [after.component(ref.role) for ref in new.ends]
    if any(part.family is Family.DIODE for part in parts):
        return "lamp-by-diode"
    if new.conductor is Conductor.RESISTANCE:
        return "excites-beside-lamp"
    charges = any(part.can(Capability.CHARGES) for part in parts)
    return "lamp-to-alternator" if charges else "feeds-lamp"


_AT_RELAY = {
    "coil_in": "works-relay",
    "coil_out": "relay-coil-ground",
    "common": "feeds-relay-contact",
    "normally_open": "from-relay-contact",
}


def _plain_add_reasons(new: Wire, after: Configuration) -> Reasons:
    """By what the wire is for; else by the system that it belongs to."""
    parts = [after.component(ref.role) for ref in new.ends]
    for ref, part in zip(new.ends, parts, strict=True):
        if part.family is Family.RELAY and ref.terminal in _AT_RELAY:
            return (because(_AT_RELAY[ref.terminal], name=part.name),)
    if new.circuit == "charge output":
        return (because("carries-charge"),)
    if new.circuit == "ground":
        return (_ground_reason(parts),)
    return (in_target(new.slot, after),)


def _ground_reason(parts: list[Component]) -> Reason:
    own = [part for part in parts if part.family not in (Family.GROUND_POINT, Family.BATTERY)]
    return because("grounds-part", name=own[0].name) if own else because("joins-metal")


def in_target(slot: str, after: Configuration) -> Reason:
    """Why something is new of which no more is known than its system, if that."""
    system = after.system_titles.get(slot)
    return because("not-there-yet") if system is None else because("belongs-to", system=system)


def _sensing_reasons(after: Configuration) -> Reasons:
    alternator = after.component_by_role.get("alternator")
    wires = [wire for wire in after.wires if wire.circuit == "charge output"]
    if alternator is None or len(wires) != 1:
        return (because("senses-main-junction"),)
    drop = volt(rated_drop_v(wires[0], alternator, after))
    return (
        because("senses-main-junction"),
        because("output-loses", drop=drop, at=celsius(WORKING_C)),
    )


LIES_IN_LOOM, LIES_IN_CONNECTOR = "lies-in-loom", "lies-in-connector"
LIES_IN_LOOM_AND_CONNECTOR = "lies-in-loom-and-connector"

OLD_STAYS = because("old-stays")
"""Said of a resized wire whose old conductor stays in its loom."""

STAYS = (OLD_STAYS.code, LIES_IN_LOOM, LIES_IN_CONNECTOR, LIES_IN_LOOM_AND_CONNECTOR)
"""Codes that say why a dead wire stays; they are true no more once it comes out."""


def dead_wire_reason(run: Run) -> Reason:
    """Why a wire that is not used any more stays where it is."""
    if not run.connectors:
        return because(LIES_IN_LOOM)
    code = LIES_IN_LOOM_AND_CONNECTOR if run.in_loom else LIES_IN_CONNECTOR
    return because(code, connectors=run.connectors)
