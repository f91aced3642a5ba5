"""Steps at parts that stay on the vehicle and are altered."""

from upgrade_planner.comparison.converting import Treatment
from upgrade_planner.comparison.part_changes import PartAdjusted
from upgrade_planner.configuration.model import Component
from upgrade_planner.planning.operations import AdjustPart, FuseFitted, Phase, Procedure, Work


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
