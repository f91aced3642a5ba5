"""What each operation consumes and gives back; parts lists and quotations add these up."""

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from enum import StrEnum

from attrs import evolve, frozen

from upgrade_planner.configuration.model import (
    Component,
    Conductor,
    Configuration,
    Joint,
    Terminal,
    Wire,
)
from upgrade_planner.configuration.sizes import METRIC, SAE, WireSize, other_system_label
from upgrade_planner.kit.terminals import barrel_for
from upgrade_planner.planning.operations import (
    AdjustPart,
    AttachEnd,
    CapWire,
    FitPart,
    Operation,
    RunWire,
)
from upgrade_planner.planning.plan import Plan

CLIP_SPACING_M = 0.45
"""Largest spacing of clips. [m] Source: ISO 10133 as quoted in reference tables, 450 mm."""

SLEEVE_PER_END_M = 0.03
"""Heat-shrink sleeve on each made end. [m] Source: our assumption: barrel and 15 mm of cable."""

CAP_SLEEVE_M = 0.05
"""Heat-shrink sleeve over each capped end: 25 mm beyond the conductor both ways. [m]
Source: our assumption."""

_ROUND_UP_M = 0.01


class Group(StrEnum):
    """Shelves of the parts list."""

    PARTS = "Parts"
    CABLE = "Cable and links"
    TERMINALS = "Terminals"
    SEALING = "Sleeve, caps and tags"
    FIXING = "Clips and ties"


@frozen(kw_only=True, order=True)
class Material:
    """
    An article and how much of it.

    Attributes:
        quantity: In `unit`.
        unit: `m` or `each`.
        wires: Wires or parts it is for.
    """

    group: Group
    item: str
    unit: str
    quantity: float
    wires: tuple[str, ...] = ()


def consumption(plan: Plan) -> Mapping[str, tuple[Material, ...]]:
    """Materials by operation id, for every operation that consumes any."""
    after = plan.comparison.after
    last_at_splice = _last_joints(plan.operations, after)
    found = {}
    for operation in plan.operations:
        materials = _materials(operation, after, last_at_splice)
        if materials:
            found[operation.id] = materials
    return found


def totals(materials: Iterable[Material]) -> tuple[Material, ...]:
    """Materials of the same article added up, sorted by shelf."""
    sums: dict[tuple[Group, str, str], Material] = {}
    for material in materials:
        key = (material.group, material.item, material.unit)
        known = sums.get(key)
        if known is None:
            sums[key] = material
        else:
            wires = tuple(sorted({*known.wires, *material.wires}))
            quantity = known.quantity + material.quantity
            sums[key] = evolve(known, quantity=quantity, wires=wires)
    shelves = list(Group)
    return tuple(sorted(sums.values(), key=lambda m: (shelves.index(m.group), m.item)))


def cut_length_m(wire: Wire, configuration: Configuration) -> float:
    """Length to cut: the run with its slack, rounded up to the next centimetre. [m]"""
    length = configuration.runs[wire.id].length_m
    return math.ceil(round(length / _ROUND_UP_M, 6)) * _ROUND_UP_M


def terminal_for(terminal: Terminal, size: WireSize, joined: Iterable[WireSize] = ()) -> str:
    """
    The terminal that joins a cable of that size to that hardware.

    Args:
        terminal: Where the cable is joined.
        size: Size of the cable.
        joined: Sizes of all cables in a splice, which one barrel holds together.
    """
    connection = terminal.connection
    barrel = barrel_for(size)
    match connection.joint:
        case Joint.STUD | Joint.SCREW:
            return f"Ring terminal, {connection.size}, {barrel}"
        case Joint.BLADE | Joint.CAVITY:
            return f"Blade receptacle, {connection.size}, {barrel}"
        case Joint.BULLET:
            return f"Bullet, {connection.size}, {barrel}"
        case Joint.POST:
            return f"Battery clamp, {connection.size} post, {barrel}"
    sizes = sorted({*joined, size}, key=lambda one: -one.area_mm2)
    return f"Crimp splice for {' and '.join(one.label for one in sizes)}"


