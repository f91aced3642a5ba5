"""What happens to one wire: a union of plain values, each with the fields that it has."""

from enum import StrEnum
from typing import ClassVar

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.why import Difference, Reasons
from upgrade_planner.configuration.model import TerminalRef, Wire


class Disposition(StrEnum):
    """What happens to a wire, as one word."""

    KEEP = "keep"
    REMOVE = "remove"
    ADD = "add"
    RESIZE = "resize"
    RENEW = "renew"
    MOVE = "move"
    CAP_OFF = "cap off"
    REFIT = "refit"
    REJOIN = "rejoin"


ON_THE_WAY_BACK = (Disposition.REFIT, Disposition.REJOIN)
"""Dispositions that occur on a way back only: an old wire comes out of the bag, or a capped one
is joined again."""


NAMED_IF_ANY = (Disposition.RENEW, *ON_THE_WAY_BACK)
"""Dispositions that are counted on paper only where there are any."""


@frozen(kw_only=True)
class _Fate:
    """Why it happens."""

    disposition: ClassVar[Disposition]
    reasons: Reasons

    @property
    def capped_wire(self) -> Wire | None:
        """The old conductor that stays in its loom, dead and capped at both ends, if one does."""
        return None


@frozen(kw_only=True)
class _OfBoth(_Fate):
    """A wire as it is now, the one that it becomes, and the attributes that differ."""

    before: Wire
    after: Wire
    differences: tuple[Difference, ...] = ()

    @property
    def wire(self) -> Wire:
        """The wire as it shall be."""
        return self.after

    @property
    def wires(self) -> tuple[Wire, ...]:
        """The wires that it is about, as they are and as they shall be."""
        return self.before, self.after

    @property
    def mark(self) -> str:
        """The name on the tag: that of the conductor which is in the vehicle while one works."""
        return self.before.id


@frozen(kw_only=True)
class _OfOld(_Fate):
    """A wire as it is now, which the target does not have."""

    before: Wire

    @property
    def wire(self) -> Wire:
        """The wire as it is now."""
        return self.before

    @property
    def wires(self) -> tuple[Wire, ...]:
        """The wires that it is about."""
        return (self.before,)

    @property
    def mark(self) -> str:
        """The name on the tag."""
        return self.before.id


@frozen(kw_only=True)
class _OfNew(_Fate):
    """A wire as it shall be, which the vehicle does not have in use."""

    after: Wire

    @property
    def wire(self) -> Wire:
        """The wire as it shall be."""
        return self.after

    @property
    def wires(self) -> tuple[Wire, ...]:
        """The wires that it is about."""
        return (self.after,)

    @property
    def mark(self) -> str:
        """The name on the tag."""
        return self.after.id


@frozen(kw_only=True)
class Kept(_OfBoth):
    """The conductor serves on between the same ends."""

    disposition = Disposition.KEEP


@frozen(kw_only=True)
class Moved(_OfBoth):
    """The same conductor goes to other terminals."""

    disposition = Disposition.MOVE


@frozen(kw_only=True)
class Resized(_OfBoth):
    """
    Another conductor takes the place between the same ends.

    Attributes:
        old_stays: True if the old conductor stays in its loom, capped off.
    """

    disposition = Disposition.RESIZE
    old_stays: bool

    @property
    def capped_wire(self) -> Wire | None:
        """The old conductor if it stays."""
        return self.before if self.old_stays else None

    @property
    def mark(self) -> str:
        """The name on the tag: that of the new wire."""
        return self.after.id


@frozen(kw_only=True)
class Renewed(Resized):
    """Another conductor of the same copper takes the place: the old one is worn out."""

    disposition = Disposition.RENEW


@frozen(kw_only=True)
class Removed(_OfOld):
    """The wire comes out."""

    disposition = Disposition.REMOVE


@frozen(kw_only=True)
class CappedOff(_OfOld):
    """The wire stays in its loom, dead and insulated at both ends."""

    disposition = Disposition.CAP_OFF

    @property
    def capped_wire(self) -> Wire:
        """The wire itself."""
        return self.before


@frozen(kw_only=True)
class Added(_OfNew):
    """A wire of new cable."""

    disposition = Disposition.ADD


@frozen(kw_only=True)
class Refitted(_OfNew):
    """An old wire comes out of the bag."""

    disposition = Disposition.REFIT


@frozen(kw_only=True)
class Rejoined(_OfNew):
    """A wire that lay capped in its loom serves again."""

    disposition = Disposition.REJOIN


FromVehicle = Kept | Moved | Resized | Removed | CappedOff
"""Changes of a wire that is in use now: they have a `before`."""

IntoTarget = Kept | Moved | Resized | Added | Refitted | Rejoined
"""Changes that lead to a wire of the target: they have an `after`."""

WireChange = FromVehicle | IntoTarget


def stays_at(change: WireChange, end: TerminalRef) -> bool:
    """True if a conductor is joined to that terminal before and after, and serves on."""
    if not isinstance(change, Kept | Moved):
        return False
    return end in change.before.ends and end in change.after.ends
