"""
Which systems of the vehicle a job touches: their tests, readings and cautions are on its sheet.

A small job prints what it needs. What it cannot have changed or loosened is as good, or as bad, as
it was before, and needs no reading today. What guards people is not asked here: the dead short, the
first current, stopping by the switch, and the battery stand on every sheet.
"""

from collections.abc import Iterator

from upgrade_planner.comparison.converting import conversions
from upgrade_planner.comparison.part_changes import PartKept
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import Kept
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import TerminalRef, Wire

CIRCUITS = {
    "charging": {"charge output", "sensing", "field", "field relay", "regulator supply"},
    "charge_lamp": {"charge lamp"},
    "starting": {"battery cable", "starter cable", "start signal", "start bypass"},
    "grounds": {"ground", "battery cable"},
    "ignition": {"ignition feed", "ignition primary", "trigger"},
    "feed": {"main feed", "distribution"},
    "fuel": {"fuel"},
}
"""Circuits of a system; a wire of theirs that is changed, or comes off on the way, touches it."""

FAMILIES = {
    "charging": {Family.DYNAMO, Family.ALTERNATOR, Family.REGULATOR, Family.CUT_OUT},
    "starting": {Family.BATTERY, Family.STARTER, Family.STARTER_RELAY},
    "grounds": {Family.BATTERY, Family.GROUND_POINT},
    "ignition": {
        Family.COIL,
        Family.COIL_PACK,
        Family.POINTS,
        Family.PICK_UP,
        Family.IGNITION_MODULE,
        Family.IGNITION_UNIT,
    },
    "feed": {Family.AMMETER},
    "relays": {Family.RELAY},
}
"""Families of parts that touch a system if they change or a terminal of theirs is opened."""

SYSTEMS = tuple(dict.fromkeys((*CIRCUITS, *FAMILIES)))


def touched_flags(comparison: Comparison) -> dict[str, bool]:
    """
    `charging_touched`, `starting_touched` and so on.

    All are true where ground or voltage change, and where nothing changes at all: then it is the
    vehicle as a whole that is asked for.
    """
    whole = comparison.is_empty or bool(conversions(comparison.before, comparison.after))
    families = set(_families_in_hand(comparison))
    circuits = {wire.circuit for wire in _wires_in_hand(comparison)}
    return {
        f"{system}_touched": whole
        or bool(circuits & CIRCUITS.get(system, set()))
        or bool(families & FAMILIES.get(system, set()))
        for system in SYSTEMS
    }


def opened_terminals(comparison: Comparison) -> frozenset[TerminalRef]:
    """Terminals at which an end of a wire comes or goes, or whose part does."""
    roles = {c.role for c in comparison.parts if not isinstance(c, PartKept)}
    found = set()
    for change in comparison.wires:
        for end in (end for wire in change.wires for end in wire.ends):
            if not isinstance(change, Kept) or end.role in roles:
                found.add(end)
    return frozenset(found)


def _wires_in_hand(comparison: Comparison) -> Iterator[Wire]:
    """Wires that change, and those that stay but have an end at a terminal that is opened."""
    opened = opened_terminals(comparison)
    for change in comparison.wires:
        for wire in change.wires:
            if not isinstance(change, Kept) or opened.intersection(wire.ends):
                yield wire


def _families_in_hand(comparison: Comparison) -> Iterator[Family]:
    """Families of parts that change, or that have a terminal which is opened."""
    for change in comparison.parts:
        if not isinstance(change, PartKept):
            yield change.part.family
    for side in (comparison.before, comparison.after):
        for end in opened_terminals(comparison):
            if end.role in side.component_by_role:
                yield side.component(end.role).family
