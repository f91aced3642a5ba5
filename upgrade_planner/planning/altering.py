"""Steps at parts that stay on the vehicle and are altered."""

import hashlib

from upgrade_planner.comparison.converting import Treatment
from upgrade_planner.comparison.part_changes import PartAdjusted
from upgrade_planner.configuration.model import Component
from upgrade_planner.planning.operations import AdjustPart, Phase, Procedure, Work


def adjusted(change: PartAdjusted) -> AdjustPart:
    """The step that gives a part other fuses."""
    before = {(way.start, way.end): way for way in change.before.ratings.get("fuses", ())}
    after = change.after.ratings.get("fuses", ())
    changed = tuple(
        f"{way.end}: {way.rated_current_a:g}\N{NO-BREAK SPACE}A"
        for way in after
        if before.get((way.start, way.end)) != way
    )
    rating = change.after.ratings.get("rated_current")
    single = (f"{rating:g}\N{NO-BREAK SPACE}A",) if rating is not None else ()
    return AdjustPart(
        id=f"adjust-part:{change.role}",
        phase=Phase.FIT_PARTS,
        place=change.after.place,
        before=change.before,
        part=change.after,
        changes=changed or single,
        from_bag=change.from_bag,
    )


def converted(part: Component, treatment: Treatment) -> Procedure:
    """The step that makes a part fit for the new ground or voltage."""
    digest = hashlib.sha256(treatment.instruction.encode()).hexdigest()[:6]
    return Procedure(
        id=f"procedure:convert:{part.role}:{digest}",
        phase=Phase(treatment.phase),
        place=part.place,
        work=Work.CONVERSION,
        instruction=treatment.instruction,
        details=treatment.details,
        expected=treatment.expected,
        source=treatment.source,
    )
