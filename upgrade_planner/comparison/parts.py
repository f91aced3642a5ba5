"""Pairs components by role and says what happens to each."""

from upgrade_planner.comparison.differences import part_differences
from upgrade_planner.comparison.results import Difference, PartChange, PartDisposition
from upgrade_planner.configuration.model import Component, Configuration
from upgrade_planner.configuration.registry import kinds

_ADJUSTABLE = ("fuse_box", "fuse")
"""Kinds whose ratings change by putting in another fuse, not another part."""


def compare_parts(before: Configuration, after: Configuration) -> tuple[PartChange, ...]:
    """What happens to every component of either configuration, by role."""
    roles = sorted({*before.component_by_role, *after.component_by_role})
    return tuple(
        _part_change(role, before.component_by_role.get(role), after.component_by_role.get(role))
        for role in roles
    )


def _part_change(role: str, old: Component | None, new: Component | None) -> PartChange:
    differences: tuple[Difference, ...] = ()
    if old is None:
        disposition, reason = PartDisposition.ADD, "The target has it, the vehicle has not."
    elif new is None:
        disposition, reason = PartDisposition.REMOVE, "The target does without it."
    else:
        differences = part_differences(old, new)
        disposition, reason = _pair_change(old, new, differences)
    return PartChange(
        disposition=disposition,
        role=role,
        before=old,
        after=new,
        reason=reason,
        differences=differences,
    )


def _pair_change(
    old: Component, new: Component, differences: tuple[Difference, ...]
) -> tuple[PartDisposition, str]:
    attributes = {difference.attribute for difference in differences}
    if not attributes:
        return PartDisposition.KEEP, "The same part serves."
    if attributes == {"place"}:
        return PartDisposition.RELOCATE, "The same part sits elsewhere in the target."
    if old.kind == new.kind in _ADJUSTABLE and all(name[:6] == "rating" for name in attributes):
        return PartDisposition.ADJUST, "The same part takes fuses of other ratings."
    if old.kind != new.kind:
        words = f"{_words(old)} gives way to {_words(new)}"
        return PartDisposition.REPLACE, words[0].upper() + words[1:] + "."
    changed = "; ".join(str(difference) for difference in differences)
    return PartDisposition.REPLACE, f"Another part of the same kind: {changed}."


def _words(part: Component) -> str:
    return kinds()[part.kind].words
