"""
The way back: a comparison turned round, with what the first job left in the vehicle and in the bag.

It is not a comparison of target and original: that would buy new wires beside the old ones that lie
capped in the loom. Every decision of the first job is undone by its own reverse.
"""

from collections.abc import Iterator

from attrs import evolve

from upgrade_planner.comparison.as_built import as_built, conductor_after
from upgrade_planner.comparison.cut_links import LINK_CUT, is_crimped_link
from upgrade_planner.comparison.differences import wire_differences
from upgrade_planner.comparison.numbers import WireNumbers
from upgrade_planner.comparison.part_changes import (
    PartAdjusted,
    PartChange,
    PartDisposition,
    PartExchanged,
    PartFitted,
    PartRebuilt,
)
from upgrade_planner.comparison.parts import compare_parts
from upgrade_planner.comparison.reasons import STILL_FIT
from upgrade_planner.comparison.results import Comparison, in_order
from upgrade_planner.comparison.why import because
from upgrade_planner.comparison.wire_changes import (
    Added,
    CappedOff,
    Kept,
    Moved,
    Refitted,
    Rejoined,
    Removed,
    Resized,
    WireChange,
)
from upgrade_planner.configuration.conditions import is_spent
from upgrade_planner.configuration.model import Configuration, Wire
from upgrade_planner.configuration.ways import Run


def reversed_comparison(forward: Comparison) -> Comparison:
    """
    What leads back from the vehicle as a job left it to the vehicle as it was.

    Args:
        forward: The comparison behind the job.
    """
    built = as_built(forward)
    changes = [back for change in forward.wires for back in _back(change, forward)]
    return Comparison(
        before=built,
        after=forward.before,
        policy=forward.policy,
        parts=_parts(forward, built),
        wires=in_order(changes),
        spares=forward.capped_wires,
        known_numbers=WireNumbers(old=forward.numbers.new, new=forward.numbers.old),
    )


def is_reusable(run: Run) -> bool:
    """
    True if a wire that was taken out of this run can go in again.

    Out of a taped loom or a connector it comes only by opening the tape or drawing its pins, and
    it is drawn out by its ends: the plan reckons with new cable.
    """
    return not run.in_loom and not run.connectors


def _back(change: WireChange, forward: Comparison) -> Iterator[WireChange]:
    match change:
        case Kept() | Moved():
            yield _stays(change)
        case Resized(before=old, after=new):
            yield Removed(before=new, reasons=(because("makes-way-again"),))
            yield _comes_again(change, old, forward.before)
        case Removed(before=old) | CappedOff(before=old):
            yield _comes_again(change, old, forward.before)
        case _:
            yield Removed(before=change.after, reasons=(because("original-without"),))


def _stays(change: Kept | Moved) -> Kept | Moved:
    now, old = conductor_after(change), change.before
    differences = wire_differences(now, old)
    if isinstance(change, Kept):
        return Kept(before=now, after=old, reasons=(STILL_FIT,), differences=differences)
    reasons = (because("goes-back"),)
    return Moved(before=now, after=old, reasons=reasons, differences=differences)


def _comes_again(
    change: Resized | Removed | CappedOff, old: Wire, original: Configuration
) -> Rejoined | Refitted | Added:
    if change.capped_wire is not None:
        return Rejoined(after=old, reasons=(because("capped-serves-again"),))
    if is_crimped_link(old, original):
        return Added(after=old, reasons=(LINK_CUT,))
    if is_spent(old.condition):
        return Added(after=old, reasons=(because("was-worn-out"),))
    if is_reusable(original.runs[old.id]):
        return Refitted(after=old, reasons=(because("was-kept-whole"),))
    return Added(after=old, reasons=(because("was-drawn-out"),))


def _parts(forward: Comparison, built: Configuration) -> tuple[PartChange, ...]:
    return tuple(
        _part_back(forward.part_by_role[change.role], change)
        for change in compare_parts(built, forward.before)
    )


def _part_back(forward: PartChange, back: PartChange) -> PartChange:
    """The change back; what the job took off comes out of the bag."""
    code = _PARTS_BACK.get(forward.disposition)
    reasons = (because(code),) if code else back.reasons
    if isinstance(forward, PartRebuilt) and isinstance(back, PartExchanged):
        return PartRebuilt(
            before=back.before,
            after=back.after,
            reasons=reasons,
            differences=back.differences,
            gets=forward.leaves,
            leaves=forward.gets,
            from_bag=True,
        )
    if isinstance(back, PartFitted | PartExchanged | PartAdjusted):
        return evolve(back, reasons=reasons, from_bag=True)
    return evolve(back, reasons=reasons)


_PARTS_BACK = {
    PartDisposition.KEEP: "same-part",
    PartDisposition.ADD: "came-with-upgrade",
    PartDisposition.REMOVE: "was-kept",
    PartDisposition.REPLACE: "old-part-was-kept",
    PartDisposition.RELOCATE: "part-goes-back",
    PartDisposition.ADJUST: "old-fuses-were-kept",
    PartDisposition.REBUILD: "old-insides-were-kept",
}
"""Why a part fares as it does on the way back, by what the job did to it."""
