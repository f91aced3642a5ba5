"""Rules on what wires lose, how warm they get, and whether they are thick enough."""

from collections.abc import Callable, Iterator
from functools import partial

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
from upgrade_planner.configuration.edits import Resize
from upgrade_planner.configuration.kinds import Family, TerminalUse
from upgrade_planner.configuration.model import Conductor, Configuration, TerminalRef, Wire
from upgrade_planner.configuration.values.measures import (
    ampere,
    celsius,
    is_above,
    ratio,
    square_mm,
    volt,
)
from upgrade_planner.configuration.values.sizes import WireSize, parse_wire_size, sizes_in
from upgrade_planner.electrical.circuit import role_of, wire_ohms
from upgrade_planner.electrical.drop_limits import DropLimit, limit_for
from upgrade_planner.electrical.heat_balance import conductor_temperature
from upgrade_planner.electrical.lasting_current import MARGIN_RATIO, is_marine, lasting_current
from upgrade_planner.electrical.models.context import ref_of
from upgrade_planner.electrical.operating_points import OperatingPoint
from upgrade_planner.electrical.short_circuit import CRANKING_CIRCUITS
from upgrade_planner.electrical.states import Engine

CRANKING_STATE = "cranking"
SMALL_A = 0.01
"""Currents below this lose nothing worth naming. [A] Source: our assumption."""
FAR_ABOVE_K = 40.0
"""A conductor this far above its rating is a danger. [K] Source: our assumption."""
MORE_CURRENT = 1.1
"""A load behind a thicker wire draws more, by its better voltage. [1] Source: our assumption."""
MECHANICAL_MM2 = 0.75
"""Thinnest copper that stands handling and vibration: 18 SAE or 0.75 mm². Source: common
practice."""
MECHANICAL_SIZES = (parse_wire_size("18 SAE"), parse_wire_size("0.75 mm²"))
"""The same as sizes to ask for."""
REGULATION_MM2 = 1.15
"""16 SAE, just. Source: 33 CFR 183.425, 16 gauge, or 18 in a sheath or bundle."""
SHORT_A = 300.0
"""A battery that gives more, and not to its starter, is short-circuited. [A] Source: our
assumption."""
TWICE = 2.0
"""A wire that loses so many times what it may serves badly; up to there it serves. [1] Source: our
assumption; workshop manuals reject a starting circuit at about twice what they call good."""
LOADS = (Family.LAMP, Family.LOAD, Family.MOTOR)


def wire_drop(examined: Examined) -> Iterator[Finding]:
    """A wire loses more than its circuit may lose from end to end."""
    volts = examined.configuration.vehicle.voltage_v
    for wire in examined.configuration.wires:
        if wire.conductor is Conductor.RESISTANCE:
            continue
        worst: tuple[float, float, DropLimit, OperatingPoint] | None = None
        for point in _calm(examined):
            current_a, drop_v = abs(point.wire_current_a(wire.id)), point.wire_drop_v(wire)
            if current_a < SMALL_A or (_cranks(point) and wire.circuit == "ground"):
                continue  # a ground wire beside the cable is judged with the cranking return
            limit = limit_for(wire.circuit, current_a, volts)
            if not is_above(volt(drop_v), volt(limit.limit_v)):
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

    size = _size_for(configuration, does)
    if size is None:
        return Remedy("lay-second-wire")
    return _of_size("fit-with-tight-joints", wire, size)


def path_drop(examined: Examined) -> Iterator[Finding]:
    """All that a load's feed loses, from the battery or alternator to the load."""
    yield from _lossy_loads(examined)
    point, volts = examined.points.get(CRANKING_STATE), examined.configuration.vehicle.voltage_v
    for part in examined.configuration.components if point is not None else ():
        signal = part.ref_as(TerminalUse.START_SIGNAL)
        if signal is None or point is None:
            continue
        solenoid_v = point.live_v(signal) or 0.0
        lost_v, limit = point.battery_v - solenoid_v, limit_for("start signal", 0.0, volts)
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


