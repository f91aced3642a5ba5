"""Compares two configurations: what happens to each part and each wire, with its reason."""

from upgrade_planner.comparison.connector_room import with_own_room
from upgrade_planner.comparison.cut_links import with_new_links
from upgrade_planner.comparison.differences import wire_differences
from upgrade_planner.comparison.pairing import Bond, Pair, pair_wires
from upgrade_planner.comparison.parts import compare_parts
from upgrade_planner.comparison.reasons import (
    OLD_STAYS,
    add_reasons,
    dead_wire_reason,
    is_earlier_addition,
    is_earlier_work,
    keep_reasons,
    move_reasons,
    removal_reasons,
    resize_reasons,
)
from upgrade_planner.comparison.results import Comparison, Policy, in_order
from upgrade_planner.comparison.reuse import is_same_copper, shortfalls
from upgrade_planner.comparison.why import because
from upgrade_planner.comparison.wire_changes import (
    Added,
    CappedOff,
    Kept,
    Moved,
    Removed,
    Renewed,
    Resized,
    WireChange,
)
from upgrade_planner.configuration.conditions import Condition
from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.configuration.model import Configuration, Wire
from upgrade_planner.configuration.ways import Run
from upgrade_planner.errors import PlannerError, printable


class DifferentVehicles(PlannerError):
    """The two configurations do not belong to the same vehicle."""


def _named(configuration: Configuration) -> str:
    """A configuration, and the file of one that is not shipped, with its vehicle."""
    shipped = {str(path) for path in shipped_profiles("configuration").values()}
    file = "" if configuration.file in shipped else f" ({configuration.file})"
    vehicle = f"for the vehicle '{configuration.vehicle.name}'"
    return printable(f"'{configuration.name}'{file} {vehicle}")


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
            f"found {_named(before)} and {_named(after)}; "
            "expected two configurations of one vehicle"
        )
    pairing = pair_wires(before, after)
    changes: list[WireChange] = [_paired(p, before, after, policy) for p in pairing.pairs]
    changes += [_unused(wire, before, after, policy) for wire in pairing.unused]
    changes += [_missing(wire, after) for wire in pairing.missing]
    changes = with_new_links(changes, before)
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
        reasons = move_reasons(old, new)
        return Moved(before=old, after=new, reasons=reasons, differences=differences)
    if not shortfalls(old, new):
        reasons = keep_reasons(old, new, differences)
        return Kept(before=old, after=new, reasons=reasons, differences=differences)
    stays = _should_stay(old, before.runs[old.id], policy)
    fate = Renewed if is_same_copper(old, new) else Resized
    return fate(
        before=old,
        after=new,
        reasons=resize_reasons(old, new, after) + ((OLD_STAYS,) if stays else ()),
        differences=differences,
        old_stays=stays,
    )


def _should_stay(wire: Wire, run: Run, policy: Policy) -> bool:
    """
    Taking it out would open a taped loom or a connector cavity, and its way is known.

    A burnt wire comes out all the same: its heat went into its neighbours.
    """
    if policy is not Policy.REVERSIBLE or Condition.BURNT in wire.condition or wire.altered:
        return False
    return run.in_loom or bool(run.connectors)


def _unused(
    wire: Wire, before: Configuration, after: Configuration, policy: Policy
) -> Removed | CappedOff:
    run = before.runs[wire.id]
    reasons = removal_reasons(wire, before, after)
    if _should_stay(wire, run, policy) and not is_earlier_addition(wire):
        return CappedOff(before=wire, reasons=(*reasons, dead_wire_reason(run)))
    if is_earlier_work(wire):
        return Removed(before=wire, reasons=(*reasons, because("way-unknown")))
    out = (because("out-of-loom"),) if run.in_loom else ()
    return Removed(before=wire, reasons=reasons + out)


def _missing(wire: Wire, after: Configuration) -> Added:
    return Added(after=wire, reasons=add_reasons(wire, after))
