"""Rules on the feed of the ignition: full voltage where it is wanted, dead when the key is off."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Finding,
    Remedy,
    Severity,
    at_part,
    at_terminal,
    at_wire,
    at_wires,
)
from upgrade_planner.checks.ignition_parts import (
    Fed,
    alive_v,
    back_of,
    bridged_ballasts,
    fed_parts,
    least_supply_v,
    supply_v,
    working_v,
)
from upgrade_planner.checks.moves import taken_out, to_switched
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
from upgrade_planner.configuration.edits import Edit
from upgrade_planner.configuration.kinds import Family, TerminalUse
from upgrade_planner.configuration.model import Component, Configuration
from upgrade_planner.configuration.values.measures import volt
from upgrade_planner.electrical.models.context import node_of
from upgrade_planner.electrical.states import CRANKING, KEY_ON, OFF, State

COIL_CRANKING_V = 9.0
"""Least voltage at a ballasted coil while cranking, at 12 V. [V]
Source: British workshop manual, 1960s, ignition test 1."""


def _path(fed: Fed, configuration: Configuration, state: State) -> Path | None:
    """Plain path from the battery to a fed part in a state; None if there is none."""
    reached = paths_from(links_of(configuration, state), fed.node)
    return reached.get(live_node(configuration))


def _resistive_path(fed: Fed, configuration: Configuration, state: State) -> Path | None:
    reached = paths_from(links_of(configuration, state), fed.node, WITH_RESISTANCE)
    return reached.get(live_node(configuration))


def feed_live_with_key_off(examined: Examined) -> Iterator[Finding]:
    """The ignition stays on when the key is off: the engine cannot be stopped."""
    configuration = examined.configuration
    point = examined.points.get(OFF.name)
    for fed in fed_parts(configuration):
        path = _resistive_path(fed, configuration, OFF)
        volts = None if point is None else supply_v(fed, point)
        if path is None and (volts is None or volts < alive_v(fed, configuration)):
            continue
        yield Finding(
            code="IGN-KEY-OFF",
            cause="joined" if volts is None else "computed",
            severity=Severity.DANGER,
            subjects=(at_terminal(fed.ref), *at_wires(names_on(path) if path else ())),
            value=None if volts is None else volt(volts),
            facts={"fed": at_terminal(fed.ref)},
            remedy=Remedy("move-feed-dead-with-key-off", edits=_to_switched(path, configuration)),
            source="position map of the key switch in the profile; operating point 'off'",
        )


def _to_switched(path: Path | None, configuration: Configuration) -> tuple[Edit, ...]:
    """The wire that takes the feed from what is always live goes to the key's ignition terminal."""
    wires = [configuration.wire_by_id[name] for name in names_on(path or ())]
    wire = next((w for w in wires if w.circuit == "ignition feed"), None)
    if path is None or wire is None:
        return ()
    nodes = [node for link in path for node in (link.one, link.other)]
    far = max(wire.ends, key=lambda ref: max(i for i, n in enumerate(nodes) if n == node_of(ref)))
    return to_switched(wire, far, configuration)


def feed_dead_in_start(examined: Examined) -> Iterator[Finding]:
    """A part that is fed in run has no feed, and no bypass, while cranking: no start."""
    configuration = examined.configuration
    for fed in fed_parts(configuration):
        run = _path(fed, configuration, KEY_ON)
        is_full = run is not None
        run = run or _resistive_path(fed, configuration, KEY_ON)
        left = _resistive_path(fed, configuration, CRANKING)
        is_weaker = is_full and _path(fed, configuration, CRANKING) is None
        if run is None or (left is not None and not is_weaker):
            continue
        yield Finding(
            code="IGN-START",
            cause="dead" if left is None else "through-resistance",
            severity=Severity.WARNING,
            subjects=(at_terminal(fed.ref), *at_wires(names_on(run))),
            remedy=Remedy("move-feed-live-in-start"),
            source="position map of the key switch in the profile",
        )


def feed_open(examined: Examined) -> Iterator[Finding]:
    """A unit or coil that nothing feeds with the key in run."""
    configuration = examined.configuration
    for fed in fed_parts(configuration):
        if _resistive_path(fed, configuration, KEY_ON) is None:
            yield Finding(
                code="IGN-NO-FEED",
                severity=Severity.WARNING,
                subjects=(at_terminal(fed.ref),),
                remedy=Remedy("run-feed"),
                source="position map of the key switch in the profile",
            )


