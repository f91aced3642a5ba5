"""Pairs components by role and says what happens to each."""

from attrs import evolve

from upgrade_planner.comparison.converting import conversions, treatments
from upgrade_planner.comparison.differences import part_differences
from upgrade_planner.comparison.part_changes import (
    PartAdjusted,
    PartChange,
    PartConverted,
    PartExchanged,
    PartFitted,
    PartKept,
    PartRelocated,
    PartTakenOut,
)
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import Component, Configuration


def compare_parts(before: Configuration, after: Configuration) -> tuple[PartChange, ...]:
    """What happens to every component of either configuration, by role."""
    roles = sorted({*before.component_by_role, *after.component_by_role})
    changes = [_part_change(role, before, after) for role in roles]
    converted = conversions(before, after)
    return tuple(_converted(change, converted, after) for change in changes)


def _converted(change: PartChange, converted: tuple[str, ...], after: Configuration) -> PartChange:
    """The change with what a new ground or voltage asks of a part that stays."""
    if not converted or not isinstance(change, PartKept):
        return change
    found = treatments(change.part, converted, after)
    if not found:
        return change
    reason = " ".join(treatment.reason for treatment in found)
    if any(treatment.is_work for treatment in found):
        return PartConverted(
            before=change.before, after=change.after, reason=reason, treatments=found
        )
    return evolve(change, reason=reason, treatments=found)


def _part_change(role: str, before: Configuration, after: Configuration) -> PartChange:
    old, new = before.component_by_role.get(role), after.component_by_role.get(role)
    if new is None:
        old = before.component(role)
        return PartTakenOut(before=old, reason=_gone_reason(old, before))
    if old is None:
        return PartFitted(after=new, reason=_new_reason(new, before, after))
    return _pair_change(old, new)


def _gone_reason(part: Component, before: Configuration) -> str:
    system = before.system_titles.get(part.slot)
    if system is None:
        return "The target does without it."
    return f"It belonged to: {system[:1].lower()}{system[1:]}."


def _new_reason(part: Component, before: Configuration, after: Configuration) -> str:
    system = after.system_titles.get(part.slot)
    if system is None:
        return "The target has it, the vehicle has not."
    reason = f"It belongs to: {system[:1].lower()}{system[1:]}."
    yielding = [
        old
        for old in before.components
        if old.slot == part.slot
        and old.place == part.place
        and part.can(Capability.CHARGES)
        and old.can(Capability.CHARGES)
        and old.role not in after.component_by_role
    ]
    if yielding:
        reason += f" The {yielding[0].words} gives way to it at the same place."
    return reason


def _takes_fuses(part: Component) -> bool:
    """True if its ratings change by putting in another fuse, not another part."""
    return part.family is Family.PROTECTION and not part.can(Capability.RESETS)


def _pair_change(old: Component, new: Component) -> PartChange:
    differences = part_differences(old, new)
    attributes = {difference.attribute for difference in differences}
    if not attributes:
        return PartKept(before=old, after=new, reason="The same part serves.")
    if attributes == {"place"}:
        reason = "The same part sits elsewhere in the target."
        return PartRelocated(before=old, after=new, reason=reason, differences=differences)
    if (
        old.kind == new.kind
        and _takes_fuses(new)
        and all(name[:6] == "rating" for name in attributes)
    ):
        reason = "The same part takes fuses of other ratings."
        return PartAdjusted(before=old, after=new, reason=reason, differences=differences)
    if old.kind != new.kind:
        words = f"{old.words} gives way to {new.words}"
        reason = words[0].upper() + words[1:] + "."
    else:
        changed = "; ".join(str(item).removeprefix("rating ") for item in differences)
        reason = f"Another part of the same kind: {changed}."
    return PartExchanged(before=old, after=new, reason=reason, differences=differences)
