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
    PartRebuilt,
    PartRelocated,
    PartTakenOut,
)
from upgrade_planner.comparison.reasons import in_target
from upgrade_planner.comparison.why import Attribute, Reason, Reasons, because
from upgrade_planner.configuration.conditions import (
    Condition,
    is_spent,
)
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import Component, Configuration


def compare_parts(before: Configuration, after: Configuration) -> tuple[PartChange, ...]:
    """What happens to every component of either configuration, by role."""
    roles = sorted({*before.component_by_role, *after.component_by_role})
    changes = [_part_change(role, before, after) for role in roles]
    converted = conversions(before, after)
    return tuple(_converted(change, converted, before, after) for change in changes)


def _converted(
    change: PartChange, converted: tuple[str, ...], before: Configuration, after: Configuration
) -> PartChange:
    """The change with what a new ground or voltage asks of a part that stays."""
    if not converted or not isinstance(change, PartKept):
        return change
    found = treatments(change.part, converted, before, after)
    if not found:
        return change
    reasons = tuple(treatment.reason for treatment in found)
    if any(treatment.is_work for treatment in found):
        return PartConverted(
            before=change.before, after=change.after, reasons=reasons, treatments=found
        )
    return evolve(change, reasons=reasons, treatments=found)


def _part_change(role: str, before: Configuration, after: Configuration) -> PartChange:
    old, new = before.component_by_role.get(role), after.component_by_role.get(role)
    if new is None:
        old = before.component(role)
        return PartTakenOut(before=old, reasons=(_gone_reason(old, before),))
    if old is None:
        return PartFitted(after=new, reasons=_new_reasons(new, before, after))
    return _pair_change(old, new)


def _gone_reason(part: Component, before: Configuration) -> Reason:
    system = before.system_titles.get(part.slot)
    if system is None:
        return because("target-without")
    return because("belonged-to", system=system)


def _new_reasons(part: Component, before: Configuration, after: Configuration) -> Reasons:
    reason = in_target(part.slot, after)
    yielding = [
        old
        for old in before.components
        if old.slot == part.slot
        and old.place == part.place
        and part.can(Capability.CHARGES)
        and old.can(Capability.CHARGES)
        and old.role not in after.component_by_role
    ]
    if yielding and part.slot in after.system_titles:
        return (reason, because("gives-way-there", old=yielding[0].kind))
    return (reason,)


def _takes_fuses(part: Component) -> bool:
    """True if its ratings change by putting in another fuse, not another part."""
    return part.family is Family.PROTECTION and not part.can(Capability.RESETS)


def _pair_change(old: Component, new: Component) -> PartChange:
    differences = part_differences(old, new)
    attributes = {difference.attribute for difference in differences}
    if not differences and Condition.RENEW in old.condition:
        found = tuple(str(condition) for condition in old.condition)
        why = because("found-worn", conditions=found)
        return PartExchanged(before=old, after=new, reasons=(why,), differences=())
    if not attributes:
        return PartKept(before=old, after=new, reasons=(because("same-part"),))
    if old.kind in new.rebuilt_of and old.place == new.place and not is_spent(old.condition):
        return PartRebuilt(
            before=old,
            after=new,
            reasons=(because("other-insides", old=old.kind),),
            differences=differences,
            gets=new.rebuilt_with,
            leaves=new.rebuilt_leaves,
        )
    if attributes == {Attribute.PLACE}:
        why = because("sits-elsewhere")
        return PartRelocated(before=old, after=new, reasons=(why,), differences=differences)
    if attributes == {Attribute.RATING} and _takes_fuses(new):
        why = because("other-fuses")
        return PartAdjusted(before=old, after=new, reasons=(why,), differences=differences)
    if old.kind != new.kind:
        why = because("kind-gives-way", old=old.kind, new=new.kind)
    else:
        why = because("other-of-same-kind", differences=differences)
    return PartExchanged(before=old, after=new, reasons=(why,), differences=differences)
