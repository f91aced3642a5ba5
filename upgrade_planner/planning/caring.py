"""What worn wires and parts ask for before they serve on: care, and the cause of burning."""

from collections.abc import Iterable, Iterator
from typing import TypeVar

from attrs import evolve

from upgrade_planner.comparison.part_changes import (
    PartAdjusted,
    PartChange,
    PartConverted,
    PartExchanged,
    PartFitted,
    PartKept,
    PartRebuilt,
    PartRelocated,
)
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.configuration.composing.digest import digest_of
from upgrade_planner.configuration.conditions import (
    Condition,
    are_opened,
    are_remade,
    asks_for_care,
    ordered,
)
from upgrade_planner.configuration.kinds import Capability
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef, Wire
from upgrade_planner.planning.operations import (
    CareForPart,
    CareForWire,
    ConductorKey,
    Dependency,
    FindCause,
    Operation,
    Phase,
    Wait,
)

Worn = TypeVar("Worn", Wire, Component)


def burnt(configuration: Configuration) -> tuple[Wire | Component, ...]:
    """Wires, then parts, that were found burnt."""
    every: tuple[Wire | Component, ...] = (*configuration.wires, *configuration.components)
    return tuple(item for item in every if Condition.BURNT in item.condition)


def _causes_to_find(before: Configuration) -> Iterator[FindCause]:
    """For each burnt wire and part a step that finds out why; whatever becomes of it."""
    for item in burnt(before):
        if isinstance(item, Wire):
            name, place = f"wire:{item.id}", before.place_of(item.start).id
        else:
            name, place = f"part:{item.role}", item.place
        yield FindCause(id=f"find-cause:{name}", phase=Phase.RECORD, place=place, item=item)


def renewed_instead(before: Configuration, operations: Iterable[Operation]) -> Configuration:
    """The vehicle as it is, with all that these operations look after found beyond saving."""
    found = tuple(operations)
    wires = {op.wire.id for op in found if isinstance(op, CareForWire)}
    roles = {op.part.role for op in found if isinstance(op, CareForPart)}
    made = evolve(
        before,
        wires=tuple(_beyond_saving(w) if w.id in wires else w for w in before.wires),
        components=tuple(_beyond_saving(p) if p.role in roles else p for p in before.components),
    )
    return evolve(made, digest=digest_of((before.digest, sorted(wires), sorted(roles))))


def _beyond_saving(item: Worn) -> Worn:
    return evolve(item, condition=ordered((*item.condition, Condition.RENEW)))


def opened_ends(wire: Wire, before: Configuration) -> tuple[TerminalRef, ...]:
    """Ends of a kept wire that come off to be looked after; a splice is looked at where it lies."""
    if not are_opened(asks_for_care(wire.condition)):
        return ()
    parts = {end: before.component(end.role) for end in wire.ends}
    return tuple(end for end in wire.ends if not parts[end].can(Capability.MADE_OF_WIRE))


def cut_ends(wire: Wire, opened: Iterable[TerminalRef]) -> tuple[TerminalRef, ...]:
    """Of the ends that are off, those that are cut back and given new terminals."""
    return tuple(opened) if are_remade(asks_for_care(wire.condition)) else ()


def care_for_wire(
    key: ConductorKey, wire: Wire, phase: Phase, place: str, after: Iterable[Dependency]
) -> Iterator[CareForWire]:
    """The step that looks after a wire which serves on; none if nothing is wrong with it."""
    conditions = asks_for_care(wire.condition)
    if conditions:
        yield CareForWire(
            id=f"care-for-wire:{wire.id}",
            phase=phase,
            place=place,
            after=tuple(after),
            conductor=key,
            wire=wire,
            conditions=conditions,
        )


def care_besides_wires(comparison: Comparison) -> Iterator[Operation]:
    """Care for parts, and the causes of burning."""
    yield from _causes_to_find(comparison.before)
    yield from _care_for_parts(comparison)


def _care_for_parts(comparison: Comparison) -> Iterator[CareForPart]:
    """A step for each worn part that stays, or that comes back out of the bag."""
    for change in comparison.parts:
        part = _worn(change)
        if part is None:
            continue
        moves = isinstance(change, PartRelocated | PartFitted | PartExchanged)
        fitted = Dependency(f"fit-part:{change.role}", Wait.PART_IN_PLACE)
        yield CareForPart(
            id=f"care-for-part:{change.role}",
            phase=Phase.FIT_PARTS,
            place=change.part.place,
            after=(fitted,) if moves else (),
            part=part,
        )


def _worn(change: PartChange) -> Component | None:
    """The old part that serves on, if something is wrong with it."""
    match change:
        case PartKept() | PartConverted() | PartAdjusted() | PartRebuilt() | PartRelocated():
            part = change.before
        case PartFitted(from_bag=True) | PartExchanged(from_bag=True):
            part = change.after
        case _:
            return None
    return part if part.condition else None
