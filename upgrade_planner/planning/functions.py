"""What has to work again after the job: consumers whose feed, ground or wires were touched."""

from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from itertools import chain

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.part_changes import PartKept
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import FromVehicle, IntoTarget, Kept
from upgrade_planner.configuration.kinds import Capability, Family, Passing, When
from upgrade_planner.configuration.model import Component, Configuration, Joint, TerminalRef
from upgrade_planner.electrical.batteries import KEPT, cables_of, posts_of
from upgrade_planner.electrical.passing import ways_through
from upgrade_planner.planning.operations import (
    CareForPart,
    CareForWire,
    Dependency,
    InsertFuse,
    Operation,
    Phase,
    SwitchOn,
    Wait,
    ends_joined,
)

CONSUMERS = (Family.LAMP, Family.MOTOR, Family.LOAD, Family.GAUGE)
"""What somebody switches on, or reads, to see whether it works."""

TRIED_ELSEWHERE = ("charge_lamp", "fuel_pump")
"""Roles that standing steps of their own try out."""

_PASSED = (Passing.CONTACT, Passing.DIODE, Passing.RESISTANCE)

_METAL = "metal"
"""Stands for the role of a lump of metal among terminals."""

_Came = Mapping[TerminalRef, list[tuple[TerminalRef, str]]]
"""Of each terminal those before it on all shortest ways, and the wires or parts between."""


@frozen
class _Touched:
    """Ids of wires and roles of parts that the job has in hand, before and after it."""

    before: frozenset[str]
    after: frozenset[str]


def functions_to_try(comparison: Comparison, work: tuple[Operation, ...]) -> Iterator[SwitchOn]:
    """A step for each consumer of the target that the job has touched anywhere on its way."""
    touched = _touched(comparison, work)
    sides = ((comparison.before, touched.before), (comparison.after, touched.after))
    ways = [(_ways(side), names) for side, names in sides]
    fuses = [op for op in work if isinstance(op, InsertFuse)]
    waits = tuple(Dependency(fuse.id, Wait.IN_TURN) for fuse in fuses)
    everything = comparison.before.vehicle.ground != comparison.after.vehicle.ground
    for part in comparison.after.parts_of(*CONSUMERS):
        parted = (way.get(part.role, frozenset()) & names for way, names in ways)
        found = frozenset(chain.from_iterable(parted))
        if part.role not in TRIED_ELSEWHERE and (found or everything):
            yield SwitchOn(
                id=f"switch-on:{part.role}",
                phase=Phase.TEST_LIVE,
                place=part.place,
                after=waits,
                part=part,
                touched=tuple(sorted(found)),
            )


def _touched(comparison: Comparison, work: tuple[Operation, ...]) -> _Touched:
    """Wires and parts that are changed, or come off and go on; not cables of every job."""
    joined = {end.wire.id for operation in work for end in ends_joined(operation)}
    joined -= {wire_id for wire_id, _ in cables_of(comparison.after)}
    joined |= {operation.wire.id for operation in work if isinstance(operation, CareForWire)}
    parts = {
        change.role
        for change in comparison.parts
        if not isinstance(change, PartKept) and not change.part.can(Capability.MADE_OF_WIRE)
    }
    parts |= {operation.part.role for operation in work if isinstance(operation, CareForPart)}
    before, after = set(parts), set(parts)
    for change in comparison.wires:
        if isinstance(change, Kept) and change.wire.id not in joined:
            continue
        before |= {change.before.id} if isinstance(change, FromVehicle) else set()
        after |= {change.after.id} if isinstance(change, IntoTarget) else set()
    return _Touched(frozenset(before), frozenset(after))


# Ways -------------------------------------------------------------------------------------------


@lru_cache(maxsize=KEPT)
def _ways(configuration: Configuration) -> Mapping[str, frozenset[str]]:
    """Of each consumer the wires and parts between it and both battery posts."""
    posts = posts_of(configuration)
    feed = _spread(posts.live, configuration, by_metal=False)
    ground = _spread(posts.grounded, configuration, by_metal=True)
    found = {}
    for part in configuration.parts_of(*CONSUMERS):
        ends = [TerminalRef(part.role, terminal.name) for terminal in part.terminals]
        names = {name for end in ends for came in (feed, ground) for name in _back(end, came)}
        found[part.role] = frozenset(names | {part.role} | set(_at_relays(names, configuration)))
    return found


def _back(end: TerminalRef, came: _Came) -> Iterator[str]:
    """Names on all shortest ways, so that no order in a file decides between equal ones."""
    waiting, seen = [end], {end}
    while waiting:
        for before, name in came.get(waiting.pop(), ()):
            if name:
                yield name
            if before not in seen:
                seen.add(before)
                waiting.append(before)


def _at_relays(names: Iterable[str], configuration: Configuration) -> Iterator[str]:
    """Wires of the relays on a way: without its coil a relay feeds nothing."""
    roles = {part.role for part in configuration.parts_of(Family.RELAY)} & set(names)
    for wire in configuration.wires if roles else ():
        if roles & {end.role for end in wire.ends}:
            yield wire.id


def _spread(
    starts: Iterable[TerminalRef], configuration: Configuration, *, by_metal: bool
) -> _Came:
    came: dict[TerminalRef, list[tuple[TerminalRef, str]]] = {}
    queue = deque(starts)
    far = dict.fromkeys(queue, 0)
    while queue:
        ref = queue.popleft()
        for other, name in _next(ref, configuration, by_metal=by_metal):
            if other not in far:
                far[other] = far[ref] + 1
                queue.append(other)
            if far[other] == far[ref] + 1:
                came.setdefault(other, []).append((ref, name))
    return came


def _next(
    ref: TerminalRef, configuration: Configuration, *, by_metal: bool
) -> Iterator[tuple[TerminalRef, str]]:
    if ref.role == _METAL:
        for part in configuration.components:
            yield from ((end, "") for end in _on_metal(part, configuration, ref.terminal))
        return
    part = configuration.component(ref.role)
    for wire in configuration.wires_at.get(ref, ()):
        yield wire.other_end(ref), wire.id
    for way in ways_through(part):
        passes = way.passing in _PASSED and way.when is not When.CRANKING
        if passes and ref.terminal in (way.one, way.other):
            yield TerminalRef(ref.role, way.other_end(ref.terminal)), part.role
    lump = configuration.place_by_id[part.place].metal
    if by_metal and lump and ref in _on_metal(part, configuration, lump):
        yield TerminalRef(_METAL, lump), part.role


def _on_metal(part: Component, configuration: Configuration, lump: str) -> Iterator[TerminalRef]:
    """Terminals of a part that are joined to a lump of metal by its mounting."""
    if configuration.place_by_id[part.place].metal != lump:
        return
    for terminal in part.terminals:
        if part.family is Family.GROUND_POINT or terminal.connection.joint is Joint.CASE:
            yield TerminalRef(part.role, terminal.name)
