"""
Fuses stay out until the vehicle is live; then they go in one by one.

A holder that is fitted, and a box whose fuses change, is empty until the live phase. There each
fuse is a step of its own, upstream ones first, so that one that blows names its circuit.
"""

from collections.abc import Iterable, Iterator, Mapping

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.part_changes import (
    PartAdjusted,
    PartChange,
    PartComes,
    PartExchanged,
    PartFitted,
    PartRelocated,
)
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.configuration.kinds import Capability, Family, Passing
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.electrical.passing import joined_in_one_position, reached_through
from upgrade_planner.planning.feeds import steps_from_battery
from upgrade_planner.planning.operations import (
    Dependency,
    FuseFitted,
    InsertFuse,
    Phase,
    Wait,
)

_Steps = Mapping[TerminalRef, int]

_ON = (Passing.CONTACT, Passing.DIODE, Passing.RESISTANCE)
_BETWEEN = (Family.SWITCH, Family.JOINT, Family.CONNECTOR, Family.GROUND_POINT)


@frozen(kw_only=True)
class Slot:
    """
    One fuse of a part.

    Attributes:
        label: What is printed at its terminal.
        feeds: Roles of the consumers and further fuses behind it, in the order of the current.
    """

    fuse: FuseFitted
    label: str
    feeds: tuple[str, ...]


def fuses_of(part: Component) -> tuple[FuseFitted, ...]:
    """The fuses that a part holds, by the terminals that they feed; none of a breaker."""
    if part.can(Capability.RESETS):
        return ()
    if part.is_single_fuse:
        return (FuseFitted("out", part.ratings["rated_current"]),)
    return tuple(FuseFitted(way.end, way.rated_current_a) for way in part.ratings.get("fuses", ()))


def slots_of(part: Component, configuration: Configuration) -> tuple[Slot, ...]:
    """The table of a fuse box: each slot with what it feeds and its rating."""
    steps = steps_from_battery(configuration)
    return tuple(_slot(part, fuse, configuration, steps) for fuse in fuses_of(part))


def insertions(comparison: Comparison) -> Iterator[InsertFuse]:
    """One step for each fuse that is out when the vehicle goes live."""
    after = comparison.after
    steps = steps_from_battery(after)
    placed = [
        (change, part, fuse, _reached(TerminalRef(part.role, fuse.way), after, steps))
        for change in comparison.parts
        for part, fuses in _left_out(change)
        for fuse in fuses
    ]
    for change, part, fuse, _ in placed:
        waits = [
            Dependency(_id(other, before), Wait.UPSTREAM_FUSE)
            for _, other, before, behind in placed
            if (other, before) != (part, fuse) and any(ref.role == part.role for ref in behind)
        ]
        yield InsertFuse(
            id=_id(part, fuse),
            phase=Phase.TEST_LIVE,
            place=part.place,
            after=tuple(waits),
            part=part,
            fuse=fuse,
            is_old=_is_old(change),
        )


def _left_out(change: PartChange) -> Iterator[tuple[Component, tuple[FuseFitted, ...]]]:
    if isinstance(change, PartComes):
        yield change.after, fuses_of(change.after)
    elif isinstance(change, PartAdjusted):
        old = fuses_of(change.before)
        yield change.after, tuple(fuse for fuse in fuses_of(change.after) if fuse not in old)


def _is_old(change: PartChange) -> bool:
    """True for fuses that are there already, or in the bag."""
    if isinstance(change, PartFitted | PartExchanged | PartAdjusted):
        return change.from_bag
    return isinstance(change, PartRelocated)


def _id(part: Component, fuse: FuseFitted) -> str:
    return f"insert-fuse:{part.role}.{fuse.way}"


def _slot(
    part: Component,
    fuse: FuseFitted,
    configuration: Configuration,
    steps: Mapping[TerminalRef, int],
) -> Slot:
    terminal = part.terminal(fuse.way)
    reached = _reached(TerminalRef(part.role, fuse.way), configuration, steps)
    return Slot(
        fuse=fuse,
        label=(terminal.mark if terminal else "") or fuse.way,
        feeds=tuple(dict.fromkeys(_consumers(reached, configuration)))
        or tuple(dict.fromkeys(_fed_elsewhere_too(part, fuse, configuration))),
    )


def _fed_elsewhere_too(
    part: Component, fuse: FuseFitted, configuration: Configuration
) -> Iterator[str]:
    """
    What a fuse feeds that another feed is nearer to, as behind the start side of a change-over.

    Along its wires, through each switch once, up to the first consumers and fuses.
    """
    found, crossed = [TerminalRef(part.role, fuse.way)], {part.role}
    for ref in found:
        if ref.role in crossed or configuration.component(ref.role).family in _BETWEEN:
            others = [wire.other_end(ref) for wire in configuration.wires_at.get(ref, ())]
            if ref.role not in crossed:
                others += joined_in_one_position(ref, configuration.component(ref.role), _ON)
                crossed.add(ref.role)
            found += [other for other in others if other not in found]
    yield from _consumers((ref for ref in found if ref.role != part.role), configuration)


def _consumers(reached: Iterable[TerminalRef], configuration: Configuration) -> Iterator[str]:
    for ref in reached:
        if configuration.component(ref.role).family not in _BETWEEN:
            yield ref.role


def _reached(start: TerminalRef, configuration: Configuration, steps: _Steps) -> list[TerminalRef]:
    """Terminals behind a fuse, up to the next ones; every contact counts as closed."""
    found = [start]
    for ref in found:
        others = [wire.other_end(ref) for wire in configuration.wires_at.get(ref, ())]
        part = configuration.component(ref.role)
        if part.family is not Family.PROTECTION:
            others += reached_through(ref, part, _ON)
        far = steps.get(ref, -1)
        found += [other for other in others if other not in found and steps.get(other, 0) > far]
    return found[1:]
