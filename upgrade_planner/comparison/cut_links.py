"""
Fusible links that must be cut out of a splice, and so are renewed.

A link that is cut is too short to be crimped again, and it is never lengthened, for its length and
its metal are what protects. So a splice that is made anew takes a new link.
"""

from collections.abc import Iterator

from upgrade_planner.comparison.differences import wire_differences
from upgrade_planner.comparison.why import because
from upgrade_planner.comparison.wire_changes import (
    Added,
    Kept,
    Moved,
    Removed,
    Renewed,
    WireChange,
    stays_at,
)
from upgrade_planner.configuration.kinds import Capability
from upgrade_planner.configuration.model import Conductor, Configuration, TerminalRef, Wire

LINK_CUT = because("link-cut")


def with_new_links(changes: list[WireChange], before: Configuration) -> list[WireChange]:
    """The changes, with a new link for each that is cut; one cut may cause the next."""
    while True:
        renewed = [new for change in changes for new in _renewed(change, changes, before)]
        if len(renewed) == len(changes) and all(
            one is other for one, other in zip(renewed, changes, strict=True)
        ):
            return changes
        changes = renewed


def is_crimped_link(wire: Wire, configuration: Configuration) -> bool:
    """True for a link with an end in a splice, which comes out of it by cutting only."""
    return wire.conductor is Conductor.LINK and any(
        _is_splice(end, configuration) for end in wire.ends
    )


def _renewed(
    change: WireChange, changes: list[WireChange], before: Configuration
) -> Iterator[WireChange]:
    if not isinstance(change, Kept | Moved) or not _is_cut(change, changes, before):
        yield change
        return
    old, new = change.before, change.after
    if isinstance(change, Moved):
        yield Removed(before=old, reasons=(LINK_CUT,))
        yield Added(after=new, reasons=(LINK_CUT,))
        return
    differences = wire_differences(old, new)
    yield Renewed(
        before=old, after=new, reasons=(LINK_CUT,), differences=differences, old_stays=False
    )


def _is_cut(change: Kept | Moved, changes: list[WireChange], before: Configuration) -> bool:
    if change.before.conductor is not Conductor.LINK:
        return False
    return any(
        _is_splice(end, before)
        and any(end in w.ends for other in changes for w in other.wires if not stays_at(other, end))
        for end in change.before.ends
    )


def _is_splice(end: TerminalRef, configuration: Configuration) -> bool:
    return configuration.component(end.role).can(Capability.MADE_OF_WIRE)
