"""Rules on the way back: cables and straps between battery, engine and body."""

from collections.abc import Iterator
from math import inf

from attrs import evolve

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Facts,
    Finding,
    Remedy,
    Severity,
    at_node,
    at_part,
    at_parts,
    at_wire,
    at_wires,
)
from upgrade_planner.checks.paths import (
    GROUND,
    ISOLATOR,
    grounded_node,
    links_of,
    paths_from,
    return_of,
)
from upgrade_planner.configuration.edits import Resize
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Configuration, Joint, TerminalRef, Wire
from upgrade_planner.configuration.values.measures import ampere, is_above, square_mm, volt
from upgrade_planner.configuration.values.sizes import sizes_in
from upgrade_planner.electrical.branches import Branch, Guard
from upgrade_planner.electrical.circuit import wire_name
from upgrade_planner.electrical.drop_limits import DropLimit, limit_for, limit_while_cranking
from upgrade_planner.electrical.models.context import metal_node, ref_of
from upgrade_planner.electrical.operating_points import OperatingPoint
from upgrade_planner.electrical.states import CRANKING

STRAP_MM2 = 4.0
"""Thinnest wire that counts as a strap between engine and body. [mm²] Source: our assumption."""

FLOWS_A = 1.0
"""Less than this while cranking is no current of a starter. [A] Source: our assumption."""

ONE_SIZE_RATIO = 0.65
"""Copper of a cable by that of the next larger one, at least: what it loses more is judged by what
is measured while cranking. [1] Source: our assumption, 16 of 25 mm²."""


def battery_ground_thin(examined: Examined) -> Iterator[Finding]:
    """The same current flows in both cranking cables: the ground must not be the thinner one."""
    configuration = examined.configuration
    live = _thickest_at(examined.ways.live, configuration)
    ground = _thickest_at(examined.ways.reference, configuration)
    if live and ground and ground.size.area_mm2 < live.size.area_mm2 * 0.99:
        much_less = ground.size.area_mm2 < live.size.area_mm2 * ONE_SIZE_RATIO
        yield Finding(
            code="GND-BATTERY-THIN",
            severity=Severity.WARNING if much_less else Severity.NOTE,
            subjects=at_wires((ground.id, live.id)),
            value=square_mm(ground.size.area_mm2),
            limit=square_mm(live.size.area_mm2),
            facts={"ground": ground.size, "live": live.size},
            remedy=Remedy(
                "fit-battery-ground", {"size": live.size}, edits=(Resize(ground.id, live.size),)
            ),
            source="common practice",
        )


def _thickest_at(post: str, configuration: Configuration) -> Wire | None:
    wires = configuration.wires_at.get(ref_of(post), ())
    return max(wires, key=lambda wire: wire.size, default=None)


def _lumps(configuration: Configuration) -> tuple[str, ...]:
    """Lumps of metal that a part uses as its ground."""
    found = [
        configuration.place_by_id[part.place].metal
        for part in configuration.components
        if part.family is Family.GROUND_POINT
        or any(t.connection.joint is Joint.CASE for t in part.terminals)
    ]
    return tuple(dict.fromkeys(metal_node(metal) for metal in found if metal))


def metal_without_battery(examined: Examined) -> Iterator[Finding]:
    """Parts grounded on metal that nothing joins to the battery."""
    for lump in _lumps(examined.configuration):
        if lump not in examined.ways.grounded:
            yield Finding(
                code="GND-NO-PATH",
                severity=Severity.DANGER,
                subjects=(at_node(lump), *at_parts(_grounds_on(lump, examined))),
                remedy=Remedy("fit-strap-of-metal"),
                source="common practice",
            )


def _grounds_on(lump: str, examined: Examined) -> list[str]:
    configuration = examined.configuration
    return [
        part.role
        for part in configuration.components
        if part.family is Family.GROUND_POINT
        and metal_node(configuration.place_by_id[part.place].metal) == lump
    ]


def thin_strap(examined: Examined) -> Iterator[Finding]:
    """Two lumps of metal joined by a thin wire only."""
    lumps = [lump for lump in _lumps(examined.configuration) if lump in examined.ways.grounded]
    for lump in lumps[1:]:
        area_mm2, weakest = _widest(lumps[0], lump, examined)
        if weakest is not None and area_mm2 < STRAP_MM2:
            yield Finding(
                code="GND-STRAP-THIN",
                severity=Severity.WARNING,
                subjects=(at_wire(weakest),),
                value=square_mm(area_mm2),
                limit=square_mm(STRAP_MM2),
                facts={"one": at_node(lumps[0]), "other": at_node(lump)},
                remedy=_thicker_strap(weakest, lumps[0], lump, examined.configuration),
                source="our assumption",
            )


def _thicker_strap(wire_id: str, one: str, other: str, configuration: Configuration) -> Remedy:
    sizes = sizes_in(configuration.vehicle.size_system)
    size = next(size for size in sizes if size.area_mm2 >= STRAP_MM2)
    facts: Facts = {"size": size, "one": at_node(one), "other": at_node(other)}
    return Remedy("fit-strap-of-size", facts, edits=(Resize(wire_id, size),))


def _widest(start: str, end: str, examined: Examined) -> tuple[float, str | None]:
    """Copper of the thinnest wire on the thickest way [mm²], and that wire."""
    ways = examined.ways
    wires = {wire_name(w.id): w for w in examined.configuration.wires}
    areas = {name: wire.size.area_mm2 for name, wire in wires.items()}
    for area_mm2 in sorted({0.0, *areas.values()}, reverse=True):
        thin = frozenset(name for name, area in areas.items() if area < area_mm2)
        if end in _joined_by(start, thin, examined):
            path = ways.way(start, end, through_metal=True) or ()
            names = [b.name for b in path if areas.get(b.name) == area_mm2]
            found = names or [name for name, area in areas.items() if area == area_mm2]
            return area_mm2, wires[found[0]].id if found else None
    return inf, None


