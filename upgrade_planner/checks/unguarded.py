"""Wires that the battery feeds without any fuse or link on the way."""

from collections import defaultdict
from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Remedy, Severity, at_wire, at_wires
from upgrade_planner.checks.protection import (
    SHORT_WIRE_M,
    is_safe_by_resistance,
    wires_to_protect,
)
from upgrade_planner.configuration.model import Wire
from upgrade_planner.configuration.values.measures import is_above, metre
from upgrade_planner.configuration.ways import Covering
from upgrade_planner.electrical.branches import Guard, wires_on
from upgrade_planner.electrical.fusible_links import link_for
from upgrade_planner.electrical.lasting_current import is_marine
from upgrade_planner.electrical.protection import greatest_unprotected_length_m
from upgrade_planner.electrical.short_circuit import CRANKING_CIRCUITS, Feed

UNFUSED = "33 CFR 183.455"
NO_ROAD_RULE = "a rule for boats; none for other vehicles was at hand"

ADDED = "as found"
"""Slot of what an earlier owner added."""

WHILE_CRANKING = ("start bypass", "start signal")
"""Circuits that are live while the starter turns and no longer."""


def no_device(examined: Examined) -> Iterator[Finding]:
    """Wires that the battery can feed without any fuse or link on the way, by their first one."""
    unguarded: dict[str, list[Feed]] = defaultdict(list)
    for feed in wires_to_protect(examined):
        is_guarded = feed.guard is not None and feed.guard.guard is not Guard.LOAD
        limit_m = greatest_unprotected_length_m(sheathed=_is_sheathed(feed.wire, examined))
        is_open = not is_guarded and not is_safe_by_resistance(feed, examined)
        if is_open and is_above(metre(feed.unguarded_m), metre(limit_m)):
            unguarded[_first_wire(feed, examined)].append(feed)
    for first, found in unguarded.items():
        yield _unguarded(first, found, examined)


def _first_wire(feed: Feed, examined: Examined) -> str:
    """The first wire on the way that is no cranking cable: there a fuse belongs."""
    wires = examined.configuration.wire_by_id
    on_way = [wires[wire_id] for wire_id in wires_on(feed.way)]
    return next((w.id for w in on_way if w.circuit not in CRANKING_CIRCUITS), feed.wire.id)


def _unguarded(first: str, found: list[Feed], examined: Examined) -> Finding:
    """
    A vehicle may have been built so: a warning. What somebody added or changed later is a danger.

    Wires behind a winding or lamp are not named where the way before it has no guard either.
    """
    wire = examined.configuration.wire_by_id[first]
    plain = [feed for feed in found if not any(b.guard is Guard.LOAD for b in feed.way)] or found
    others = [feed.wire.id for feed in plain if feed.wire.id != first]
    return Finding(
        code="PROT-NONE",
        severity=Severity.DANGER if _is_later_work(wire) else Severity.WARNING,
        subjects=at_wires((first, *others)),
        value=metre(max(feed.unguarded_m for feed in plain)),
        limit=metre(SHORT_WIRE_M),
        facts={"sheathed": metre(greatest_unprotected_length_m(sheathed=True))},
        remedy=_guard_at_start(wire),
        source=UNFUSED if is_marine(examined.configuration) else f"{UNFUSED}, {NO_ROAD_RULE}",
    )


def _is_later_work(wire: Wire) -> bool:
    """Added or joined elsewhere by somebody, and live for longer than the starter turns."""
    return (wire.slot == ADDED or wire.altered) and wire.circuit not in WHILE_CRANKING


def _guard_at_start(wire: Wire) -> Remedy:
    link = link_for(wire.size)
    if link is None:
        return Remedy("fit-fuse-where-wire-begins", {"wire": at_wire(wire.id)})
    return Remedy("fit-link-or-fuse-where-wire-begins", {"wire": at_wire(wire.id), "link": link})


def _is_sheathed(wire: Wire, examined: Examined) -> bool:
    routes = examined.configuration.runs[wire.id].routes
    return bool(routes) and all(route.covering is Covering.SLEEVE for route in routes)
