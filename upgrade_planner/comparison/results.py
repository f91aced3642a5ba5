"""What a comparison says of each part and each wire: plain values, no decisions left open."""

from collections.abc import Mapping
from enum import StrEnum
from functools import cached_property

from attrs import frozen

from upgrade_planner.comparison.converting import Treatment
from upgrade_planner.configuration.model import Component, Configuration, Wire


class Disposition(StrEnum):
    """What happens to a wire."""

    KEEP = "keep"
    REMOVE = "remove"
    ADD = "add"
    RESIZE = "resize"
    MOVE = "move"
    CAP_OFF = "cap off"
    REFIT = "refit"
    REJOIN = "rejoin"


ON_THE_WAY_BACK = (Disposition.REFIT, Disposition.REJOIN)
"""Dispositions that occur on a way back only: an old wire comes out of the bag, or a capped one
is joined again."""


class PartDisposition(StrEnum):
    """What happens to a component."""

    KEEP = "keep"
    REMOVE = "remove"
    ADD = "add"
    REPLACE = "replace"
    RELOCATE = "relocate"
    ADJUST = "adjust"
    CONVERT = "convert"


class Policy(StrEnum):
    """How much of the original stays in the vehicle."""

    REVERSIBLE = "reversible"
    CLEAN = "clean"


@frozen(order=True)
class Difference:
    """One attribute that differs, in words."""

    attribute: str
    before: str
    after: str

    def __str__(self) -> str:
        """`size: 12 SAE → 8 SAE`."""
        return f"{self.attribute}: {self.before or '–'} → {self.after or '–'}"


@frozen(kw_only=True)
class WireChange:
    """
    What happens to one wire, and why.

    Attributes:
        before: The wire as it is now; None if it is added.
        after: The wire as it shall be; None if it is removed or capped off.
        reason: One or two sentences that the work sheet prints.
        differences: Attributes that differ between before and after.
        old_stays: True if a resized wire's old conductor stays in its loom, capped off.
    """

    disposition: Disposition
    before: Wire | None
    after: Wire | None
    reason: str
    differences: tuple[Difference, ...] = ()
    old_stays: bool = False

    @property
    def wire(self) -> Wire:
        """The wire it is about: as it shall be, else as it is now."""
        wire = self.after or self.before
        assert wire is not None
        return wire

    @property
    def mark(self) -> str:
        """The name on the tag: that of the wire which is in the vehicle while one works."""
        if self.disposition in (Disposition.KEEP, Disposition.MOVE) and self.before:
            return self.before.id
        return self.wire.id


@frozen(kw_only=True)
class PartChange:
    """
    What happens to one component, and why.

    Attributes:
        from_bag: True if the part that is fitted came off earlier and was kept.
        treatments: What a change of ground or voltage asks of a part that stays.
    """

    disposition: PartDisposition
    role: str
    before: Component | None
    after: Component | None
    reason: str
    differences: tuple[Difference, ...] = ()
    from_bag: bool = False
    treatments: tuple[Treatment, ...] = ()

    @property
    def part(self) -> Component:
        """The component as it shall be, else as it is now."""
        part = self.after or self.before
        assert part is not None
        return part


@frozen(kw_only=True, eq=False)
class Comparison:
    """
    Two configurations and everything that differs, sorted by role and by wire.

    Attributes:
        spares: Dead wires that an earlier job left in the vehicle, capped at both ends.
    """

    before: Configuration
    after: Configuration
    policy: Policy
    parts: tuple[PartChange, ...]
    wires: tuple[WireChange, ...]
    spares: tuple[Wire, ...] = ()

    @cached_property
    def part_by_role(self) -> Mapping[str, PartChange]:
        """Part changes by role."""
        return {change.role: change for change in self.parts}

    def count(self, disposition: Disposition) -> int:
        """How many wires have that disposition."""
        return sum(change.disposition is disposition for change in self.wires)

    @property
    def is_empty(self) -> bool:
        """True if nothing at all has to be done."""
        wires = all(change.disposition is Disposition.KEEP for change in self.wires)
        return wires and all(part.disposition is PartDisposition.KEEP for part in self.parts)
