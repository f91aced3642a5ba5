"""Rules on what wires lose, how warm they get, and whether they are thick enough."""

from collections.abc import Iterator

from attrs import evolve

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Finding,
    Remedy,
    Severity,
    at_parts,
    at_wire,
    at_wires,
)
from upgrade_planner.checks.resizing import calm_points, cranks, remedy_of_size, smallest_size
from upgrade_planner.configuration.edits import Resize
from upgrade_planner.configuration.kinds import Family, TerminalUse
from upgrade_planner.configuration.model import Conductor, Configuration, TerminalRef, Wire
from upgrade_planner.configuration.values.measures import (
    ampere,
    is_above,
    square_mm,
    volt,
)
from upgrade_planner.configuration.values.sizes import WireSize, parse_wire_size, sizes_in
from upgrade_planner.electrical.circuit import role_of, wire_ohms
from upgrade_planner.electrical.drop_limits import DropLimit, limit_for
from upgrade_planner.electrical.lasting_current import is_marine
from upgrade_planner.electrical.operating_points import OperatingPoint

CRANKING_STATE = "cranking"
SMALL_A = 0.01
"""Currents below this lose nothing worth naming. [A] Source: our assumption."""
MORE_CURRENT = 1.1
"""A load behind a thicker wire draws more, by its better voltage. [1] Source: our assumption."""
MECHANICAL_MM2 = 0.75
"""Thinnest copper that stands handling and vibration: 18 SAE or 0.75 mm². Source: common
practice."""
MECHANICAL_SIZES = (parse_wire_size("18 SAE"), parse_wire_size("0.75 mm²"))
"""The same as sizes to ask for."""
REGULATION_MM2 = 1.15
"""16 SAE, just. Source: 33 CFR 183.425, 16 gauge, or 18 in a sheath or bundle."""
TWICE = 2.0
"""A wire that loses so many times what it may serves badly; up to there it serves. [1] Source: our
assumption; workshop manuals reject a starting circuit at about twice what they call good."""
LOADS = (Family.LAMP, Family.LOAD, Family.MOTOR)


def wire_drop(examined: Examined) -> Iterator[Finding]:
    """A wire loses more than its circuit may lose from end to end."""
    volts, points = examined.configuration.vehicle.voltage_v, calm_points(examined)
    for wire in examined.configuration.wires:
        if wire.conductor is Conductor.RESISTANCE:
            continue
        worst: tuple[float, float, DropLimit, OperatingPoint] | None = None
        for point in points:
            current_a, drop_v = abs(point.wire_current_a(wire.id)), point.wire_drop_v(wire)
            if current_a < SMALL_A or (cranks(point) and wire.circuit == "ground"):
                continue  # a ground wire beside the cable is judged with the cranking return
            limit = limit_for(wire.circuit, current_a, volts)
            if drop_v <= limit.limit_v or not is_above(volt(drop_v), volt(limit.limit_v)):
                continue
            if worst is None or drop_v / limit.limit_v > worst[0]:
                worst = (drop_v / limit.limit_v, drop_v, limit, point)
        if worst is not None:
            _, drop_v, limit, point = worst
            yield Finding(
                code="DROP-WIRE",
                cause="ground" if wire.circuit == "ground" else "live",
                severity=_of_loss(drop_v, limit.limit_v),
                subjects=(at_wire(wire.id),),
                value=volt(drop_v),
                limit=volt(limit.limit_v),
                facts={
                    "current": ampere(abs(point.wire_current_a(wire.id))),
                    "state": point.state,
                },
                remedy=_thicker(wire, point, limit.limit_v, examined.configuration),
                source=f"{limit.source} ({limit.status})",
            )


def _of_loss(drop_v: float, limit_v: float) -> Severity:
    return Severity.WARNING if drop_v > TWICE * limit_v else Severity.CAUTION


def _thicker(
    wire: Wire, point: OperatingPoint, limit_v: float, configuration: Configuration
) -> Remedy:
    """The smallest size whose drop, joints and a little more current included, is in order."""
    current_a = MORE_CURRENT * abs(point.wire_current_a(wire.id))
    warm_c = min(point.temperature_c[wire.id], wire.insulation.rated_c)

    def does(size: WireSize) -> bool:
        ohms = wire_ohms(evolve(wire, size=size), configuration, warm_c)
        return size.area_mm2 > wire.size.area_mm2 and current_a * ohms <= limit_v

    size = smallest_size(configuration, does)
    if size is None:
        return Remedy("lay-second-wire")
    return remedy_of_size("fit-with-tight-joints", wire, size)


