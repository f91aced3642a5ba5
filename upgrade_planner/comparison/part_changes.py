"""What happens to one component: a union of plain values, each with the fields that it has."""

from enum import StrEnum
from typing import ClassVar

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.converting import Treatment
from upgrade_planner.comparison.why import Difference, Reasons
from upgrade_planner.configuration.model import Component


class PartDisposition(StrEnum):
    """What happens to a component, as one word."""

    KEEP = "keep"
    REMOVE = "remove"
    ADD = "add"
    REPLACE = "replace"
    RELOCATE = "relocate"
    ADJUST = "adjust"
    CONVERT = "convert"
    REBUILD = "rebuild"


@frozen(kw_only=True)
class _PartFate:
    """Why it happens."""

    disposition: ClassVar[PartDisposition]
    reasons: Reasons


@frozen(kw_only=True)
class _OfOldPart(_PartFate):
    """A component that the target does not have."""

    before: Component

    @property
    def part(self) -> Component:
        """The component as it is now."""
        return self.before

    @property
    def role(self) -> str:
        """What it is in the vehicle."""
        return self.before.role


@frozen(kw_only=True)
class _OfNewPart(_PartFate):
    """A component of the target, whatever is there now."""

    after: Component

    @property
    def part(self) -> Component:
        """The component as it shall be."""
        return self.after

    @property
    def role(self) -> str:
        """What it is in the vehicle."""
        return self.after.role


@frozen(kw_only=True)
class _OfBothParts(_OfNewPart):
    """A component, and what has its role now."""

    before: Component


@frozen(kw_only=True)
class PartKept(_OfBothParts):
    """
    The same part serves, as it is.

    Attributes:
        treatments: Why a change of ground or voltage asks nothing of it.
    """

    disposition = PartDisposition.KEEP
    treatments: tuple[Treatment, ...] = ()


@frozen(kw_only=True)
class PartConverted(_OfBothParts):
    """The same part is made fit for another ground or voltage, by the treatments named."""

    disposition = PartDisposition.CONVERT
    treatments: tuple[Treatment, ...]


@frozen(kw_only=True)
class PartTakenOut(_OfOldPart):
    """The part comes off, and nothing takes over its role."""

    disposition = PartDisposition.REMOVE


@frozen(kw_only=True)
class PartFitted(_OfNewPart):
    """A part comes on where nothing had its role; `from_bag` if it came off earlier."""

    disposition = PartDisposition.ADD
    from_bag: bool = False


@frozen(kw_only=True)
class PartExchanged(_OfBothParts):
    """Another part takes over the role; `from_bag` if it is one that came off earlier."""

    disposition = PartDisposition.REPLACE
    differences: tuple[Difference, ...]
    from_bag: bool = False


@frozen(kw_only=True)
class PartRelocated(_OfBothParts):
    """The same part goes to another place."""

    disposition = PartDisposition.RELOCATE
    differences: tuple[Difference, ...]


@frozen(kw_only=True)
class PartAdjusted(_OfBothParts):
    """The same part takes fuses of other ratings; `from_bag` if they were in it before."""

    disposition = PartDisposition.ADJUST
    differences: tuple[Difference, ...]
    from_bag: bool = False


@frozen(kw_only=True)
class PartRebuilt(_OfBothParts):
    """
    The same part stays and gets other insides; `from_bag` if they were in it before.

    Attributes:
        gets: What is put in; "" if nothing is.
        leaves: What comes out of it; "" if nothing does.
    """

    disposition = PartDisposition.REBUILD
    differences: tuple[Difference, ...]
    gets: str
    leaves: str
    from_bag: bool = False


PartComes = PartFitted | PartExchanged | PartRelocated
"""Changes that put a part on the vehicle at a place where it was not."""

PartLeaves = PartTakenOut | PartExchanged | PartRelocated
"""Changes that take a part off the place where it is."""

PartGoes = PartTakenOut | PartExchanged
"""Changes that leave a part over."""

PartChange = PartKept | PartConverted | PartAdjusted | PartRebuilt | PartComes | PartLeaves
