"""Rules on battery isolators: what goes past them, what they can carry, when to leave them on."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity, worded
from upgrade_planner.checks.paths import (
    ISOLATOR,
    grounded_node,
    live_node,
)
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import Component, Configuration
from upgrade_planner.electrical.states import CRANKING


def isolators(configuration: Configuration) -> list[Component]:
    """Switches that part the battery from everything, known by their role."""
    return [part for part in configuration.parts_of(Family.SWITCH) if ISOLATOR in part.role]


def bypassed(examined: Examined) -> Iterator[Finding]:
    """A wire leads from the battery post past the isolator: off is not off."""
    configuration = examined.configuration
    for part in isolators(configuration):
        side = _side(part, configuration)
        if side is None:
            yield _finding(
                "ISO-PLACE",
                "Isolator not at the battery",
                Severity.WARNING,
                (part.role,),
                "Neither of its studs is joined to a battery post by cable alone: what lies before "
                "it stays live.",
                "Fit it in the grounded battery cable, next to the battery.",
            )
            continue
        post, own = side
        past = [
            wire.id
            for wire in configuration.wires
            if post in map(str, wire.ends) and not own & set(map(str, wire.ends))
        ]
        if past:
            yield _finding(
                "ISO-BYPASSED",
                "Wire past the battery isolator",
                Severity.WARNING,
                (*past, part.role),
                f"Joined to {post} itself: with the isolator off, current still flows.",
                "Move its battery end to the far stud of the isolator.",
            )
        if post == live_node(configuration):
            yield _finding(
                "ISO-LIVE-SIDE",
                "Isolator in the live cable",
                Severity.NOTE,
                (part.role,),
                "A spanner between its live stud and metal is a short circuit.",
                "The grounded cable is the better place; else cover both studs.",
            )


def _side(part: Component, configuration: Configuration) -> tuple[str, set[str]] | None:
    """The battery post whose cable ends at the isolator, and the isolator's nodes."""
    own = {f"{part.role}.{terminal.name}" for terminal in part.terminals}
    for post in (grounded_node(configuration), live_node(configuration)):
        for wire in configuration.wires:
            ends = set(map(str, wire.ends))
            if post in ends and ends & own:
                return post, own
    return None


def too_weak(examined: Examined) -> Iterator[Finding]:
    """The starter's current is more than the isolator is made for."""
    point = examined.points.get(CRANKING.name)
    for part in isolators(examined.configuration) if point is not None else ():
        limit = part.ratings.get("rated_current")
        names = [f"{part.role}:{a.name}-{b.name}" for a in part.terminals for b in part.terminals]
        amps = max((abs(point.element_current_a(n)) for n in names), default=0.0) if point else 0.0
        if limit is not None and amps > limit:
            yield _finding(
                "ISO-RATING",
                "Isolator too small for the starter",
                Severity.WARNING,
                (part.role,),
                f"{amps:.0f} A flow while cranking; it is made for {limit:.0f} A.",
                "Fit one for the current of the starter.",
            )


def never_while_running(examined: Examined) -> Iterator[Finding]:
    """An isolator in a vehicle with an alternator must not be switched off while it runs."""
    machines = [part.role for part in examined.configuration.parts_that(Capability.CHARGES)]
    for part in isolators(examined.configuration):
        if machines:
            yield _finding(
                "ISO-RUNNING",
                "Isolator never off while the engine runs",
                Severity.NOTE,
                (part.role, *machines),
                "Without its battery the machine's voltage surges and ruins diodes, regulator and "
                "electronics. Clock and radio lose their memory when it is off.",
                "Stop the engine first; put a label beside the handle.",
                "US Army TM 10-3930-671-24, p. F-275: never open the output while running",
            )


def _finding(
    code: str,
    title: str,
    severity: Severity,
    where: tuple[str, ...],
    what: str,
    remedy: str,
    source: str = "common practice",
) -> Finding:
    return worded(
        code=code,
        title=title,
        severity=severity,
        where=where,
        what=what,
        remedy=remedy,
        source=source,
    )