def hot_wire(examined: Examined) -> Iterator[Finding]:
    """The copper gets hotter than its insulation stands for good."""
    for wire in examined.configuration.wires:
        rated_c = wire.insulation.rated_c
        warm_c = _warmest_c(wire, examined)
        if not is_above(celsius(warm_c), celsius(rated_c)):
            continue
        current_a = _greatest_a(wire, examined)
        air_c = examined.configuration.runs[wire.id].ambient_c
        size = _size_for(
            examined.configuration,
            partial(_stays_cool, current_a=current_a, air_c=air_c, most_c=rated_c),
        )
        yield Finding(
            code="DROP-HOT",
            severity=Severity.DANGER if warm_c > rated_c + FAR_ABOVE_K else Severity.WARNING,
            subjects=(at_wire(wire.id),),
            value=celsius(warm_c),
            limit=celsius(rated_c),
            facts={
                "current": ampere(current_a),
                "air": celsius(air_c),
                "insulation": wire.insulation.name,
            },
            remedy=_of_size("fit-at-least", wire, size) if size else Remedy("share-current"),
            source="heat balance of a single wire in still air; rating of the insulation class: "
            f"{wire.insulation.source}",
        )


def _warmest_c(wire: Wire, examined: Examined) -> float:
    return max((p.temperature_c[wire.id] for p in _calm(examined)), default=0.0)


def _stays_cool(size: WireSize, current_a: float, air_c: float, most_c: float) -> bool:
    return conductor_temperature(size, current_a, air_c) <= most_c


def current_above_table(examined: Examined) -> Iterator[Finding]:
    """
    A wire carries more than its size is allowed; cranking cables and links are exempt.

    Where the rule is the heat of the copper, one that is too hot is told so and no more.
    """
    for wire in examined.configuration.wires:
        if wire.circuit in CRANKING_CIRCUITS or wire.conductor is not Conductor.COPPER:
            continue
        warm_c = celsius(_warmest_c(wire, examined))
        is_told = not is_marine(examined.configuration) and is_above(
            warm_c, celsius(wire.insulation.rated_c)
        )
        if is_told:
            continue
        current_a = _greatest_a(wire, examined)
        allowed_a, source = lasting_current(wire, examined.configuration)
        if not is_above(ampere(current_a), ampere(allowed_a)):
            continue
        yield Finding(
            code="DROP-CURRENT",
            severity=Severity.WARNING,
            subjects=(at_wire(wire.id),),
            value=ampere(current_a),
            limit=ampere(allowed_a),
            facts={"size": wire.size, "margin": ratio(MARGIN_RATIO)},
            remedy=remedy_by_size(wire, current_a, examined.configuration),
            source=source,
        )


def remedy_by_size(wire: Wire, current_a: float, configuration: Configuration) -> Remedy:
    """The remedy for too much current: the smallest size that would do, if there is one."""
    size = size_that_would_do(wire, current_a, configuration)
    if size is None:
        return Remedy("change-insulation-or-share-current")
    return _of_size("fit-at-least-with-this-insulation", wire, size)


def _of_size(code: str, wire: Wire, size: WireSize) -> Remedy:
    return Remedy(code, {"size": size}, edits=(Resize(wire.id, size),))


def size_that_would_do(
    wire: Wire, current_a: float, configuration: Configuration
) -> WireSize | None:
    """The smallest standard size of the vehicle's system that may carry a current for good."""
    return _size_for(
        configuration, lambda item: lasting_current(wire, configuration, item)[0] >= current_a
    )


def _greatest_a(wire: Wire, examined: Examined) -> float:
    """Greatest current that lasts: cranking is too short to count. [A]"""
    lasting = [p for p in _calm(examined) if not _cranks(p)]
    return max((abs(p.wire_current_a(wire.id)) for p in lasting), default=0.0)


def _calm(examined: Examined) -> list[OperatingPoint]:
    """Points without a short circuit: there, every wire on its way would be named."""
    battery = ref_of(examined.ways.live).role
    return [p for p in examined.points.values() if -p.element_current_a(battery) < SHORT_A]


def _cranks(point: OperatingPoint) -> bool:
    return point.state.engine is Engine.CRANKING


def _size_for(configuration: Configuration, does: Callable[[WireSize], bool]) -> WireSize | None:
    """The smallest size of the vehicle's system that does."""
    sizes = sizes_in(configuration.vehicle.size_system)
    return next((size for size in sizes if does(size)), None)


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
