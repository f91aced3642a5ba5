"""Rules on coil, points and what is joined to them."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.checks.ignition_parts import (
    POINTS,
    UNIT,
    Fed,
    bridged_ballasts,
    fed_parts,
    is_joined_to_points,
    marked_feed,
    other_pole,
)
from upgrade_planner.checks.paths import (
    links_of,
    live_post,
    of_kind,
    paths_from,
    wires_before_switch,
    wires_of,
)
from upgrade_planner.configuration.model import Configuration, TerminalRef
from upgrade_planner.electrical.states import KEY_ON

POINTS_LIMIT_A = 5.0
"""Most that breaker points carry. [A]
Source: US Army TM 9-8000, 1985, p. 15-11: the points carry the whole coil current, 4 to 5 A."""


def points_overloaded(examined: Examined) -> Iterator[Finding]:
    """More current through coil and points than points stand: no ballast, or a bridged one."""
    configuration = examined.configuration
    for fed in fed_parts(configuration):
        if fed.is_unit:
            continue
        currents = [
            abs(point.element_current_a(fed.part.role))
            for name, point in examined.points.items()
            if name != "cranking"  # the bypass doubles the current for seconds only
        ]
        amps = max(currents, default=0.0)
        if amps > POINTS_LIMIT_A:
            yield _overloaded(fed, configuration, amps)


def _overloaded(fed: Fed, configuration: Configuration, amps: float) -> Finding:
    reached = paths_from(links_of(configuration, KEY_ON), fed.node)
    bridged = bridged_ballasts(fed, configuration)
    plain = wires_before_switch(reached.get(live_post(configuration), ()))
    watts = amps**2 * fed.part.ratings["primary_resistance"]
    what = f"{amps:.1f} A through coil and points, at most {POINTS_LIMIT_A:g} A are right; "
    if bridged:
        code, title = "IGN-BALLAST-BRIDGED", "Ballast bridged"
        what += f"a plain wire lies beside {', '.join(bridged)}."
        remedy = f"Take {', '.join(plain) or 'the bridging wire'} out, so that the ballast works."
    else:
        code, title = "IGN-POINTS-CURRENT", "Too much current through the points"
        what += f"the coil turns {watts:.0f} W into heat with the points closed."
        remedy = "Fit the ballast the coil was made for, or a coil of more resistance."
    return Finding(
        code=code,
        title=title,
        severity=Severity.WARNING,
        where=(fed.part.role, *plain, *bridged),
        what=what,
        remedy=remedy,
        source="US Army TM 9-8000, 1985, p. 15-11: points carry 4 to 5 A",
    )


def coil_reversed(examined: Examined) -> Iterator[Finding]:
    """The points are joined to the pole of the coil that ought to be fed."""
    configuration = examined.configuration
    marked = marked_feed(configuration)
    for coil in of_kind(configuration, "coil"):
        if is_joined_to_points(coil, marked, configuration):
            points_side = TerminalRef(coil.role, other_pole(marked))
            yield Finding(
                code="IGN-POLARITY",
                title="Coil polarity reversed",
                severity=Severity.CAUTION,
                where=(coil.role, f"{coil.role}.{marked}"),
                what=f"On {configuration.vehicle.ground} ground, {points_side} goes to the points.",
                remedy="Swap the two primary wires of the coil.",
                source="owners-club article and farm press: weaker spark, misfire under load",
            )


def tachometer_misplaced(examined: Examined) -> Iterator[Finding]:
    """The signal of a tachometer comes from a terminal that gives none."""
    configuration = examined.configuration
    good = set(_signal_nodes(configuration))
    for meter in of_kind(configuration, "tachometer"):
        ref = TerminalRef(meter.role, "signal")
        wires = configuration.wires_at.get(ref, ())
        reached = set(paths_from(wires_of(configuration), str(ref)))
        if wires and not reached & good:
            right = " or ".join(sorted(good)) or "a unit with a tachometer terminal"
            yield Finding(
                code="IGN-TACHOMETER",
                title="Tachometer lead on a wrong terminal",
                severity=Severity.CAUTION,
                where=(str(ref), *(wire.id for wire in wires)),
                what="Its signal wire leads to no terminal that gives the engine's pulses.",
                remedy=f"Join the signal wire to {right}.",
                source="common practice",
            )


def _signal_nodes(configuration: Configuration) -> Iterator[str]:
    for unit in of_kind(configuration, UNIT):
        yield f"{unit.role}.tachometer"
    for part in of_kind(configuration, POINTS):
        yield f"{part.role}.points"
    for fed in fed_parts(configuration):
        if not fed.is_unit:
            yield f"{fed.part.role}.{other_pole(fed.ref.terminal)}"


def condenser_on_unit(examined: Examined) -> Iterator[Finding]:
    """Points with their condenser are joined to a terminal of an electronic unit."""
    configuration = examined.configuration
    for unit in of_kind(configuration, UNIT):
        for name in ("supply", "tachometer"):
            reached = paths_from(wires_of(configuration), f"{unit.role}.{name}")
            for part in of_kind(configuration, POINTS):
                if f"{part.role}.points" in reached:
                    yield Finding(
                        code="IGN-CONDENSER",
                        title="Points and condenser left on an electronic unit",
                        severity=Severity.WARNING,
                        where=(f"{unit.role}.{name}", part.role),
                        what="The points ground that terminal and their condenser loads it.",
                        remedy="Take points and condenser off; join nothing but the tachometer.",
                        source="our own reasoning from the wiring",
                    )
