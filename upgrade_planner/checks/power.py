"""Rules on getting current to the loads and back, only when wanted, and nowhere else."""

from collections.abc import Iterable, Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Finding,
    Remedy,
    Severity,
    Subject,
    at_part,
    at_parts,
    at_terminal,
    at_wire,
    at_wires,
)
from upgrade_planner.checks.ignition_parts import is_driven
from upgrade_planner.configuration.edits import TakeOut
from upgrade_planner.configuration.kinds import Family, TerminalUse
from upgrade_planner.configuration.model import Component, TerminalRef, Wire
from upgrade_planner.configuration.values.measures import ampere, volt
from upgrade_planner.electrical.batteries import batteries_of
from upgrade_planner.electrical.branches import Guard, is_out_of_work, wires_on
from upgrade_planner.electrical.models.context import is_metal, node_of
from upgrade_planner.electrical.operating_points import SAME_DIGITS, OperatingPoint
from upgrade_planner.electrical.performance import battery_current_a

LIVE_V = 1.0
"""A terminal above this is live. [V] Source: our assumption."""
DRAIN_A = 0.050
"""Source: common practice for a vehicle at rest."""
DRAIN_WITHOUT_MEMORY_A = 0.025
"""Without clock or radio memory, which no profile kind stands for. Source: common practice."""
NOT_SOLVED = "PWR-NOT-SOLVED"
"""Code of the finding that nothing could be computed."""


def not_solved(examined: Examined) -> Iterator[Finding]:
    """No voltages satisfy the wiring: something is joined to nothing, or works against itself."""
    if examined.not_solved:
        yield Finding(
            code=NOT_SOLVED,
            severity=Severity.DANGER,
            subjects=at_parts(_mentioned(examined)),
            facts={"why": examined.not_solved},
            remedy=Remedy("look-for-source-not-joined"),
            source="network computation",
        )


def _mentioned(examined: Examined) -> tuple[str, ...]:
    roles = (part.role for part in examined.configuration.components)
    return tuple(role for role in roles if role in examined.not_solved) or ("battery",)


def short_circuit(examined: Examined) -> Iterator[Finding]:
    """Wires, contacts and fuses alone join the live post to the grounded one."""
    ways = examined.ways
    if not ways.is_shorted:
        return
    way = ways.way(ways.live, ways.reference, through_metal=True)
    wires = wires_on(way or ())
    contacts = tuple(b.name for b in way or () if b in _contacts(examined))
    yield Finding(
        code="PWR-SHORT",
        severity=Severity.DANGER,
        subjects=(*at_wires(wires), *at_parts(_roles(contacts))),
        cause="through-contacts" if contacts else "through-wires",
        facts={"contacts": contacts},
        remedy=Remedy("take-wrong-end-off"),
        source="common practice",
    )


def _roles(contacts: Iterable[str]) -> Iterable[str]:
    """Parts of contacts by their names, each once."""
    return dict.fromkeys(name.partition(":")[0] for name in contacts)


def _contacts(examined: Examined) -> set[object]:
    names = {contact.name for contact in examined.ways.contacts}
    return {branch for branch in examined.ways.branches if branch.name in names}


def load_without_feed(examined: Examined) -> Iterator[Finding]:
    """Loads that the battery cannot reach whatever is switched on; one finding a missing feed."""
    if examined.ways.is_shorted:
        return
    parts = examined.configuration.components
    dead = {part.role: names for part in parts if (names := _dead(part, examined))}
    islands: dict[frozenset[str], list[str]] = {}
    for role, names in dead.items():
        joined = examined.ways.joined(
            f"{role}.{names[0]}", guards=NOT_LOADS, without=examined.ways.grounded
        )
        islands.setdefault(frozenset(joined), []).append(role)
    for island, roles in islands.items():
        several = len(roles) > 1
        refs = (TerminalRef(role, name) for role in roles for name in dead[role])
        head = _feed_end(island, examined) if several else ()
        yield Finding(
            code="PWR-NO-FEED",
            severity=Severity.WARNING,
            cause="several" if several else "one",
            subjects=(*head, *at_parts(roles), *map(at_terminal, refs)),
            facts={"parts": at_parts(roles)},
            remedy=Remedy("find-wire-missing-or-misplaced"),
            source="common practice",
        )


NOT_LOADS = (Guard.NONE, Guard.FUSE, Guard.LINK)


