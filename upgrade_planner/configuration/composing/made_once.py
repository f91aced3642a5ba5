"""
Parts and wires as their entries say, each made once.

Configurations of one vehicle, and the many trials of one target, share most of their entries; so
they share the values made from these, and whatever is kept of a value serves all of them.
"""

from functools import lru_cache

from upgrade_planner.configuration.composing.this import KEPT, This
from upgrade_planner.configuration.conditions import ordered
from upgrade_planner.configuration.files.faults import FieldFault
from upgrade_planner.configuration.kinds import Kind
from upgrade_planner.configuration.model import Component, Conductor, Terminal, TerminalRef, Wire
from upgrade_planner.configuration.structuring.entries import ComponentEntry, WireEntry
from upgrade_planner.configuration.structuring.ratings import parse_ratings
from upgrade_planner.configuration.structuring.wholeness import component_faults


@lru_cache(KEPT)
def faults_in_entry(this: This[ComponentEntry], kind: This[Kind]) -> tuple[FieldFault, ...]:
    """What is wrong with an entry by itself, wherever it stands."""
    names = tuple(terminal.name for terminal in this.value.terminals)
    return tuple(component_faults(kind.value, names, this.value.ratings))


@lru_cache(KEPT)
def part_of(
    this: This[ComponentEntry],
    kind: This[Kind],
    place: str,
    *,
    slot: str,
    is_marked: bool,
    as_found: bool,
) -> Component:
    """The part of an entry; one and the same in all configurations that have it."""
    entry = this.value
    names = tuple(terminal.name for terminal in entry.terminals)
    return Component(
        role=entry.role,
        kind=entry.kind,
        name=entry.name,
        place=place,
        terminals=tuple(
            Terminal(name=t.name, label=t.label, connection=t.connection, is_marked=is_marked)
            for t in entry.terminals
        ),
        ratings=parse_ratings(kind.value, entry.ratings, names)[0],
        note=entry.note,
        rebuilt_of=entry.rebuilt_of,
        rebuilt_with=entry.rebuilt_with,
        rebuilt_leaves=entry.rebuilt_leaves,
        as_found=as_found,
        condition=ordered(entry.condition),
        slot=slot,
        origin=entry.origin,
    )


@lru_cache(KEPT)
def wire_of(
    this: This[WireEntry],
    start: TerminalRef,
    end: TerminalRef,
    *,
    slot: str,
    as_found: bool,
    altered: bool,
) -> Wire:
    """The wire of an entry with one size; one and the same in all configurations that have it."""
    entry = this.value
    (size,), (insulation,) = entry.size.options, entry.insulation.options
    return Wire(
        id=entry.id,
        circuit=entry.circuit,
        start=start,
        end=end,
        size=size,
        conductor=entry.conductor,
        resistance_ohm=entry.resistance if entry.conductor is Conductor.RESISTANCE else None,
        insulation=insulation,
        colour=entry.colour,
        measured_length_m=entry.length,
        loom=entry.route,
        note=entry.note,
        as_found=as_found,
        altered=altered,
        condition=ordered(entry.condition),
        rings=entry.rings,
        slot=slot,
        origin=entry.origin,
    )
