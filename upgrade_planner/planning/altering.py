"""Steps at parts that stay on the vehicle and are altered."""

from collections.abc import Iterable

from upgrade_planner.comparison.converting import Treatment
from upgrade_planner.comparison.part_changes import PartAdjusted, PartRebuilt
from upgrade_planner.configuration.model import Component
from upgrade_planner.planning.operations import (
    AdjustPart,
    Dependency,
    DetachEnd,
    FuseFitted,
    Operation,
    Phase,
    Procedure,
    RebuildPart,
    RemoveWire,
    Wait,
    Work,
)


def fuses_changed(change: PartAdjusted) -> AdjustPart:
    """The step that gives a part other fuses."""
    before = {(way.start, way.end): way for way in change.before.ratings.get("fuses", ())}
    after = change.after.ratings.get("fuses", ())
    changed = tuple(
        FuseFitted(way.end, way.rated_current_a)
        for way in after
        if before.get((way.start, way.end)) != way
    )
    rating = change.after.ratings.get("rated_current")
    single = (FuseFitted("", rating),) if rating is not None else ()
    return AdjustPart(
        id=f"adjust-part:{change.role}",
        phase=Phase.FIT_PARTS,
        place=change.after.place,
        before=change.before,
        part=change.after,
        fuses=changed or single,
        from_bag=change.from_bag,
    )


def converted(part: Component, treatment: Treatment) -> Procedure:
    """The step that makes a part fit for the new ground or voltage."""
    return Procedure(
        id=f"procedure:convert:{part.role}:{treatment.code}",
        phase=Phase[treatment.phase],
        place=part.place,
        work=Work.CONVERSION,
        code=treatment.code,
        facts={"name": part.name, "voltage": treatment.voltage},
        source=treatment.source,
    )


def rebuilding(change: PartRebuilt, after: tuple[Dependency, ...]) -> RebuildPart:
    """The step that gives a part other insides, when the wires that change are off it."""
    return RebuildPart(
        id=f"rebuild-part:{change.role}",
        phase=Phase.FIT_PARTS,
        place=change.after.place,
        after=after,
        before=change.before,
        part=change.after,
        gets=change.gets,
        leaves=change.leaves,
        from_bag=change.from_bag,
    )


def wires_off(role: str, wire_operations: Iterable[Operation]) -> tuple[Dependency, ...]:
    """A part is worked at when the wires that leave it are off."""
    return tuple(
        Dependency(operation.id, Wait.WIRES_OFF)
        for operation in wire_operations
        if _frees(operation, role)
    )


def _frees(operation: Operation, role: str) -> bool:
    """True if the operation takes a wire end off that part."""
    if isinstance(operation, DetachEnd):
        return operation.end.role == role
    return isinstance(operation, RemoveWire) and any(e.role == role for e in operation.wire.ends)