def path_drop(examined: Examined) -> Iterator[Finding]:
    """All that a load's feed loses, from the battery or alternator to the load."""
    yield from _lossy_loads(examined)
    point, volts = examined.points.get(CRANKING_STATE), examined.configuration.vehicle.voltage_v
    for part in examined.configuration.components if point is not None else ():
        signal = part.ref_as(TerminalUse.START_SIGNAL)
        if signal is None or point is None:
            continue
        solenoid_v = point.live_v(signal) or 0.0
        lost_v, limit = (
            point.battery_v - solenoid_v,
            limit_for("start signal", 0.0, volts),
        )
        if solenoid_v > 1 and is_above(volt(lost_v), volt(limit.limit_v)):
            yield _lossy({part.role: lost_v}, limit, point)


def _lossy_loads(examined: Examined) -> Iterator[Finding]:
    point, volts = examined.points.get("loaded"), examined.configuration.vehicle.voltage_v
    if point is None:
        return
    source_v = _source_v(point, examined.configuration)
    limit = limit_for("lamps", 0.0, volts, part="ordinary")
    lost: dict[str, float] = {}
    running = _running(point)
    for part in examined.configuration.components:
        if part.family in LOADS and part.role in running:
            fed = [point.live_v(TerminalRef(part.role, t.name)) for t in part.terminals]
            lost[part.role] = source_v - max((v for v in fed if v is not None), default=0.0)
    most = volt(limit.limit_v)
    lossy = {role: drop_v for role, drop_v in lost.items() if is_above(volt(drop_v), most)}
    if lossy:
        yield _lossy(lossy, limit, point)


def _lossy(lost_v: dict[str, float], limit: DropLimit, point: OperatingPoint) -> Finding:
    return Finding(
        code="DROP-PATH",
        severity=Severity.WARNING,
        subjects=at_parts(sorted(lost_v, key=lambda role: -lost_v[role])),
        value=volt(max(lost_v.values())),
        limit=volt(limit.limit_v),
        facts={"state": point.state},
        remedy=Remedy("measure-feed-piece-by-piece"),
        source=limit.source,
    )


def _source_v(point: OperatingPoint, configuration: Configuration) -> float:
    """The highest voltage at a source. [V]"""
    found = [point.battery_v]
    for part in configuration.components:
        for name in ("output", "armature"):
            volts = point.live_v(TerminalRef(part.role, name)) if part.terminal(name) else None
            found.append(volts or 0.0)
    return max(found)


def _running(point: OperatingPoint) -> frozenset[str]:
    """Roles of the parts that take a current worth the name."""
    names = (n for n, a in point.solution.current_a.items() if abs(a) > 0.5 and " on " not in n)
    return frozenset(map(role_of, names))


def too_thin_to_handle(examined: Examined) -> Iterator[Finding]:
    """Copper that breaks when the loom is moved."""
    for wire in examined.configuration.wires:
        if wire.conductor is Conductor.COPPER and wire.size.area_mm2 < MECHANICAL_MM2:
            yield Finding(
                code="SIZE-MECHANICAL",
                severity=Severity.WARNING,
                subjects=(at_wire(wire.id),),
                value=square_mm(wire.size.area_mm2),
                limit=square_mm(MECHANICAL_MM2),
                facts={"size": wire.size},
                remedy=Remedy(
                    "fit-one-of-at-least",
                    {"sizes": MECHANICAL_SIZES},
                    edits=(Resize(wire.id, _strong_size(examined.configuration)),),
                ),
                source="common practice",
            )


def _strong_size(configuration: Configuration) -> WireSize:
    sizes = sizes_in(configuration.vehicle.size_system)
    return next(size for size in sizes if size.area_mm2 >= MECHANICAL_MM2)


def below_regulation_size(examined: Examined) -> Iterator[Finding]:
    """Sizes that the boat regulation takes only inside a sheath or bundle: one note, on boats."""
    if not is_marine(examined.configuration):
        return
    thin = tuple(
        wire.id
        for wire in examined.configuration.wires
        if wire.conductor is Conductor.COPPER
        and MECHANICAL_MM2 <= wire.size.area_mm2 < REGULATION_MM2
    )
    if thin:
        yield Finding(
            code="SIZE-REGULATION",
            severity=Severity.NOTE,
            subjects=at_wires(thin),
            value=len(thin),
            remedy=Remedy("keep-in-loom"),
            source="33 CFR 183.425: 16 gauge, or 18 inside a sheath or bundle",
        )
