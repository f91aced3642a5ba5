"""What changes, in one table at the head of a work sheet."""

from collections.abc import Iterable

from upgrade_planner.comparison.part_changes import PartConverted, PartKept
from upgrade_planner.documents.words.reasons import reason_words
from upgrade_planner.documents.words.wording import role_words, voltage_words
from upgrade_planner.documents.worksheet.views import (
    SummaryRow,
)
from upgrade_planner.planning.plan import Plan


def summary_rows(plan: Plan) -> Iterable[SummaryRow]:
    """Ground, voltage and systems that change: before, after."""
    before, after = plan.comparison.before, plan.comparison.after
    if before.vehicle.ground != after.vehicle.ground:
        now, then = before.vehicle.ground, after.vehicle.ground
        yield SummaryRow(subject="grounded post", before=now, after=then)
    if before.vehicle.voltage_v != after.vehicle.voltage_v:
        old, new = voltage_words(before, before), voltage_words(after, after)
        yield SummaryRow(subject="system voltage", before=old, after=new)
    for slot in sorted({*before.system_titles, *after.system_titles}):
        old = before.system_titles.get(slot, "none")
        new = after.system_titles.get(slot, "none")
        if old != new:
            yield SummaryRow(subject=role_words(slot), before=old, after=new)


def conversion_rows(plan: Plan, units: str) -> Iterable[SummaryRow]:
    """
    Every part that stays, with what the new ground or voltage asks of it; work first.

    Parts of which the same is said share a row.
    """
    for fate, words in (
        (PartConverted, "changed over"),
        (PartKept, "stays"),
    ):
        names: dict[str, list[str]] = {}
        for change in plan.comparison.parts:
            if isinstance(change, fate) and change.treatments:
                names.setdefault(reason_words(change.reasons, units), []).append(change.part.name)
        for why, parts in names.items():
            yield SummaryRow(subject="; ".join(parts), before=words, after=why)