def _joined_by(start: str, barred: frozenset[str], examined: Examined) -> set[str]:
    found, queue = {start}, [start]
    while queue:
        node = queue.pop()
        for branch, other in examined.ways.at.get(node, ()):
            if other not in found and _is_plain(branch, barred):
                found.add(other)
                queue.append(other)
    return found


def _is_plain(branch: Branch, barred: frozenset[str]) -> bool:
    return branch.guard is Guard.NONE and branch.name not in barred


def cranking_return(examined: Examined) -> Iterator[Finding]:
    """What the ground side of the starter loses while it cranks."""
    point, configuration = examined.points.get("cranking"), examined.configuration
    for part in configuration.components if point is not None else ():
        back = part.return_terminal
        if part.family is not Family.STARTER or back is None or point is None:
            continue
        lost_v = abs(point.live_v(TerminalRef(part.role, back)) or 0.0)
        current_a = abs(point.element_current_a(ref_of(examined.ways.live).role))
        limit = ground_limit(configuration, current_a)
        if current_a < FLOWS_A:
            continue  # its ground is open: another rule says so
        if is_above(volt(lost_v), volt(limit.limit_v)):
            yield Finding(
                code="GND-CRANKING",
                severity=Severity.WARNING,
                subjects=(at_part(part.role), *at_wires(_carrying(examined, current_a))),
                value=volt(lost_v),
                limit=volt(limit.limit_v),
                facts={"current": ampere(current_a)},
                remedy=Remedy("fit-ground-like-starter-cable"),
                source=limit.source,
            )


def ground_limit(configuration: Configuration, current_a: float) -> DropLimit:
    """What may be lost while cranking from the starter's frame to the battery post."""
    volts = configuration.vehicle.voltage_v
    limit = limit_while_cranking("ground side", current_a, volts)
    if not has_isolator_in_ground(configuration):
        return limit
    switch = limit_for("starter cable", 0.0, volts, part="mechanical switch")
    return evolve(
        limit,
        limit_v=limit.limit_v + switch.limit_v,
        source=f"{limit.source}; with the switch in it, same page",
    )


def has_isolator_in_ground(configuration: Configuration) -> bool:
    """True if a starter's current returns through a battery isolator."""
    links = links_of(configuration, CRANKING)
    backs = filter(None, map(return_of, configuration.parts_of(Family.STARTER)))
    paths = (paths_from(links, back, GROUND).get(grounded_node(configuration)) for back in backs)
    return any(
        ISOLATOR in link.name and not link.is_wire for path in paths if path for link in path
    )


def _carrying(examined: Examined, current_a: float) -> list[str]:
    """Return wires that carry more than a quarter of the cranking current."""
    point = examined.points["cranking"]
    return [
        wire.id
        for wire in examined.configuration.wires
        if abs(point.wire_current_a(wire.id)) > current_a / 4
        and any(str(ref) in examined.ways.grounded for ref in wire.ends)
    ]


def loaded_return(examined: Examined) -> Iterator[Finding]:
    """Parts whose ground stands too far from the battery's, in the state that shows it most."""
    limit = limit_for("ground", 0.0, examined.configuration.vehicle.voltage_v)
    for state in ("loaded", "key_on"):
        point = examined.points.get(state)
        lifted = _lifted_v(examined, point, limit.limit_v) if point else {}
        if point is not None and lifted:
            yield Finding(
                code="GND-LOADED",
                severity=Severity.WARNING,
                subjects=at_parts(sorted(lifted, key=lambda role: (-lifted[role], role))),
                value=volt(max(lifted.values())),
                limit=volt(limit.limit_v),
                facts={"state": point.state},
                remedy=Remedy("renew-grounds-and-straps"),
                source=limit.source,
            )
            return


def _lifted_v(examined: Examined, point: OperatingPoint, limit_v: float) -> dict[str, float]:
    """Voltage of each part's ground terminal against the battery's, where above the limit. [V]"""
    found = {}
    for part in examined.configuration.components:
        back = next((n for n in ("return", "ground", "case") if part.terminal(n)), None)
        node = f"{part.role}.{back}"
        volts = abs(point.node_v(node) or 0.0)
        # half the battery's voltage is no drop: a switch in the return is open
        is_drop = is_above(volt(volts), volt(limit_v)) and volts < point.battery_v / 2
        if back is not None and node in examined.ways.grounded and is_drop:
            found[part.role] = volts
    return found


def case_without_metal(examined: Examined) -> Iterator[Finding]:
    """A part that is grounded by its case, on something that is no metal."""
    configuration = examined.configuration
    for part in configuration.components:
        has_case = any(t.connection.joint is Joint.CASE for t in part.terminals)
        by_wire = any(
            configuration.wires_at.get(TerminalRef(part.role, t.name))
            for t in part.terminals
            if t.name in ("case", "ground", "return")
        )
        place = configuration.place_by_id[part.place]
        if has_case and not by_wire and not place.metal:
            yield Finding(
                code="GND-CASE",
                severity=Severity.WARNING,
                subjects=(at_part(part.role),),
                facts={"place": place.name},
                remedy=Remedy("give-ground-wire"),
                source="common practice",
            )
