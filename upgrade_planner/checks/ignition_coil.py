"""Rules on coil, points or module, and what is joined to them."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity, worded
from upgrade_planner.checks.ignition_parts import (
    DISCHARGE,
    POINTS,
    SWITCHES,
    UNIT,
    Fed,
    bridged_ballasts,
    fed_parts,
    is_driven,
    is_joined_to_switch,
    marked_feed,
    other_pole,
    switch_of,
)
from upgrade_planner.checks.paths import (
    WITH_RESISTANCE,
    Sort,
    links_of,
    live_node,
    of_kind,
    paths_from,
    wires_before_switch,
    wires_of,
)
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.electrical.states import KEY_ON

POINTS_LIMIT_A = 5.0
"""Most that breaker points carry. [A]
Source: US Army TM 9-8000, 1985, p. 15-11: the points carry the whole coil current, 4 to 5 A."""

FULL_VOLTAGE_COIL_OHM = 2.5
"""A coil for 12 V of more than this is made for full voltage. [Ω] Source: our assumption between
the 1.2 to 1.8 Ω of coils for a ballast and the 2.8 to 4.0 Ω of those without (from memory)."""

POINTS_SOURCE = "US Army TM 9-8000, 1985, p. 15-11: points carry 4 to 5 A"


def points_overloaded(examined: Examined) -> Iterator[Finding]:
    """More current through coil and points, or module, than they stand: no ballast, or bridged."""
    configuration = examined.configuration
    for fed in fed_parts(configuration):
        if fed.is_unit:
            continue
        currents = [
            abs(point.element_current_a(fed.part.role))
            for name, point in examined.points.items()
            if name != "cranking"  # the bypass doubles the current for seconds only
        ]
        amps, switch = max(currents, default=0.0), switch_of(fed.part, configuration)
        limit_a = _limit_a(switch)
        if limit_a is not None and amps > limit_a:
            yield _overloaded(fed, configuration, amps, limit_a, switch)


def _limit_a(switch: Component | None) -> float | None:
    """Most current that points, or a module by its profile, carry; None if nothing says. [A]"""
    if switch is None or switch.kind == POINTS:
        return POINTS_LIMIT_A
    given = switch.ratings.get("maximum_current")
    return None if given is None else float(given)


def _overloaded(
    fed: Fed, configuration: Configuration, amps: float, limit_a: float, switch: Component | None
) -> Finding:
    reached = paths_from(links_of(configuration, KEY_ON), fed.node)
    bridged = bridged_ballasts(fed, configuration)
    plain = wires_before_switch(reached.get(live_node(configuration), ()))
    has_points = switch is None or switch.kind == POINTS
    switched_by = "points" if has_points else "module"
    watts = amps**2 * fed.part.ratings["primary_resistance"]
    what = f"{amps:.1f} A through coil and {switched_by}, at most {limit_a:g} A are right; "
    if bridged:
        code, title = "IGN-BALLAST-BRIDGED", "Ballast bridged"
        what += f"a plain wire lies beside {', '.join(bridged)}."
        remedy = f"Take {', '.join(plain) or 'the bridging wire'} out, so that the ballast works."
    else:
        code = "IGN-POINTS-CURRENT" if has_points else "IGN-MODULE-CURRENT"
        title = f"Too much current through the {switched_by}"
        what += f"the coil turns {watts:.0f} W into heat with the {switched_by} closed."
        remedy = "Fit the ballast the coil was made for, or a coil of more resistance."
    return worded(
        code=code,
        title=title,
        severity=Severity.WARNING,
        where=(fed.part.role, *_module(switch), *plain, *bridged),
        what=what,
        remedy=remedy,
        source=POINTS_SOURCE if has_points else "greatest current in the profile of the module",
    )


def _module(switch: Component | None) -> tuple[str, ...]:
    return () if switch is None or switch.kind == POINTS else (switch.role,)


def coil_starved(examined: Examined) -> Iterator[Finding]:
    """A coil made for full voltage behind a ballast or resistance wire."""
    configuration = examined.configuration
    limit_ohm = FULL_VOLTAGE_COIL_OHM * configuration.vehicle.voltage_v / 12.0
    links = links_of(configuration, KEY_ON)
    for fed in fed_parts(configuration):
        if fed.is_unit or fed.part.ratings["primary_resistance"] < limit_ohm:
            continue
        path = paths_from(links, fed.node, WITH_RESISTANCE).get(live_node(configuration))
        if path is None or live_node(configuration) in paths_from(links, fed.node):
            continue
        resistances = [link.name for link in path if link.sort is Sort.RESISTANCE]
        yield worded(
            code="IGN-COIL-STARVED",
            title="Full-voltage coil behind a resistance",
            severity=Severity.CAUTION,
            where=(fed.part.role, *resistances),
            what=f"Its primary has {fed.part.ratings['primary_resistance']:g} Ω: it is made for "
            "full voltage, and the resistance before it weakens its spark.",
            remedy="Feed it by plain copper, or fit a coil that is made for a ballast.",
            source="coils by primary resistance: our assumption, from memory",
        )


def coil_reversed(examined: Examined) -> Iterator[Finding]:
    """The points, or the module, are joined to the pole of the coil that ought to be fed."""
    configuration = examined.configuration
    marked = marked_feed(configuration)
    for coil in of_kind(configuration, "coil"):
        if is_joined_to_switch(coil, marked, configuration):
            switch = switch_of(coil, configuration)
            words = "points" if switch is None or switch.kind == POINTS else "module"
            side = TerminalRef(coil.role, other_pole(marked))
            yield _reversed(
                (coil.role, f"{coil.role}.{marked}"),
                f"On {configuration.vehicle.ground} ground, {side} goes to the {words}.",
            )
        elif _crossed(coil, configuration):
            yield _reversed(
                (coil.role, f"{coil.role}.negative"),
                "The unit's positive coil lead ends at the coil's negative terminal.",
            )


def _crossed(coil: Component, configuration: Configuration) -> bool:
    """True if the leads of a capacitor-discharge unit are changed over at the coil."""
    wires = wires_of(configuration)
    return any(
        f"{coil.role}.negative" in paths_from(wires, f"{unit.role}.coil_positive")
        for unit in of_kind(configuration, DISCHARGE)
    )


def _reversed(where: tuple[str, ...], what: str) -> Finding:
    return worded(
        code="IGN-POLARITY",
        title="Coil polarity reversed",
        severity=Severity.CAUTION,
        where=where,
        what=what,
        remedy="Swap the two primary wires of the coil.",
        source="owners-club article and farm press: weaker spark, misfire under load",
    )


def condenser_on_unit(examined: Examined) -> Iterator[Finding]:
    """Points with their condenser, or a condenser alone, are joined to an electronic unit."""
    configuration = examined.configuration
    wires = wires_of(configuration)
    for unit, name in _outputs(configuration):
        reached = paths_from(wires, f"{unit.role}.{name}")
        for part in of_kind(configuration, POINTS, "condenser"):
            terminal = "points" if part.kind == POINTS else "in"
            if f"{part.role}.{terminal}" in reached:
                yield _loaded(unit, name, part)


def _outputs(configuration: Configuration) -> Iterator[tuple[Component, str]]:
    """Terminals of electronic units that points or a condenser must not load."""
    for unit in of_kind(configuration, UNIT):
        yield from ((unit, name) for name in ("supply", "tachometer"))
    for unit in of_kind(configuration, *SWITCHES):
        if unit.kind != POINTS:
            yield unit, SWITCHES[unit.kind]
    for unit in of_kind(configuration, DISCHARGE):
        yield from ((unit, name) for name in ("coil_positive", "coil_negative"))


def _loaded(unit: Component, name: str, part: Component) -> Finding:
    points = part.kind == POINTS
    return worded(
        code="IGN-CONDENSER",
        title=f"{'Points and condenser' if points else 'Condenser'} left on an electronic unit",
        severity=Severity.WARNING,
        where=(f"{unit.role}.{name}", part.role),
        what="The points ground that terminal and their condenser loads it."
        if points
        else "It swallows the pulse: weak spark, and the module may die of its charge.",
        remedy="Take points and condenser off; join nothing but the tachometer.",
        source="our own reasoning from the wiring",
    )


def condenser_missing(examined: Examined) -> Iterator[Finding]:
    """Points that switch a coil without a condenser: they burn, and the spark is weak."""
    configuration = examined.configuration
    for coil in of_kind(configuration, "coil"):
        points = switch_of(coil, configuration)
        if points is None or points.kind != POINTS or "condenser" in points.ratings:
            continue
        reached = paths_from(wires_of(configuration), f"{points.role}.points")
        if is_driven(coil, configuration) or any(
            f"{part.role}.in" in reached for part in of_kind(configuration, "condenser")
        ):
            continue
        yield worded(
            code="IGN-NO-CONDENSER",
            title="Points without a condenser",
            severity=Severity.CAUTION,
            where=(points.role, coil.role),
            what="The profile has no condenser at the points: they burn, the spark is weak.",
            remedy="Fit the condenser again, or write it down in the profile.",
            source="US Army TM 9-8000, 1985, para 15: condenser across the points",
        )
