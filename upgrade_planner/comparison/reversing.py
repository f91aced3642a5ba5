"""
The way back: a comparison turned round, with what the first job left in the vehicle and in the bag.

It is not a comparison of target and original: that would buy new wires beside the old ones that lie
capped in the loom. Every decision of the first job is undone by its own reverse.
"""

from collections.abc import Iterator

from attrs import evolve

from upgrade_planner.comparison.as_built import as_built, capped_wires, conductor_after
from upgrade_planner.comparison.differences import wire_differences
from upgrade_planner.comparison.parts import compare_parts
from upgrade_planner.comparison.reasons import PLAIN_KEEP
from upgrade_planner.comparison.results import (
    Comparison,
    Disposition,
    PartChange,
    PartDisposition,
    WireChange,
)
from upgrade_planner.configuration.model import Configuration, Run, Wire

_BAGGED = (PartDisposition.REMOVE, PartDisposition.REPLACE, PartDisposition.ADJUST)


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
        wires=tuple(sorted(changes, key=lambda c: (c.wire.circuit, c.mark, c.disposition))),
        spares=capped_wires(forward),
    )


def is_reusable(run: Run) -> bool:
    """
    True if a wire that was taken out of this run can go in again.

    Out of a taped loom or a connector it comes only by opening the tape or drawing its pins, and
    it is drawn out by its ends: the plan reckons with new cable.
    """
    return not run.in_loom and not run.connectors


def _back(change: WireChange, forward: Comparison) -> Iterator[WireChange]:
    old, new = change.before, change.after
    if change.disposition in (Disposition.KEEP, Disposition.MOVE):
        assert old is not None
        yield _stays(change, old)
        return
    if new is not None:
        yield WireChange(
            disposition=Disposition.REMOVE,
            before=new,
            after=None,
            reason="It came with the upgrade; its end must be off before the old wire goes on."
            if old is not None
            else "It came with the upgrade: the original has no such wire.",
        )
    if old is not None:
        yield _comes_again(change, old, forward.before)


def _stays(change: WireChange, old: Wire) -> WireChange:
    now = conductor_after(change)
    moved = change.disposition is Disposition.MOVE
    return WireChange(
        disposition=change.disposition,
        before=now,
        after=old,
        reason="The same conductor goes back to where it was." if moved else PLAIN_KEEP,
        differences=wire_differences(now, old),
    )


def _comes_again(change: WireChange, old: Wire, original: Configuration) -> WireChange:
    if change.disposition is Disposition.CAP_OFF or change.old_stays:
        disposition = Disposition.REJOIN
        reason = "It lies in its loom, capped at both ends: it serves again."
    elif is_reusable(original.runs[old.id]):
        disposition = Disposition.REFIT
        reason = "It came out whole and was kept."
    else:
        disposition = Disposition.ADD
        reason = (
            "The old one was drawn out of a taped loom or a connector: new cable of the same size "
            "and colour. If the old one is whole, use it."
        )
    return WireChange(disposition=disposition, before=None, after=old, reason=reason)


def _parts(forward: Comparison, built: Configuration) -> tuple[PartChange, ...]:
    before = forward.part_by_role
    return tuple(
        evolve(
            change,
            from_bag=before[change.role].disposition in _BAGGED,
            reason=_part_reason(before[change.role], change),
        )
        for change in compare_parts(built, forward.before)
    )


def _part_reason(forward: PartChange, back: PartChange) -> str:
    reasons = {
        PartDisposition.KEEP: "The same part serves.",
        PartDisposition.ADD: "It came with the upgrade.",
        PartDisposition.REMOVE: "It came off and was kept.",
        PartDisposition.REPLACE: "The part that was there came off and was kept.",
        PartDisposition.RELOCATE: "The same part goes back to where it sat.",
        PartDisposition.ADJUST: "The old fuses were kept.",
    }
    return reasons.get(forward.disposition, back.reason)
