"""What the remedy of a finding itself would change, as lines of a target."""

from collections.abc import Iterator

from upgrade_planner.checks.findings import Finding
from upgrade_planner.configuration.edits import Edit as Change
from upgrade_planner.configuration.edits import Rejoin, Rerate, Resize, TakeOut
from upgrade_planner.configuration.model import Conductor
from upgrade_planner.configuration.values.measures import ampere, volt
from upgrade_planner.configuration.values.sizes import size_text
from upgrade_planner.targets.guards import Bench, Cure, changed
from upgrade_planner.targets.wish_edits import Edit, EditKey, Value

QUANTITIES = {"rated_current": ampere, "set_point": volt}
"""Ratings that a target can be given, with their quantity."""


def as_told(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """The edits of a finding's remedy; nothing if a target cannot say one of them."""
    made = [_line(change, bench) for change in finding.remedy.edits]
    lines = tuple(line for line in made if line is not None)
    if lines and len(lines) == len(made):
        yield lines


def _line(change: Change, bench: Bench) -> Edit | None:
    wires = bench.configuration.wire_by_id
    match change:
        case Resize():
            wire = wires[change.wire_id]
            grows = change.size.area_mm2 > wire.size.area_mm2
            values: dict[str, Value] = {"size": size_text(change.size)}
            if wire.conductor is Conductor.ALUMINIUM:
                return changed(wire, {**values, "conductor": str(Conductor.COPPER)}, "in-copper")
            return changed(wire, values, "thicker" if grows else "thinner-link")
        case Rejoin():
            end = "from" if change.at_start else "to"
            return changed(wires[change.wire_id], {end: change.to}, "own-place")
        case TakeOut():
            return Edit(table=EditKey.REMOVE_WIRE, name=change.wire_id, why="not-wanted")
        case Rerate() if set(change.ratings) <= set(QUANTITIES):
            ratings: Value = {n: QUANTITIES[n](float(v)) for n, v in change.ratings.items()}
            return Edit(
                table=EditKey.CHANGE_PART,
                name=change.role,
                values={"ratings": ratings},
                why="other-rating",
            )
    return None
