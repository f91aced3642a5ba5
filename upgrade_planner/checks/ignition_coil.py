"""Rules on coil, points or module, and what is joined to them."""

from collections.abc import Iterator
from math import inf

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Finding,
    Remedy,
    Severity,
    Subject,
    at_part,
    at_parts,
    at_terminal,
    at_wires,
)
from upgrade_planner.checks.ignition_parts import (
    Fed,
    bridged_ballasts,
    fed_parts,
    is_driven,
    is_joined_to_switch,
    marked_feed,
    other_pole,
    switch_of,
)
from upgrade_planner.checks.moves import changed_over
from upgrade_planner.checks.paths import (
    WITH_RESISTANCE,
    Link,
    LinkMedium,
    at_link,
    links_of,
    live_node,
    names_on,
    paths_from,
    wires_before_switch,
    wires_of,
)
from upgrade_planner.configuration.edits import Edit, TakeOut
from upgrade_planner.configuration.kinds import Capability, Family, TerminalUse
from upgrade_planner.configuration.model import Component, Conductor, Configuration, TerminalRef
from upgrade_planner.configuration.values.measures import ampere, ohm, watt
from upgrade_planner.electrical.models.context import node_of, ref_of
from upgrade_planner.electrical.states import KEY_ON, LOADED, UNLOADED

POINTS_LIMIT_A = 5.0
"""Most that breaker points carry. [A]
Source: US Army TM 9-8000, 1985, p. 15-11: the points carry the whole coil current, 4 to 5 A."""

FULL_VOLTAGE_COIL_OHM = 2.5
"""A coil for 12 V of more than this is made for full voltage. [Ω] Source: our assumption between
the 1.2 to 1.8 Ω of coils for a ballast and the 2.8 to 4.0 Ω of those without (from memory)."""

LEAST_COIL_A = 3.0
"""Least current of a coil made for a ballast, its points closed, engine running. [A] Source: our
assumption, three quarters of the 4 A that points carry at least: US Army TM 9-8000, p. 15-11."""

IDLE_COIL_A = 0.2
"""Less flows where its circuit is open, of which other rules speak. [A] Source: our assumption."""

CONSUMERS = (Family.LAMP, Family.LOAD, Family.MOTOR)
"""What does not belong beside a coil."""

POLARITY_SOURCE = "owners-club article and farm press: weaker spark, misfire under load"
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
    if switch is None or switch.family is Family.POINTS:
        return POINTS_LIMIT_A
    given = switch.ratings.get("maximum_current")
    return None if given is None else float(given)


def _overloaded(
    fed: Fed, configuration: Configuration, amps: float, limit_a: float, switch: Component | None
) -> Finding:
    reached = paths_from(links_of(configuration, KEY_ON), fed.node)
    bridged = bridged_ballasts(fed, configuration)
    plain = wires_before_switch(reached.get(live_node(configuration), ()))
    has_points = switch is None or switch.family is Family.POINTS
    if bridged:
        code = "IGN-BALLAST-BRIDGED"
        out = _bridging(bridged, configuration)
        remedy = Remedy("take-bridging-wire-out", edits=out)
        if out:
            names = at_wires(edit.wire_id for edit in out)
            remedy = Remedy("take-bridging-wires-out", {"wires": names}, edits=out)
    else:
        code = "IGN-POINTS-CURRENT" if has_points else "IGN-MODULE-CURRENT"
        remedy = Remedy("fit-ballast-or-other-coil")
    beside = tuple(map(at_link, bridged))
    return Finding(
        code=code,
        cause="points" if has_points else "module",
        severity=Severity.WARNING,
        subjects=(at_part(fed.part.role), *_module(switch), *at_wires(plain), *beside),
        value=ampere(amps),
        limit=ampere(limit_a),
        facts={
            "heat": watt(amps**2 * fed.part.ratings["primary_resistance"]),
            "bridged": beside,
        },
        remedy=remedy,
        source=POINTS_SOURCE if has_points else "greatest current in the profile of the module",
    )


