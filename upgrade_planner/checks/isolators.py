"""Rules on battery isolators: what goes past them, what they can carry, when to leave them on."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Finding,
    Remedy,
    Severity,
    at_node,
    at_part,
    at_parts,
    at_wires,
)
from upgrade_planner.checks.paths import (
    ISOLATOR,
    grounded_node,
    live_node,
)
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import Component, Configuration
from upgrade_planner.configuration.values.measures import ampere
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
            yield Finding(
                code="ISO-PLACE",
                severity=Severity.WARNING,
                subjects=(at_part(part.role),),
                remedy=Remedy("fit-isolator-at-battery"),
                source="common practice",
            )
            continue
        post, own = side
        past = [
            wire.id
            for wire in configuration.wires
            if post in map(str, wire.ends) and not own & set(map(str, wire.ends))
        ]
        if past:
            yield Finding(
                code="ISO-BYPASSED",
                severity=Severity.WARNING,
                subjects=(*at_wires(past), at_part(part.role)),
                facts={"post": at_node(post)},
                remedy=Remedy("move-end-to-far-stud"),
                source="common practice",
            )
        if post == live_node(configuration):
            yield Finding(
                code="ISO-LIVE-SIDE",
                severity=Severity.NOTE,
                subjects=(at_part(part.role),),
                remedy=Remedy("move-isolator-or-cover-studs"),
                source="common practice",
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
            yield Finding(
                code="ISO-RATING",
                severity=Severity.WARNING,
                subjects=(at_part(part.role),),
                value=ampere(amps),
                limit=ampere(limit),
                remedy=Remedy("fit-isolator-for-starter"),
                source="common practice",
            )


def never_while_running(examined: Examined) -> Iterator[Finding]:
    """An isolator in a vehicle with an alternator must not be switched off while it runs."""
    machines = [part.role for part in examined.configuration.parts_that(Capability.CHARGES)]
    for part in isolators(examined.configuration):
        if machines:
            yield Finding(
                code="ISO-RUNNING",
                severity=Severity.NOTE,
                subjects=(at_part(part.role), *at_parts(machines)),
                remedy=Remedy("stop-engine-before-isolating"),
                source="US Army TM 10-3930-671-24, p. F-275: never open the output while running",
            )
