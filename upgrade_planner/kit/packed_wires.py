"""The new wires of one bag, with what goes on their ends, and the fuse boxes of its place."""

from collections.abc import Iterator

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef, Wire
from upgrade_planner.kit.articles import Article, Material
from upgrade_planner.kit.filling_bags import Bag
from upgrade_planner.kit.packing import Kit, bag_key, is_spare
from upgrade_planner.planning.operations import InsertFuse, RunWire, ends_joined
from upgrade_planner.planning.plan import Plan

_CABLE = "cable"
_TERMINALS = "terminals"


@frozen(kw_only=True)
class PackedWire:
    """
    A new wire of one bag.

    Attributes:
        number: Its number through all papers of the job.
        material: Its cable.
        ends: Both ends, with the terminals that go on them and the number of their bag. An end
            that goes into a splice takes none of its own; the bag is that of the barrel, 0 if the
            splice is there already.
    """

    wire: Wire
    plan: Plan
    number: int
    material: Material
    ends: tuple[tuple[TerminalRef, tuple[Article, ...], int], ...]


def packed_wires(kit: Kit, bag: Bag) -> Iterator[PackedWire]:
    """The new wires of a bag, in the order of the work."""
    if is_spare(bag):
        return
    key = bag_key(bag)
    job, _, stage, place = key
    plan, used = kit.jobs[job].plans[stage], kit.jobs[job].used[stage]
    for operation in plan.operations:
        if not isinstance(operation, RunWire) or operation.place != place:
            continue
        for material in used.get(operation.id, ()):
            if material.article.shelf == _CABLE:
                ends = tuple(_end(kit, key, operation, end) for end in operation.wire.ends)
                yield PackedWire(
                    wire=operation.wire,
                    plan=plan,
                    number=plan.number_of(operation.conductor),
                    material=material,
                    ends=ends,
                )


def packed_boxes(kit: Kit, bag: Bag) -> Iterator[tuple[Component, Configuration]]:
    """The fuse boxes and holders whose fuses lie in a bag, each once, with their configuration."""
    if is_spare(bag):
        return
    job, _, stage, place = bag_key(bag)
    plan = kit.jobs[job].plans[stage]
    found = {
        op.part.role: op.part
        for op in plan.operations
        if isinstance(op, InsertFuse) and op.place == place
    }
    yield from ((part, plan.comparison.after) for part in found.values())


def _end(
    kit: Kit, key: tuple[int, int, int, str], run: RunWire, end: TerminalRef
) -> tuple[TerminalRef, tuple[Article, ...], int]:
    job, vehicle, stage, _ = key
    planned = kit.jobs[job]
    barrel = 0
    for operation in planned.plans[stage].operations:
        own = [one for one in ends_joined(operation) if one.end == end]
        used = planned.used[stage].get(operation.id, ())
        terminals = [m for m in used if m.article.shelf == _TERMINALS]
        if not own or not terminals:
            continue
        bag = kit.bag_numbers[job, vehicle, stage, operation.place]
        found = tuple(m.article for m in terminals if run.wire.id in m.wires)
        if found and any(one.conductor == run.conductor for one in own):
            return end, found, bag
        barrel = bag
    return end, (), barrel
