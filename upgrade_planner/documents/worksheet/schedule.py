"""The wire schedule of a work sheet."""

from collections.abc import Iterable

from upgrade_planner.comparison.reasons import STILL_FIT
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.why import Reasons
from upgrade_planner.comparison.wire_changes import (
    Disposition,
    FromVehicle,
    IntoTarget,
    Renewed,
    Resized,
    WireChange,
)
from upgrade_planner.documents.words.reasons import reason_words
from upgrade_planner.documents.words.wire_words import (
    brief_words,
    numbered_name,
    sizes_in_turn,
    tag_number,
)
from upgrade_planner.documents.words.wording import (
    short_length_words,
)
from upgrade_planner.documents.worksheet.views import (
    ScheduleGroup,
    ScheduleRow,
)
from upgrade_planner.documents.worksheet.wire_steps import STYLES, end_action, ends_words
from upgrade_planner.planning.operations import ends_taken_off
from upgrade_planner.planning.plan import Plan

_ORDER = (
    Disposition.REMOVE,
    Disposition.CAP_OFF,
    Disposition.RESIZE,
    Disposition.RENEW,
    Disposition.MOVE,
    Disposition.ADD,
    Disposition.REFIT,
    Disposition.REJOIN,
    Disposition.KEEP,
)


def schedule_groups(plan: Plan, units: str) -> Iterable[ScheduleGroup]:
    """Every wire with what happens to it and why, the work before what stays."""
    for disposition in _ORDER:
        changes = [c for c in plan.comparison.wires if c.disposition is disposition]
        common = (STILL_FIT,) if disposition is Disposition.KEEP else ()
        if changes:
            yield ScheduleGroup(
                action=str(disposition).upper(),
                style=STYLES[disposition],
                reason=reason_words(common, units),
                rows=tuple(_schedule_row(change, plan, units, common) for change in changes),
            )


def _schedule_row(change: WireChange, plan: Plan, units: str, common: Reasons) -> ScheduleRow:
    before, after = plan.comparison.before, plan.comparison.after
    wire = change.wire
    configuration = after if isinstance(change, IntoTarget) else before
    length = short_length_words(configuration.runs[wire.id].length_m, units)
    conductor = f"{brief_words(wire, units)} {length}"
    if isinstance(change, Renewed):
        insulation = change.before.insulation.name
        conductor = f"{conductor}, {insulation} → {wire.insulation.name}"
    elif isinstance(change, Resized):
        old, _ = sizes_in_turn(change.before.size, wire.size, units)
        conductor = f"{old} → {conductor}"
    if isinstance(change, Resized):
        instead = tag_number(plan.comparison.numbers.old[change.before.id])
        conductor = f"instead of {instead}: {conductor}"
    own = [reason for reason in change.reasons if reason not in common]
    return ScheduleRow(
        mark=marks_of(change, plan.comparison),
        action=_action(change, plan),
        style=STYLES[change.disposition],
        ends=ends_words(configuration, wire.ends),
        conductor=conductor,
        reason=reason_words(own, units),
    )


def marks_of(change: WireChange, comparison: Comparison) -> str:
    """Number and name of the conductor, of the new one where one takes its place."""
    numbers = comparison.numbers
    if isinstance(change, Resized):
        return numbered_name(numbers.new[change.after.id], change.mark)
    if isinstance(change, FromVehicle):
        return numbered_name(numbers.old[change.before.id], change.mark)
    return numbered_name(numbers.new[change.after.id], change.mark)


def _action(change: WireChange, plan: Plan) -> str:
    """What happens to the wire; of a kept one whether it comes off on the way."""
    handled = (end for operation in plan.operations for end in ends_taken_off(operation))
    if change.disposition is Disposition.KEEP and any(e.wire.id == change.mark for e in handled):
        return end_action(change.disposition)
    return str(change.disposition).upper()
