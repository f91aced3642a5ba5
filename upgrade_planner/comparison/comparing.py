"""Compares two configurations: what happens to each part and each wire, with its reason."""

from collections import Counter
from collections.abc import Iterable

from attrs import evolve

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
from upgrade_planner.comparison.results import Comparison, Disposition, Policy, WireChange
from upgrade_planner.comparison.reuse import shortfalls
from upgrade_planner.configuration.model import Configuration, Run, Wire
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
    changes = [_paired(pair, before, after, policy) for pair in pairing.pairs]
    changes += [_unused(wire, before, after, policy) for wire in pairing.unused]
    changes += [_missing(wire, after) for wire in pairing.missing]
    changes = _free_cavities(changes, before, after)
    return Comparison(
        before=before,
        after=after,
        policy=policy,
        parts=compare_parts(before, after),
        wires=tuple(sorted(changes, key=lambda c: (c.wire.circuit, c.mark, c.disposition))),
    )


def _paired(pair: Pair, before: Configuration, after: Configuration, policy: Policy) -> WireChange:
    old, new = pair.before, pair.after
    differences = wire_differences(old, new)
    if pair.bond is not Bond.SAME_ENDS:
        reason = GROUND_MOVE if _changes_post(old, new) else move_reason(old, new)
        disposition = Disposition.MOVE
    elif shortfalls(old, new):
        disposition, reason = Disposition.RESIZE, resize_reason(old, new, after)
    else:
        disposition, reason = Disposition.KEEP, keep_reason(old, new, differences)
    stays = disposition is Disposition.RESIZE and _should_stay(before.runs[old.id], policy)
    return WireChange(
        disposition=disposition,
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


def _unused(wire: Wire, before: Configuration, after: Configuration, policy: Policy) -> WireChange:
    run = before.runs[wire.id]
    reason = removal_reason(wire, before, after)
    if _should_stay(run, policy) and not is_earlier_addition(wire):
        where = " and ".join(_hard_to_leave(run))
        disposition = Disposition.CAP_OFF
        reason += f" It lies in {where}: it stays, dead and insulated."
    else:
        disposition = Disposition.REMOVE
        reason += " It comes out of its loom." if run.in_loom else ""
    return WireChange(disposition=disposition, before=wire, after=None, reason=reason)


def _hard_to_leave(run: Run) -> list[str]:
    found = ["a taped loom"] if run.in_loom else []
    return found + [f"the {role.replace('_', ' ')}" for role in run.connectors]


def _missing(wire: Wire, after: Configuration) -> WireChange:
    reason = add_reason(wire, after.runs[wire.id], after)
    return WireChange(disposition=Disposition.ADD, before=None, after=wire, reason=reason)


def _free_cavities(
    changes: list[WireChange], before: Configuration, after: Configuration
) -> list[WireChange]:
    """Takes wires out that were to stay capped, where a connector has no cavity to spare."""
    for connector in (part for part in after.components if part.kind == "connector"):
        while _occupied(changes, before, after)[connector.role] > connector.ratings["cavities"]:
            staying = [c for c in changes if _holds_dead_cavity(c, connector.role, before)]
            if not staying:
                break  # too many live wires: a finding, not a matter of policy
            first = min(staying, key=lambda c: (c.wire.circuit, c.mark))
            changes = [_taken_out(c, connector.role) if c is first else c for c in changes]
    return changes


def _occupied(
    changes: Iterable[WireChange], before: Configuration, after: Configuration
) -> Counter[str]:
    cavities: Counter[str] = Counter()
    for change in changes:
        if change.after is not None:
            run = after.runs[change.after.id]
            cavities.update(run.connectors)
        if change.before is not None and _stays_capped(change):
            cavities.update(before.runs[change.before.id].connectors)
    return cavities


def _stays_capped(change: WireChange) -> bool:
    return change.disposition is Disposition.CAP_OFF or change.old_stays


def _holds_dead_cavity(change: WireChange, connector: str, before: Configuration) -> bool:
    old = change.before
    return old is not None and _stays_capped(change) and connector in before.runs[old.id].connectors


def _taken_out(change: WireChange, connector: str) -> WireChange:
    reason = change.reason.split(" It lies in ")[0].split(" The old one stays")[0]
    reason += f" Its cavity in the {connector.replace('_', ' ')} is needed: it comes out."
    if change.disposition is Disposition.CAP_OFF:
        return evolve(change, disposition=Disposition.REMOVE, reason=reason)
    return evolve(change, old_stays=False, reason=reason)
