"""Rules on the battery posts: both joined, and the right way round."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Finding,
    Remedy,
    Severity,
    at_part,
    at_terminal,
    at_wires,
)
from upgrade_planner.checks.ignition_parts import other_pole
from upgrade_planner.checks.moves import changed_over, moved
from upgrade_planner.checks.power import LIVE_V
from upgrade_planner.configuration.kinds import Capability, Family, TerminalUse
from upgrade_planner.configuration.model import Component, TerminalRef
from upgrade_planner.configuration.values.measures import volt
from upgrade_planner.electrical.branches import Guard
from upgrade_planner.electrical.models.context import metal_node, ref_of
from upgrade_planner.electrical.operating_points import OperatingPoint


def battery_post_open(examined: Examined) -> Iterator[Finding]:
    """A battery post without any wire."""
    for post in (examined.ways.live, examined.ways.reference):
        ref = ref_of(post)
        if not examined.configuration.wires_at.get(ref):
            yield Finding(
                code="PWR-BATTERY-OPEN",
                severity=Severity.DANGER,
                subjects=(at_terminal(ref), at_part(ref.role)),
                facts={"post": ref.terminal},
                remedy=Remedy("fit-battery-cable"),
                source="common practice",
            )


def battery_reversed(examined: Examined) -> Iterator[Finding]:
    """The post that should be live is joined to the metal, the other one is not."""
    ways, configuration = examined.ways, examined.configuration
    lumps = {metal_node(place.metal) for place in configuration.places if place.metal}
    at_live = ways.joined(ways.live, guards=(Guard.NONE,))
    if lumps & at_live and not lumps & ways.grounded:
        cables = [
            wire.id
            for post in (ways.live, ways.reference)
            for wire in configuration.wires_at.get(ref_of(post), ())
        ]
        yield Finding(
            code="PWR-REVERSED",
            severity=Severity.DANGER,
            subjects=(at_part(ref_of(ways.live).role), *at_wires(cables)),
            facts={"ground": configuration.vehicle.ground},
            remedy=_cables_over(examined),
            source="common practice",
        )


def _cables_over(examined: Examined) -> Remedy:
    """Both posts change their cables; where one post has none, only the ground cable moves."""
    configuration, ways = examined.configuration, examined.ways
    live, grounded = ref_of(ways.live), ref_of(ways.reference)
    if configuration.wires_at.get(grounded):
        edits = changed_over(live, grounded, configuration)
        return Remedy("change-battery-cables-over", edits=edits)
    grounds = [
        wire
        for wire in configuration.wires_at.get(live, ())
        if configuration.component(wire.other_end(live).role).family is Family.GROUND_POINT
    ]
    return Remedy(
        "move-ground-cable-to-post",
        {"post": grounded.terminal},
        edits=tuple(moved(wire, live, grounded) for wire in grounds),
    )


def part_reversed(examined: Examined) -> Iterator[Finding]:
    """A part with diodes or electronics that stands the wrong way round in some state."""
    for part in examined.configuration.components:
        has_electronics = part.terminal_as(TerminalUse.KEY_FEED) is not None
        name = part.terminal_as(TerminalUse.SUPPLY if has_electronics else TerminalUse.OUTPUT)
        is_tender = part.is_fed and part.family is not Family.STARTER
        for point in examined.points.values() if is_tender and name is not None else ():
            across_v = _across_v(part, str(name), point)
            if across_v is not None and across_v < -LIVE_V:
                yield Finding(
                    code="PWR-PART-REVERSED",
                    severity=Severity.DANGER,
                    subjects=(at_part(part.role),),
                    value=volt(across_v),
                    facts={"terminal": str(name), "state": point.state},
                    remedy=Remedy("change-feed-and-ground-over"),
                    source="common practice",
                )
                break


def _across_v(part: Component, name: str, point: OperatingPoint) -> float | None:
    by_pole = part.can(Capability.DISCHARGES)
    back = "battery_negative" if by_pole else part.return_terminal
    if back is None:
        return None
    live_v = point.live_v(TerminalRef(part.role, name))
    back_v = point.live_v(TerminalRef(part.role, back))
    sign = point.sign if by_pole else 1.0  # its terminals say plus and minus
    return None if live_v is None or back_v is None else sign * (live_v - back_v)


def wrong_ground_side(examined: Examined) -> Iterator[Finding]:
    """A part that its maker builds for the other ground polarity only."""
    configuration = examined.configuration
    wrong = f"{other_pole(configuration.vehicle.ground)} ground only"
    for part in configuration.components:
        if part.ratings.get("polarity") == wrong:
            yield Finding(
                code="PWR-GROUND-SIDE",
                severity=Severity.DANGER,
                subjects=(at_part(part.role),),
                facts={"wrong": wrong, "ground": configuration.vehicle.ground},
                remedy=Remedy("fit-version-for-polarity"),
                source="common practice",
            )