def starved_unit(examined: Examined) -> Iterator[Finding]:
    """A unit that wants full voltage is fed only through a resistance."""
    configuration = examined.configuration
    for fed in fed_parts(configuration):
        path = _resistive_path(fed, configuration, KEY_ON) if fed.is_unit else None
        if path is None or _path(fed, configuration, KEY_ON) is not None:
            continue
        point = examined.points.get("loaded")
        volts = None if point is None else point.live_v(fed.ref)
        resistances = [at_link(link) for link in path if link.medium is LinkMedium.RESISTANCE]
        yield Finding(
            code="IGN-STARVED",
            cause="joined" if volts is None else "computed",
            severity=Severity.WARNING,
            subjects=(at_part(fed.part.role), *resistances),
            value=None if volts is None else volt(volts),
            remedy=Remedy("run-copper-feed"),
            source="common practice; 1970 light-truck manual: 5 to 7 V on such a feed",
        )


def low_while_cranking(examined: Examined) -> Iterator[Finding]:
    """A unit below its least supply, or a ballasted coil below 9 V, while the starter turns."""
    configuration = examined.configuration
    point = examined.points.get(CRANKING.name)
    if point is None:
        return
    links = links_of(configuration, CRANKING)
    for fed in fed_parts(configuration):
        if fed.is_unit and not _has_return(fed.part, configuration, links):
            continue  # a rule of its own says so
        volts = working_v(fed, point)
        path = _resistive_path(fed, configuration, CRANKING)
        if volts is None or path is None:
            continue
        if not fed.is_unit and _path(fed, configuration, KEY_ON) is not None:
            continue  # no ballast: the coil is made for what the battery gives
        limit, source = _cranking_limit(fed, configuration)
        if volts < limit:
            has_bypass = fed.is_unit or _path(fed, configuration, CRANKING) is not None
            yield Finding(
                code="IGN-CRANK-LOW" if has_bypass else "IGN-NO-BYPASS",
                severity=Severity.WARNING,
                subjects=(at_terminal(fed.ref), *at_wires(names_on(path))),
                value=volt(volts),
                limit=volt(limit),
                facts={
                    "fed": at_terminal(fed.ref),
                    "system": volt(configuration.vehicle.voltage_v),
                },
                remedy=_cranking_remedy(fed, has_bypass),
                source=source,
            )


def _cranking_limit(fed: Fed, configuration: Configuration) -> tuple[float, str]:
    if fed.is_unit:
        given = "minimum_supply" in fed.part.ratings
        source = "least supply in the profile" if given else "our assumption: 8 V at 12 V"
        return least_supply_v(fed.part, configuration), source
    volts = configuration.vehicle.voltage_v
    scaled = "" if volts == 12.0 else "; scaled from 12 V to {system:g}"
    return COIL_CRANKING_V * volts / 12.0, f"British workshop manual, 1960s, test 1{scaled}"


def _cranking_remedy(fed: Fed, has_bypass: bool) -> Remedy:
    if not has_bypass:
        return Remedy("run-bypass", {"fed": at_terminal(fed.ref)})
    return Remedy("look-for-drop-while-cranking")


def bypass_without_ballast(examined: Examined) -> Iterator[Finding]:
    """A start bypass on a part that has full voltage in run: it feeds the contact back."""
    configuration = examined.configuration
    for fed in fed_parts(configuration):
        if not fed.is_unit and (
            _path(fed, configuration, KEY_ON) is None or bridged_ballasts(fed, configuration)
        ):
            continue  # a ballast works, or a rule of its own asks for it back
        reached = paths_from(wires_of(configuration), fed.node)
        names = {name for path in reached.values() for name in names_on(path)}
        bypasses = [w for w in configuration.wires if w.circuit == "start bypass" and w.id in names]
        for wire in bypasses:
            yield Finding(
                code="IGN-BYPASS",
                severity=Severity.WARNING,
                subjects=(at_wire(wire.id), at_part(fed.part.role)),
                remedy=Remedy("take-bypass-off", edits=taken_out([wire.id])),
                source="our own reasoning from the wiring",
            )


def unit_not_grounded(examined: Examined) -> Iterator[Finding]:
    """Unit or points have no path of metal and wire to the grounded battery post."""
    configuration = examined.configuration
    links = links_of(configuration, KEY_ON)
    for part in configuration.components:
        is_meant = part.terminal_as(TerminalUse.KEY_FEED) or part.family is Family.POINTS
        if is_meant and not _has_return(part, configuration, links):
            yield Finding(
                code="IGN-GROUND",
                severity=Severity.WARNING,
                subjects=(at_part(part.role),),
                remedy=Remedy("join-ground"),
                source="common practice",
            )


def _has_return(part: Component, configuration: Configuration, links: tuple[Link, ...]) -> bool:
    """True if the part's current gets back; that of a coil pack returns through its controller."""
    back = back_of(part, configuration)
    if part.family is Family.COIL_PACK:
        return True
    return back is not None and grounded_node(configuration) in paths_from(links, back, GROUND)
