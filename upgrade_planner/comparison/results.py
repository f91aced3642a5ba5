"""What a comparison says of each part and each wire: plain values, no decisions left open."""

from collections.abc import Iterable, Mapping
from enum import StrEnum
from functools import cached_property

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.numbers import WireNumbers, conductor_numbers
from upgrade_planner.comparison.part_changes import PartChange, PartKept
from upgrade_planner.comparison.wire_changes import Disposition, Kept, WireChange
from upgrade_planner.configuration.model import Configuration, Wire


class Policy(StrEnum):
    """How much of the original stays in the vehicle."""

    REVERSIBLE = "reversible"
    CLEAN = "clean"


@frozen(kw_only=True, eq=False)
class Comparison:
    """
    Two configurations and everything that differs, sorted by role and by wire.

    Attributes:
        spares: Dead wires that an earlier job left in the vehicle, capped at both ends.
        known_numbers: Numbers that an earlier job gave; see `numbers`.
    """

    before: Configuration
    after: Configuration
    policy: Policy
    parts: tuple[PartChange, ...]
    wires: tuple[WireChange, ...]
    spares: tuple[Wire, ...] = ()
    known_numbers: WireNumbers | None = None

    @cached_property
    def numbers(self) -> WireNumbers:
        """The number of each conductor, through all papers of the job."""
        return conductor_numbers(self.before.wires, self.wires, self.known_numbers)

    @cached_property
    def part_by_role(self) -> Mapping[str, PartChange]:
        """Part changes by role."""
        return {change.role: change for change in self.parts}

    def count(self, disposition: Disposition) -> int:
        """How many wires have that disposition."""
        return sum(change.disposition is disposition for change in self.wires)

    @property
    def capped_wires(self) -> tuple[Wire, ...]:
        """Conductors that the job leaves in the vehicle, dead and capped at both ends."""
        return tuple(c.capped_wire for c in self.wires if c.capped_wire is not None)

    @property
    def is_empty(self) -> bool:
        """True if nothing at all has to be done."""
        wires = all(isinstance(c, Kept) and not c.before.condition for c in self.wires)
        return wires and all(isinstance(c, PartKept) and not c.before.condition for c in self.parts)


def in_order(changes: Iterable[WireChange]) -> tuple[WireChange, ...]:
    """Changes by circuit, then by the name on the tag, then by what happens."""
    return tuple(sorted(changes, key=lambda c: (c.wire.circuit, c.mark, c.disposition)))
