"""Rules on the battery posts: both joined, and the right way round."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.checks.ignition_parts import other_pole
from upgrade_planner.checks.power import LIVE_V, power_finding
from upgrade_planner.configuration.kinds import Capability, Family, Job
from upgrade_planner.configuration.model import Component, TerminalRef
from upgrade_planner.electrical.branches import Guard
from upgrade_planner.electrical.operating_points import OperatingPoint


def battery_post_open(examined: Examined) -> Iterator[Finding]:
    """A battery post without any wire."""
    for post in (examined.ways.live, examined.ways.reference):
        ref = TerminalRef(*post.split("."))
        if not examined.configuration.wires_at.get(ref):
            yield power_finding(
                "PWR-BATTERY-OPEN",
                "Battery post without a cable",
                Severity.DANGER,
                (post, ref.role),
                f"Nothing is joined to the {ref.terminal} post.",
                "Fit the cable that belongs there.",
            )


def battery_reversed(examined: Examined) -> Iterator[Finding]:
    """The post that should be live is joined to the metal, the other one is not."""
    ways, configuration = examined.ways, examined.configuration
    lumps = {f"metal.{place.metal}" for place in configuration.places if place.metal}
    at_live = ways.joined(ways.live, guards=(Guard.NONE,))
    if lumps & at_live and not lumps & ways.grounded:
        cables = [
            wire.id
            for post in (ways.live, ways.reference)
            for wire in configuration.wires_at.get(TerminalRef(*post.split(".")), ())
        ]
        yield power_finding(
            "PWR-REVERSED",
            "Battery the wrong way round",
            Severity.DANGER,
            (ways.live.partition(".")[0], *cables),
            f"The {configuration.vehicle.ground} post should be grounded; the other one is.",
            "Change the two cables over before anything is switched on: diodes die at once.",
        )


def part_reversed(examined: Examined) -> Iterator[Finding]:
    """A part with diodes or electronics that stands the wrong way round in some state."""
    for part in examined.configuration.components:
        has_electronics = part.terminal_as(Job.KEY_FEED) is not None
        name = part.terminal_as(Job.SUPPLY if has_electronics else Job.OUTPUT)
        is_tender = part.is_fed and part.family is not Family.STARTER
        for point in examined.points.values() if is_tender and name is not None else ():
            across_v = _across_v(part, str(name), point)
            if across_v is not None and across_v < -LIVE_V:
                yield power_finding(
                    "PWR-PART-REVERSED",
                    "Part fed the wrong way round",
                    Severity.DANGER,
                    (part.role,),
                    f"{across_v:.1f} V between its {name} and its ground, {point.state.title}.",
                    "Change feed and ground over; then test the part, it may be dead.",
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
            yield power_finding(
                "PWR-GROUND-SIDE",
                "Part for the other ground polarity",
                Severity.DANGER,
                (part.role,),
                f"It is made for {wrong}; this vehicle has the {configuration.vehicle.ground} "
                "post on ground. It dies, or burns, when the battery is joined.",
                "Fit the version for this polarity, or convert the vehicle first.",
            )
