"""The wires of a work sheet: those that change, and those that stay."""

from collections.abc import Iterable, Mapping

from attrs import evolve

from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import (
    Disposition,
    FromVehicle,
    IntoTarget,
    Kept,
    Renewed,
    Resized,
    WireChange,
)
from upgrade_planner.documents.words.quantities import counted
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
    ScheduleRow,
)
from upgrade_planner.documents.worksheet.wire_steps import STYLES, end_action, ends_words
from upgrade_planner.planning.operations import ends_taken_off
from upgrade_planner.planning.plan import Plan
from upgrade_planner.planning.touched import opened_terminals

_ORDER = (
    Disposition.REMOVE,
    Disposition.CAP_OFF,
    Disposition.RESIZE,
    Disposition.RENEW,
    Disposition.MOVE,
    Disposition.ADD,
    Disposition.REFIT,
    Disposition.REJOIN,
)


def changed_rows(
    plan: Plan, units: str, *, with_reasons: bool, packed: Mapping[str, str]
) -> Iterable[ScheduleRow]:
    """Every wire that comes, goes or changes, by what happens to it; `packed` as in the options."""
    for disposition in _ORDER:
        for change in plan.comparison.wires:
            if change.disposition is disposition:
                row = _schedule_row(change, plan, units, with_reasons=with_reasons)
                is_new = isinstance(change, IntoTarget)
                instead = packed.get(change.wire.id, "") if is_new else ""
                yield evolve(row, packed=packed_words(instead))


def packed_words(instead: str) -> str:
    """A sentence on what the kit has in place of a cable; "" for nothing."""
    return f"Packed from {instead}." if instead else ""


def kept_changes(comparison: Comparison, *, with_all: bool) -> Iterable[Kept]:
    """Wires that stay as they are: those at a terminal that is opened, or all."""
    opened = opened_terminals(comparison)
    for change in comparison.wires:
        if isinstance(change, Kept):
            ends = (end for wire in change.wires for end in wire.ends)
            if with_all or not opened.isdisjoint(ends):
                yield change


def kept_lines(plan: Plan, changes: Iterable[Kept], units: str) -> Iterable[str]:
    """Number, name, size, colour of each."""
    for change in changes:
        yield f"{marks_of(change, plan.comparison)} {brief_words(change.wire, units)}"


def kept_rest(number: int) -> str:
    """That so many wires are not listed, and where they are."""
    if not number:
        return ""
    others = counted(number, "other wire stays", "other wires stay")
    return f"{others} as before: no terminal of theirs is opened. The chart shows them."


def is_kept(change: WireChange) -> bool:
    """True for a wire that stays as it is."""
    return change.disposition is Disposition.KEEP


def _schedule_row(change: WireChange, plan: Plan, units: str, *, with_reasons: bool) -> ScheduleRow:
    before, after = plan.comparison.before, plan.comparison.after
    wire = change.wire
    configuration = after if isinstance(change, IntoTarget) else before
    length = short_length_words(configuration.runs[wire.id].length_m, units)
    conductor = f"{brief_words(wire, units)} {length}"
    if isinstance(change, Renewed):
        old, new = change.before.insulation.name, wire.insulation.name
        conductor = f"{conductor}, {old} → {new}" if old != new else conductor
    elif isinstance(change, Resized):
        old, _ = sizes_in_turn(change.before.size, wire.size, units)
        conductor = f"{old} → {conductor}"
    if isinstance(change, Resized):
        instead = tag_number(plan.comparison.numbers.old[change.before.id])
        conductor = f"for {instead}: {conductor}"
    return ScheduleRow(
        mark=marks_of(change, plan.comparison),
        action=_action(change, plan),
        style=STYLES[change.disposition],
        ends=ends_words(configuration, wire.ends),
        conductor=conductor,
        reason=reason_words(change.reasons, units) if with_reasons else "",
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
