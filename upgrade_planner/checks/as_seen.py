"""Rules on what somebody saw at a wire: of what it is made, and whether it touches metal."""

from collections.abc import Iterator, Mapping

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Finding,
    Remedy,
    Severity,
    Subject,
    at_part,
    at_terminal,
    at_wire,
)
from upgrade_planner.checks.protection import is_safe_by_resistance
from upgrade_planner.checks.resizing import remedy_of_size, smallest_size
from upgrade_planner.configuration.conditions import Condition
from upgrade_planner.configuration.model import Conductor, Joint, Wire
from upgrade_planner.configuration.values.measures import ampere
from upgrade_planner.configuration.values.rings import stud_mm
from upgrade_planner.configuration.values.sizes import WireSize
from upgrade_planner.electrical.branches import Guard
from upgrade_planner.electrical.metals import ALUMINIUM_RATIO
from upgrade_planner.electrical.network.unsolvable import NetworkError
from upgrade_planner.electrical.short_circuit import Feed, fault_at

ON_STUDS = (Joint.STUD, Joint.SCREW)
"""Joints that take rings."""

SAME_MM = 0.2
"""A ring goes over a stud that is so much thicker than its own: 5/16 in and M8, No. 10 and M5. [mm]
Source: our assumption, within the clearance of ring terminals."""

LOOSE_MM = 0.9
"""A ring may be for a stud so much thicker; one size more of the series is looser. [mm] Source: our
assumption: 1/4 in on M6 and 3/8 in on M8 lie on either side."""


def aluminium(examined: Examined) -> Iterator[Finding]:
    """A wire of aluminium: less copper does as much, and holds under a screw."""
    for wire in examined.configuration.wires:
        if wire.conductor is Conductor.ALUMINIUM:
            yield Finding(
                code="WIRE-ALUMINIUM",
                severity=Severity.CAUTION,
                subjects=(at_wire(wire.id),),
                facts={"size": wire.size},
                remedy=_in_copper(wire, examined),
                source="common practice; resistivities of copper and aluminium",
            )


def _in_copper(wire: Wire, examined: Examined) -> Remedy:
    """The smallest size of copper that conducts as well."""

    def does(size: WireSize) -> bool:
        return size.area_mm2 * ALUMINIUM_RATIO >= wire.size.area_mm2

    size = smallest_size(examined.configuration, does)
    return remedy_of_size("renew-in-copper", wire, size or wire.size)


def touches_metal(examined: Examined) -> Iterator[Finding]:
    """A wire that is bare on metal: what a short there does, by what feeds and guards it."""
    feeds: Mapping[str, Feed] = {feed.wire.id: feed for feed in examined.feeds}
    for wire in examined.configuration.wires:
        if Condition.TOUCHES_METAL in wire.condition:
            yield _touching(wire, feeds.get(wire.id), examined)


def _touching(wire: Wire, feed: Feed | None, examined: Examined) -> Finding:
    if feed is None or is_safe_by_resistance(feed, examined):
        return _touching_as(wire, "signal", Severity.CAUTION)
    guard = feed.guard
    amps = _shorted_a(feed, examined)
    if guard is None or guard.guard is Guard.LOAD:
        return _touching_as(wire, "bare", Severity.DANGER, amps)
    at_guard = at_part(guard.name) if guard.wire_id is None else at_wire(guard.wire_id)
    return _touching_as(wire, "guarded", Severity.WARNING, amps, (at_guard,))


def _touching_as(
    wire: Wire,
    cause: str,
    severity: Severity,
    amps: float | None = None,
    guard: tuple[Subject, ...] = (),
) -> Finding:
    return Finding(
        code="WIRE-TOUCHES",
        cause=cause,
        severity=severity,
        subjects=(at_wire(wire.id), *guard),
        value=None if amps is None else ampere(amps),
        facts={"guard": guard, "current": () if amps is None else ampere(amps)},
        remedy=Remedy("renew-where-it-rubs", {"wire": at_wire(wire.id)}),
        source="the profile's own words; short circuit computed at the far end of the wire",
    )


def _shorted_a(feed: Feed, examined: Examined) -> float | None:
    """Current of a dead short at its far end, the least of its length; None if not computed. [A]"""
    try:
        return fault_at(feed, examined.warmest_c).current_a
    except NetworkError:
        return None


def misfitting_rings(examined: Examined) -> Iterator[Finding]:
    """A ring that was made for another stud than it is on."""
    for wire in examined.configuration.wires:
        ends = zip(wire.ends, (wire.rings.at_start, wire.rings.at_end), strict=True)
        for ref, ring in ends:
            terminal = examined.configuration.component(ref.role).terminal(ref.terminal)
            if terminal is None or not ring or terminal.connection.joint not in ON_STUDS:
                continue
            over_mm = stud_mm(ring) - stud_mm(terminal.connection.size)
            if not -SAME_MM <= over_mm <= LOOSE_MM:
                yield Finding(
                    code="CONN-RING",
                    cause="loose" if over_mm > 0 else "tight",
                    severity=Severity.CAUTION,
                    subjects=(at_wire(wire.id), at_terminal(ref)),
                    facts={"ring": ring, "stud": terminal.connection.size},
                    remedy=Remedy("fit-ring-for", {"stud": terminal.connection.size}),
                    source="common practice: a ring is made for the stud it sits on",
                )