def _bridging(bridged: list[Link], configuration: Configuration) -> tuple[TakeOut, ...]:
    """Wires that join both ends of a ballast directly."""
    ends = [{link.one, link.other} for link in bridged]
    wires = (w for w in configuration.wires if {node_of(ref) for ref in w.ends} in ends)
    return tuple(TakeOut(w.id) for w in wires if w.conductor is not Conductor.RESISTANCE)


def _module(switch: Component | None) -> tuple[Subject, ...]:
    return () if switch is None or switch.family is Family.POINTS else (at_part(switch.role),)


def coil_starved(examined: Examined) -> Iterator[Finding]:
    """A coil made for full voltage behind a ballast or resistance wire."""
    configuration = examined.configuration
    limit_ohm = FULL_VOLTAGE_COIL_OHM * configuration.vehicle.voltage_v / 12.0
    links = links_of(configuration, KEY_ON)
    for fed in fed_parts(configuration):
        if fed.is_unit:
            continue
        if fed.part.ratings["primary_resistance"] < limit_ohm:
            yield from _short_of_current(fed, examined)
            continue
        path = paths_from(links, fed.node, WITH_RESISTANCE).get(live_node(configuration))
        if path is None or live_node(configuration) in paths_from(links, fed.node):
            continue
        resistances = [at_link(link) for link in path if link.medium is LinkMedium.RESISTANCE]
        yield Finding(
            code="IGN-COIL-STARVED",
            cause="made-for-more",
            severity=Severity.CAUTION,
            subjects=(at_part(fed.part.role), *resistances),
            value=ohm(fed.part.ratings["primary_resistance"]),
            limit=ohm(limit_ohm),
            remedy=Remedy("feed-by-copper-or-other-coil"),
            source="coils by primary resistance: our assumption, from memory",
        )


def _short_of_current(fed: Fed, examined: Examined) -> Iterator[Finding]:
    """A coil made for a ballast that draws less than it is made for, and what takes it away."""
    configuration, point = examined.configuration, examined.points.get(UNLOADED.name)
    links = links_of(configuration, KEY_ON)
    path = paths_from(links, fed.node, WITH_RESISTANCE).get(live_node(configuration))
    if point is None:
        point = examined.points.get(LOADED.name)
    if point is None or path is None:
        return  # without a feed, another rule says so
    amps = abs(point.element_current_a(fed.part.role))
    resistances = [at_link(link) for link in path if link.medium is LinkMedium.RESISTANCE]
    strange = _loads_beside(fed, configuration) if resistances else ()
    if not IDLE_COIL_A < amps < (inf if strange else LEAST_COIL_A):
        return
    remedy = Remedy("look-for-drop-at-coil")
    if strange:
        remedy = Remedy("take-load-off-coil", {"wires": at_wires(strange)})
    elif resistances:
        remedy = Remedy("fit-right-ballast", {"ohms": ohm(fed.part.ratings["primary_resistance"])})
    yield Finding(
        code="IGN-COIL-STARVED",
        cause="load-beside" if strange else "little-current",
        severity=Severity.WARNING,
        subjects=(at_part(fed.part.role), *at_wires(strange), *resistances),
        value=ampere(amps),
        limit=ampere(LEAST_COIL_A),
        facts={"wires": at_wires(strange)},
        remedy=remedy,
        source=f"{POINTS_SOURCE}; the least: our assumption",
    )


def _loads_beside(fed: Fed, configuration: Configuration) -> tuple[str, ...]:
    """Wires from the coil's fed side to consumers that have nothing to do with the spark."""
    found: list[str] = []
    for node, path in paths_from(wires_of(configuration), fed.node).items():
        ref = ref_of(node)
        part = configuration.component(ref.role)
        if part.is_fed and part.family in CONSUMERS and ref.terminal in part.feed_terminals:
            found += names_on(path)
    return tuple(dict.fromkeys(found))