def _dead(part: Component, examined: Examined) -> list[str]:
    """Terminals of a part that ought to be fed and cannot be."""
    if is_out_of_work(part, examined.configuration):
        return []
    names = part.feed_terminals
    dead = [name for name in names if f"{part.role}.{name}" not in examined.ways.fed]
    grounded = [name for name in dead if f"{part.role}.{name}" in examined.ways.grounded]
    if part.one_feed_is_enough and len(dead) < len(names):
        return []
    if part.family is Family.COIL:
        is_positive = examined.configuration.vehicle.ground == "positive"
        if (grounded and is_positive) or is_driven(part, examined.configuration):
            return []  # a capacitor-discharge unit feeds it, in pulses
    return dead


def _feed_end(island: frozenset[str], examined: Examined) -> tuple[Subject, ...]:
    """Where the thickest wire of a dead stretch begins: there its feed is missing."""
    wires = [w for w in examined.configuration.wires if node_of(w.start) in island]
    thickest = max(wires, key=lambda wire: (wire.size, wire.id), default=None)
    return (at_terminal(thickest.start),) if thickest else ()


def _at(part: Component, name: str) -> Subject:
    return at_terminal(TerminalRef(part.role, name))


def _ignition_feed(part: Component) -> str | None:
    """Terminal of an ignition part that the key feeds or wakes."""
    return part.terminal_as(
        TerminalUse.SUPPLY if part.family is Family.COIL else TerminalUse.KEY_FEED
    )


def load_without_return(examined: Examined) -> Iterator[Finding]:
    """A load whose current finds no way back to the grounded post."""
    ways = examined.ways
    if ways.is_shorted:
        return
    for part in examined.configuration.components:
        back = part.return_terminal
        if not part.is_fed or back is None:
            continue
        start = f"{part.role}.{back}"
        own = frozenset(f"{part.role}.{t.name}" for t in part.terminals if t.name != back)
        is_live = start in ways.hard_live
        if not is_live and ways.leads_back(start, own):
            continue
        joined = ways.joined(start, without=ways.hard_live | own)
        if not is_live and any(is_metal(node) for node in joined):
            continue  # all that stands on metal without a way to the battery is one finding
        if is_live or ways.reference not in joined:
            yield Finding(
                code="PWR-NO-RETURN",
                severity=Severity.WARNING,
                subjects=(at_part(part.role), _at(part, back)),
                remedy=Remedy("fit-ground-wire-or-clean-mounting"),
                source="common practice",
            )


def live_with_key_off(examined: Examined) -> Iterator[Finding]:
    """Ignition parts or the starter solenoid that are live when they must be dead."""
    for state in ("off", "key_on", "loaded"):
        point = examined.points.get(state)
        for part in examined.configuration.components if point is not None else ():
            signal = part.terminal_as(TerminalUse.START_SIGNAL)
            name = signal or _ignition_feed(part)
            if name is None or (state != "off" and signal is None):
                continue
            volts = _across_v(part, name, point) if point else None
            if volts is not None and volts > LIVE_V and point is not None:
                solenoid = signal is not None
                yield Finding(
                    code="PWR-SOLENOID-LIVE" if solenoid else "PWR-OFF-LIVE",
                    severity=Severity.DANGER,
                    subjects=(at_part(part.role), *_feeding(part.role, name, examined)),
                    value=volt(volts),
                    facts={"terminal": name, "state": point.state},
                    remedy=Remedy("move-feed-to-dead-terminal"),
                    source="common practice",
                )
                if solenoid:
                    return


def _across_v(part: Component, name: str, point: OperatingPoint) -> float | None:
    """From the part's return to a terminal: on metal without a way back both float alike. [V]"""
    volts = point.live_v(TerminalRef(part.role, name))
    back = part.return_terminal
    return_v = point.live_v(TerminalRef(part.role, back)) if back is not None else None
    return volts if volts is None or return_v is None else volts - return_v


def _feeding(role: str, name: str, examined: Examined) -> tuple[Subject, ...]:
    """Wires at a terminal, and on the way to it from the live post."""
    way = examined.ways.way(examined.ways.live, f"{role}.{name}") or ()
    wires = wires_on(way)
    at = [w.id for w in examined.configuration.wires_at.get(TerminalRef(role, name), ())]
    return at_wires(dict.fromkeys((*at, *wires)))


