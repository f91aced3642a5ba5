"""Compares two configurations: what happens to each part and each wire, with its reason."""

from upgrade_planner.comparison.connector_room import with_own_room
from upgrade_planner.comparison.differences import wire_differences
from upgrade_planner.comparison.pairing import Bond, Pair, pair_wires
from upgrade_planner.comparison.parts import compare_parts
from upgrade_planner.comparison.reasons import (
    add_reason,
    is_earlier_addition,
    keep_reason,
    move_reason,
    removal_reason,
    resize_reason,
)
from upgrade_planner.comparison.results import Comparison, Policy, in_order
from upgrade_planner.comparison.reuse import shortfalls
from upgrade_planner.comparison.wire_changes import (
    Added,
    CappedOff,
    Kept,
    Moved,
    Removed,
    Resized,
    WireChange,
)
from upgrade_planner.configuration.model import Configuration, Wire
from upgrade_planner.configuration.ways import Run
from upgrade_planner.errors import PlannerError


class DifferentVehicles(PlannerError):
    """The two configurations do not belong to the same vehicle."""


def compare(
    before: Configuration, after: Configuration, policy: Policy = Policy.REVERSIBLE
) -> Comparison:
    """
    Everything that differs between two configurations of one vehicle.

    Args:
        before: What is in the vehicle now.
        after: What it shall become.
        policy: `reversible` caps off unused wires that lie in taped looms or connectors;
            `clean` takes every unused wire out.

    Raises:
        DifferentVehicles: the two are not based on the same vehicle profile.
    """
    if before.vehicle.name != after.vehicle.name:
        raise DifferentVehicles(
            f"found '{before.name}' for the vehicle '{before.vehicle.name}' and '{after.name}' "
            f"for the vehicle '{after.vehicle.name}'; expected two configurations of one vehicle"
        )
    pairing = pair_wires(before, after)
    changes: list[WireChange] = [_paired(p, before, after, policy) for p in pairing.pairs]
    changes += [_unused(wire, before, after, policy) for wire in pairing.unused]
    changes += [_missing(wire, after) for wire in pairing.missing]
    comparison = Comparison(
        before=before,
        after=after,
        policy=policy,
        parts=compare_parts(before, after),
        wires=in_order(changes),
    )
    return with_own_room(comparison)


def _paired(
    pair: Pair, before: Configuration, after: Configuration, policy: Policy
) -> Kept | Moved | Resized:
    old, new = pair.before, pair.after
    differences = wire_differences(old, new)
    if pair.bond is not Bond.SAME_ENDS:
        reason = GROUND_MOVE if _changes_post(old, new) else move_reason(old, new)
        return Moved(before=old, after=new, reason=reason, differences=differences)
    if not shortfalls(old, new):
        reason = keep_reason(old, new, differences)
        return Kept(before=old, after=new, reason=reason, differences=differences)
    stays = _should_stay(before.runs[old.id], policy)
    reason = resize_reason(old, new, after)
    return Resized(
        before=old,
        after=new,
        reason=reason + (" The old one stays in its loom, capped off." if stays else ""),
        differences=differences,
        old_stays=stays,
    )


GROUND_MOVE = "The ground changes over: the same conductor goes to the other terminal."


def _changes_post(old: Wire, new: Wire) -> bool:
    """True if a wire goes from one post to the other of the same battery, coil or unit."""
    moved = old.joins ^ new.joins
    return {end.terminal for end in moved} == {"positive", "negative"} and all(
        sum(end.role == role for end in moved) == 2 for role in {end.role for end in moved}
    )


def _should_stay(run: Run, policy: Policy) -> bool:
    """Taking it out would open a taped loom or a connector cavity."""
    return policy is Policy.REVERSIBLE and (run.in_loom or bool(run.connectors))


def _unused(
    wire: Wire, before: Configuration, after: Configuration, policy: Policy
) -> Removed | CappedOff:
    run = before.runs[wire.id]
    reason = removal_reason(wire, before, after)
    if _should_stay(run, policy) and not is_earlier_addition(wire):
        where = " and ".join(_hard_to_leave(run))
        reason += f" It lies in {where}: it stays, dead and insulated."
        return CappedOff(before=wire, reason=reason)
    reason += " It comes out of its loom." if run.in_loom else ""
    return Removed(before=wire, reason=reason)


def _hard_to_leave(run: Run) -> list[str]:
    found = ["a taped loom"] if run.in_loom else []
    return found + [f"the {role.replace('_', ' ')}" for role in run.connectors]


def _missing(wire: Wire, after: Configuration) -> Added:
    return Added(after=wire, reason=add_reason(wire, after.runs[wire.id], after))
