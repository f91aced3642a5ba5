"""Rules on the capacitor-discharge unit: its coil, its heavy pair, its ground."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Finding,
    Remedy,
    Severity,
    Subject,
    at_node,
    at_part,
    at_terminal,
    at_wires,
)
from upgrade_planner.checks.ignition_parts import least_supply_v
from upgrade_planner.checks.paths import (
    GROUND,
    WITH_RESISTANCE,
    Link,
    LinkMedium,
    Path,
    at_link,
    grounded_node,
    links_of,
    live_node,
    names_on,
    paths_from,
    wires_of,
)
from upgrade_planner.checks.trials import live_in, without
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import (
    OTHER_POST,
    Component,
    Conductor,
    Configuration,
    TerminalRef,
)
from upgrade_planner.configuration.values.measures import square_mm, volt
from upgrade_planner.configuration.values.sizes import parse_wire_size
from upgrade_planner.electrical.models.context import metal_node, ref_of
from upgrade_planner.electrical.states import COASTING, CRANKING, KEY_ON, OFF

OUTPUTS = ("coil_positive", "coil_negative")

LEAST_PAIR_MM2 = 1.8
"""Least copper of the heavy pair. [mm²] Source: our assumption: 14 SAE has 1.88 mm²."""

PAIR_SIZES = (parse_wire_size("12 SAE"), parse_wire_size("4 mm²"))
"""What to fit for it. Source: our assumption."""

STRAIGHT = (Family.PROTECTION, Family.AMMETER, Family.OTHER)
"""What the heavy lead may pass: what guards it, but no fuse box; a meter or shunt."""

HEAVY_SWITCH_A = 100.0
"""A switch rated so is made for the starter's current, as a battery switch is. [A] Our
assumption."""


def coil_not_alone(examined: Examined) -> Iterator[Finding]:
    """Something besides the unit is joined to the coil that it drives, or the coil is not."""
    configuration = examined.configuration
    for unit in configuration.parts_that(Capability.DISCHARGES):
        for name in OUTPUTS:
            reached = paths_from(wires_of(configuration), f"{unit.role}.{name}")
            strange = [node for node in reached if not _belongs(node, unit, configuration)]
            if strange:
                wires = dict.fromkeys(w for node in strange for w in names_on(reached[node]))
                where = [at_terminal(TerminalRef(unit.role, name)), *map(at_node, strange)]
                yield _not_alone(unit, (*where, *at_wires(wires)))


def _belongs(node: str, unit: Component, configuration: Configuration) -> bool:
    """Coil, unit and joints between them; of a tachometer there, a rule of its own speaks."""
    ref = ref_of(node)
    part = configuration.component(ref.role)
    if ref.role == unit.role:
        return ref.terminal in OUTPUTS
    is_meter = part.family is Family.TACHOMETER and not part.can(Capability.SENSES_CURRENT)
    return is_meter or part.family in (Family.COIL, Family.JOINT)


def _not_alone(unit: Component, where: tuple[Subject, ...]) -> Finding:
    return Finding(
        code="IGN-CD-COIL",
        severity=Severity.DANGER,
        subjects=(at_part(unit.role), *where),
        remedy=Remedy("clear-coil-terminals"),
        source="common practice; discharge at 250 to 600 V: encyclopaedia article",
    )


def supply_not_straight(examined: Examined) -> Iterator[Finding]:
    """The heavy lead goes through the key switch, a switch or a resistance, or is not joined."""
    configuration = examined.configuration
    for unit in configuration.parts_that(Capability.DISCHARGES):
        ref, post = _pair(unit, configuration)[0], live_node(configuration)
        path = paths_from(links_of(configuration, OFF), str(ref)).get(post)
        straight = path is not None
        if path is None:
            running = links_of(configuration, KEY_ON)
            path = paths_from(running, str(ref), WITH_RESISTANCE).get(post)
        passed = _passed(path, configuration)
        if passed or not straight:
            yield _crooked(unit, ref, path, passed)


def _pair(unit: Component, configuration: Configuration) -> tuple[TerminalRef, TerminalRef]:
    """The heavy lead that must be live, and the one that returns."""
    grounded = configuration.vehicle.ground
    live = OTHER_POST[grounded]
    return TerminalRef(unit.role, f"battery_{live}"), TerminalRef(unit.role, f"battery_{grounded}")


def _is_straight(part: Component) -> bool:
    if part.family is Family.SWITCH:
        return float(part.ratings.get("rated_current", 0.0)) >= HEAVY_SWITCH_A
    return part.family in STRAIGHT and "fuses" not in part.ratings


def _passed(path: Path | None, configuration: Configuration) -> list[Subject]:
    """Parts on the way that heavy pulses must not pass."""
    found = [
        at_link(link)
        for link in path or ()
        if not link.is_wire and not _is_straight(configuration.component(link.name))
    ]
    resistive = [
        at_link(link)
        for link in path or ()
        if link.is_wire and link.medium is LinkMedium.RESISTANCE
    ]
    return list(dict.fromkeys(found + resistive))


def _crooked(
    unit: Component, ref: TerminalRef, path: Path | None, passed: list[Subject]
) -> Finding:
    wires = at_wires(names_on(path) if path else ())
    return Finding(
        code="IGN-CD-SUPPLY",
        cause="passes" if passed else "not-joined",
        severity=Severity.WARNING,
        subjects=(at_terminal(ref), at_part(unit.role), *passed, *wires),
        facts={"passed": tuple(passed)},
        remedy=Remedy("lead-straight-from-battery"),
        source="common practice",
    )


def heavy_pair_unfit(examined: Examined) -> Iterator[Finding]:
    """The heavy pair is not guarded at all, or too thin for its charging pulses."""
    configuration = examined.configuration
    for unit in configuration.parts_that(Capability.DISCHARGES):
        live, back = _pair(unit, configuration)
        links = links_of(configuration, OFF)
        supply = paths_from(links, str(live)).get(live_node(configuration), ())
        returns = paths_from(wires_of(configuration), str(back)).get(
            grounded_node(configuration), ()
        )
        if supply and not any(_guards(link, configuration) for link in supply):
            yield _unguarded(unit, supply)
        thin = [
            name
            for name in (*names_on(supply), *names_on(returns))
            if configuration.wire_by_id[name].size.area_mm2 < LEAST_PAIR_MM2
            and configuration.wire_by_id[name].conductor is Conductor.COPPER
        ]
        if thin:
            yield _too_thin(unit, thin, configuration)


def _guards(link: Link, configuration: Configuration) -> bool:
    if link.is_wire:
        return configuration.wire_by_id[link.name].conductor is Conductor.LINK
    return configuration.component(link.name).family is Family.PROTECTION


def _unguarded(unit: Component, supply: Path) -> Finding:
    return Finding(
        code="IGN-CD-FUSE",
        severity=Severity.WARNING,
        subjects=(at_part(unit.role), *at_wires(names_on(supply))),
        remedy=Remedy("fit-fuse-at-battery-end"),
        source="common practice",
    )


def _too_thin(unit: Component, thin: list[str], configuration: Configuration) -> Finding:
    sizes = [configuration.wire_by_id[name].size for name in thin]
    return Finding(
        code="IGN-CD-THIN",
        severity=Severity.WARNING,
        subjects=(at_part(unit.role), *at_wires(thin)),
        value=square_mm(min(size.area_mm2 for size in sizes)),
        limit=square_mm(LEAST_PAIR_MM2),
        facts={"sizes": tuple(zip(at_wires(thin), sizes, strict=True))},
        remedy=Remedy("fit-heavy-pair", {"sizes": PAIR_SIZES}),
        source="our assumption: 14 gauge is the thinnest that such units come with",
    )


def kept_awake(examined: Examined) -> Iterator[Finding]:
    """Key off, points open: what comes back through the charge lamp keeps the unit awake."""
    configuration, point = examined.configuration, examined.points.get(COASTING.name)
    for unit in configuration.parts_that(Capability.DISCHARGES) if point is not None else ():
        ref, limit_v = TerminalRef(unit.role, "switched"), least_supply_v(unit, configuration)
        if point is None or (point.live_v(ref) or 0.0) >= limit_v:
            continue  # kept awake with the points closed too: the rule on back-feeding says so
        opened = without(frozenset({f"{unit.role}:points"}), point)
        volts = None if opened is None else live_in(opened, ref, point)
        if volts is not None and volts >= limit_v:
            yield Finding(
                code="IGN-CD-RUN-ON",
                severity=Severity.DANGER,
                subjects=(at_terminal(ref), at_part(unit.role)),
                value=volt(volts),
                limit=volt(limit_v),
                facts={"switched": at_terminal(ref)},
                remedy=Remedy("fit-diode-in-charge-lamp-wire"),
                source="tractor-club conversion note and vehicle wiki: diode in the lamp feed",
            )


def return_missing(examined: Examined) -> Iterator[Finding]:
    """The heavy return is not joined to the battery's ground by wire, or to its metal."""
    configuration = examined.configuration
    for unit in configuration.parts_that(Capability.DISCHARGES):
        ref = _pair(unit, configuration)[1]
        reached = paths_from(links_of(configuration, KEY_ON), str(ref), GROUND)
        if grounded_node(configuration) not in reached:
            yield Finding(
                code="IGN-CD-RETURN",
                severity=Severity.WARNING,
                subjects=(at_terminal(ref), at_part(unit.role)),
                remedy=Remedy("run-heavy-return"),
                source="common practice",
            )


def spark_return_missing(examined: Examined) -> Iterator[Finding]:
    """No wire of its own joins the unit's ground to the engine, where the spark returns."""
    configuration = examined.configuration
    for unit in configuration.parts_that(Capability.DISCHARGES):
        ref = TerminalRef(unit.role, "ground")
        links = links_of(configuration, CRANKING)
        reached = paths_from(links, str(ref), GROUND)
        if unit.terminal("ground") is None or (
            configuration.wires_at.get(ref) and metal_node("engine") in reached
        ):
            continue
        yield Finding(
            code="IGN-CD-GROUND",
            severity=Severity.WARNING,
            subjects=(at_terminal(ref), at_part(unit.role)),
            remedy=Remedy("run-ground-to-engine"),
            source="common practice",
        )