def _materials(
    operation: Operation, after: Configuration, last_at_splice: Mapping[str, str]
) -> tuple[Material, ...]:
    match operation:
        case RunWire():
            return _cable(operation.wire, after)
        case AttachEnd() if operation.remade:
            return _made_end(operation, after, last_at_splice)
        case CapWire():
            return _caps(operation.wire)
        case FitPart():
            part = operation.part
            return (_each(Group.PARTS, part.name + _fuse_words(part), 1, part.role),)
        case AdjustPart():
            return tuple(
                _each(Group.PARTS, f"Fuse, {text.split(': ')[-1]}", 1, operation.part.role)
                for text in operation.changes
            )
    return ()


def _fuse_words(part: Component) -> str:
    """Ratings of the fuses in a part: never left to the reader's guess."""
    amps = [way.rated_current_a for way in part.ratings.get("fuses", ())]
    if part.kind in ("fuse", "breaker"):
        amps = [part.ratings["rated_current"]]
    words = " and ".join(f"{rating:g}\N{NO-BREAK SPACE}A" for rating in amps)
    return f", {words}" if words else ""


def _cable(wire: Wire, after: Configuration) -> tuple[Material, ...]:
    run = after.runs[wire.id]
    length = cut_length_m(wire, after)
    clips = math.ceil(run.length_m / CLIP_SPACING_M)
    found = [
        Material(
            group=Group.CABLE,
            item=_cable_words(wire),
            unit="m",
            quantity=length,
            wires=(wire.id,),
        ),
        _each(Group.FIXING, "Clip or tie to suit the bundle", clips, wire.id),
    ]
    for role in run.connectors:
        blade = after.component(role).ratings["cavity_blade"]
        barrel = barrel_for(wire.size)
        for half in ("pin", "socket"):
            item = f"Connector {half}, {blade}, {barrel}"
            found.append(_each(Group.TERMINALS, item, 1, wire.id))
    return tuple(found)


def _cable_words(wire: Wire) -> str:
    size = wire.size
    other = other_system_label(size, SAE if size.system == METRIC else METRIC)
    label = f"{size.label} ({other}), {wire.insulation.name}, {wire.colour.label}"
    if wire.conductor is Conductor.LINK:
        return f"Fusible link, {label}"
    if wire.conductor is Conductor.RESISTANCE:
        return f"Resistance wire, {wire.resistance_ohm:g}\N{NO-BREAK SPACE}Ω in all, {label}"
    return f"Cable, {label}"


def _made_end(
    operation: AttachEnd, after: Configuration, last_at_splice: Mapping[str, str]
) -> tuple[Material, ...]:
    wire, end = operation.wire, operation.end
    terminal = after.component(end.role).terminal(end.terminal)
    assert terminal is not None
    sleeve = Material(
        group=Group.SEALING,
        item=f"Heat-shrink sleeve with adhesive, for {wire.size.label}",
        unit="m",
        quantity=SLEEVE_PER_END_M,
        wires=(wire.id,),
    )
    if terminal.connection.joint is Joint.SPLICE and last_at_splice[end.role] != operation.id:
        return (sleeve,)  # one splice joins all its wires: it is counted with the last of them
    joined = [other.size for other in after.wires_at.get(end, ())]
    item = terminal_for(terminal, wire.size, joined)
    return (_each(Group.TERMINALS, item, 1, wire.id), sleeve)


def _last_joints(operations: Iterable[Operation], after: Configuration) -> dict[str, str]:
    """For each splice, the operation that closes it."""
    last: dict[str, str] = defaultdict(str)
    for operation in operations:
        if (
            isinstance(operation, AttachEnd)
            and after.component(operation.end.role).kind == "splice"
        ):
            last[operation.end.role] = operation.id
    return last


def _caps(wire: Wire) -> tuple[Material, ...]:
    return (
        _each(Group.SEALING, f"Closed-end cap, {barrel_for(wire.size)}", 2, wire.id),
        _each(Group.SEALING, "Tag for a dead wire end", 2, wire.id),
        Material(
            group=Group.SEALING,
            item=f"Heat-shrink sleeve with adhesive, for {wire.size.label}",
            unit="m",
            quantity=2 * CAP_SLEEVE_M,
            wires=(wire.id,),
        ),
    )


def _each(group: Group, item: str, quantity: int, what_for: str) -> Material:
    return Material(group=group, item=item, unit="each", quantity=quantity, wires=(what_for,))