def dead_when_needed(examined: Examined) -> Iterator[Finding]:
    """Ignition dead in run or while cranking; solenoid dead while cranking."""
    for state in ("key_on", "cranking"):
        point = examined.points.get(state)
        for part in examined.configuration.components if point is not None else ():
            name = _ignition_feed(part)
            if state == "cranking":
                name = part.terminal_as(TerminalUse.START_SIGNAL) or name
            if name is None or point is None or is_out_of_work(part, examined.configuration):
                continue
            if part.family is Family.COIL and is_driven(part, examined.configuration):
                continue
            volts = point.live_v(TerminalRef(part.role, name)) or 0.0
            if volts < LIVE_V and not _is_back_of_coil(part, point):
                yield Finding(
                    code="PWR-DEAD",
                    severity=Severity.WARNING,
                    subjects=(at_part(part.role), _at(part, name)),
                    value=volt(volts),
                    facts={"terminal": name, "state": point.state},
                    remedy=Remedy("follow-feed-to-live-terminal"),
                    source="common practice",
                )


def _is_back_of_coil(part: Component, point: OperatingPoint) -> bool:
    """On positive ground the coil is fed at its negative terminal."""
    volts = point.live_v(TerminalRef(part.role, "negative")) if part.family is Family.COIL else None
    return volts is not None and volts > LIVE_V


def switched_on_but_dead(examined: Examined) -> Iterator[Finding]:
    """A switch that the loaded state turns on, none of whose terminals gets voltage."""
    point, configuration = examined.points.get("loaded"), examined.configuration
    if point is None:
        return
    for role, position in configuration.switch_positions.get("loaded", {}).items():
        switch = configuration.component_by_role.get(role)
        for group in switch.ratings.get("positions", {}).get(position, ()) if switch else ():
            if any(f"{role}.{name}" in examined.ways.grounded for name in group):
                continue  # it switches the ground side of a load
            volts = [point.live_v(TerminalRef(role, name)) or 0.0 for name in group]
            if max(volts) < LIVE_V:
                yield Finding(
                    code="PWR-SWITCH-DEAD",
                    severity=Severity.WARNING,
                    subjects=(at_part(role),),
                    facts={"position": position, "state": point.state},
                    remedy=Remedy("find-wire-missing-in-feed"),
                    source="common practice",
                )


def key_off_drain(examined: Examined) -> Iterator[Finding]:
    """Current that flows with the key off and everything at rest."""
    point = examined.points.get("off")
    drain_a = -battery_current_a(point) if point is not None else 0.0
    if point is None or drain_a <= DRAIN_WITHOUT_MEMORY_A:
        return
    wires = examined.configuration.wires
    path = [w for w in wires if abs(point.wire_current_a(w.id)) >= 0.2 * drain_a]
    yield Finding(
        code="PWR-DRAIN",
        severity=Severity.WARNING if drain_a > DRAIN_A else Severity.CAUTION,
        subjects=at_wires(_ordered(path, point)),
        value=ampere(drain_a),
        limit=ampere(DRAIN_A),
        facts={"without_memory": ampere(DRAIN_WITHOUT_MEMORY_A)},
        remedy=Remedy("move-feed-to-switched-terminal"),
        source="common practice",
    )


def _ordered(wires: list[Wire], point: OperatingPoint) -> tuple[str, ...]:
    passed_a = {w.id: round(abs(point.wire_current_a(w.id)), SAME_DIGITS) for w in wires}
    return tuple(sorted(passed_a, key=lambda wire_id: -passed_a[wire_id]))


def orphan_wire(examined: Examined) -> Iterator[Finding]:
    """A wire that nothing joins to the battery: it can never carry anything."""
    posts = [
        f"{b.role}.{t.name}" for b in batteries_of(examined.configuration) for t in b.terminals
    ]
    starts = [examined.ways.reference, *posts]  # of a pair in series, the cable between them too
    connected = set().union(*(examined.ways.joined(start) for start in starts))
    for wire in examined.configuration.wires:
        if not any(node_of(ref) in connected for ref in wire.ends):
            yield Finding(
                code="PWR-ORPHAN",
                severity=Severity.CAUTION,
                subjects=(at_wire(wire.id),),
                remedy=Remedy("take-out-or-cap", edits=(TakeOut(wire.id),)),
                source="common practice",
            )