def coil_reversed(examined: Examined) -> Iterator[Finding]:
    """The points, or the module, are joined to the pole of the coil that ought to be fed."""
    configuration = examined.configuration
    marked = marked_feed(configuration)
    for coil in configuration.parts_of(Family.COIL):
        if is_joined_to_switch(coil, marked, configuration):
            switch = switch_of(coil, configuration)
            has_points = switch is None or switch.family is Family.POINTS
            yield Finding(
                code="IGN-POLARITY",
                cause="points" if has_points else "module",
                severity=Severity.CAUTION,
                subjects=(at_part(coil.role), at_terminal(TerminalRef(coil.role, marked))),
                facts={
                    "ground": configuration.vehicle.ground,
                    "side": at_terminal(TerminalRef(coil.role, other_pole(marked))),
                },
                remedy=Remedy("swap-coil-wires", edits=_swapped(coil, configuration)),
                source=POLARITY_SOURCE,
            )
        elif _crossed(coil, configuration):
            yield Finding(
                code="IGN-POLARITY",
                cause="leads-crossed",
                severity=Severity.CAUTION,
                subjects=(at_part(coil.role), at_terminal(TerminalRef(coil.role, "negative"))),
                remedy=Remedy("swap-coil-wires", edits=_swapped(coil, configuration)),
                source=POLARITY_SOURCE,
            )


def _swapped(coil: Component, configuration: Configuration) -> tuple[Edit, ...]:
    one, other = (TerminalRef(coil.role, pole) for pole in ("positive", "negative"))
    return changed_over(one, other, configuration)


def _crossed(coil: Component, configuration: Configuration) -> bool:
    """True if the leads of a capacitor-discharge unit are changed over at the coil."""
    wires = wires_of(configuration)
    return any(
        f"{coil.role}.negative" in paths_from(wires, f"{unit.role}.coil_positive")
        for unit in configuration.parts_that(Capability.DISCHARGES)
    )


def condenser_on_unit(examined: Examined) -> Iterator[Finding]:
    """Points with their condenser, or a condenser alone, are joined to an electronic unit."""
    configuration = examined.configuration
    wires = wires_of(configuration)
    for unit, name in _outputs(configuration):
        reached = paths_from(wires, f"{unit.role}.{name}")
        for part in configuration.parts_of(Family.POINTS, Family.CONDENSER):
            terminal = "points" if part.family is Family.POINTS else "in"
            if f"{part.role}.{terminal}" in reached:
                yield _loaded(unit, name, part)


def _outputs(configuration: Configuration) -> Iterator[tuple[Component, str]]:
    """Terminals of electronic units that points or a condenser must not load."""
    for unit in configuration.parts_that(Capability.HOLDS_COIL):
        yield from ((unit, name) for name in ("supply", "tachometer"))
    for unit, ref in configuration.parts_with(TerminalUse.COIL_SWITCH):
        if unit.family is not Family.POINTS:
            yield unit, ref.terminal
    for unit in configuration.parts_that(Capability.DISCHARGES):
        yield from ((unit, name) for name in ("coil_positive", "coil_negative"))


def _loaded(unit: Component, name: str, part: Component) -> Finding:
    return Finding(
        code="IGN-CONDENSER",
        cause="points" if part.family is Family.POINTS else "condenser",
        severity=Severity.WARNING,
        subjects=(at_terminal(TerminalRef(unit.role, name)), at_part(part.role)),
        remedy=Remedy("take-points-and-condenser-off"),
        source="our own reasoning from the wiring",
    )


def condenser_missing(examined: Examined) -> Iterator[Finding]:
    """Points that switch a coil without a condenser: they burn, and the spark is weak."""
    configuration = examined.configuration
    for coil in configuration.parts_of(Family.COIL):
        points = switch_of(coil, configuration)
        if points is None or points.family is not Family.POINTS or "condenser" in points.ratings:
            continue
        reached = paths_from(wires_of(configuration), f"{points.role}.points")
        if is_driven(coil, configuration) or any(
            f"{part.role}.in" in reached for part in configuration.parts_of(Family.CONDENSER)
        ):
            continue
        yield Finding(
            code="IGN-NO-CONDENSER",
            severity=Severity.CAUTION,
            subjects=at_parts((points.role, coil.role)),
            remedy=Remedy("fit-condenser"),
            source="US Army TM 9-8000, 1985, para 15: condenser across the points",
        )
