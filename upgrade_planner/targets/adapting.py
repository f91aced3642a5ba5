"""
A shipped target for a car that is not the shipped one: the owner's lengths and extras go over.

Wires that an earlier owner led between parts of the profile do not: they are what the work puts
right. What hangs on a lamp, radio, fan or pump of the owner's does.
"""

from attrs import evolve

from upgrade_planner.configuration.composing.digest import digest_of
from upgrade_planner.configuration.composing.routing import NoWay, RouteMap
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Component, Configuration, Wire
from upgrade_planner.configuration.values.measures import Quantity
from upgrade_planner.configuration.ways import Run
from upgrade_planner.targets.carrying import same_job, turned
from upgrade_planner.targets.changing_over import for_voltage

EXTRAS = (Family.LAMP, Family.LOAD, Family.MOTOR, Family.GAUGE, Family.VOLTMETER)
"""What owners add for its own sake; switches, fuses and studs come with it."""

BESIDE = (Family.SWITCH, Family.RELAY, Family.PROTECTION, Family.JOINT, Family.GROUND_POINT)


def adapted(target: Configuration, car: Configuration, reference: Configuration) -> Configuration:
    """
    The target with measured lengths and extras of a car.

    Args:
        target: A shipped configuration of the same vehicle.
        car: The owner's.
        reference: The shipped configuration that the car is like.
    """
    parts = _extras(car, reference, target)
    whole = evolve(target, components=_in_order((*target.components, *parts)))
    wires = _wires_of(parts, car, whole)
    joined = {ref.role for wire in wires for ref in wire.ends}
    parts = [_for_target(part, car, target) for part in parts if part.role in joined]
    lengths = dict(_lengths(car, reference, target))
    if not parts and not lengths:
        return target
    measured = (
        evolve(wire, measured_length_m=lengths[wire.id]) if wire.id in lengths else wire
        for wire in target.wires
    )
    every = tuple(sorted((*measured, *wires), key=lambda wire: wire.id))
    components = _in_order((*target.components, *parts))
    made = evolve(target, components=components, wires=every)
    runs = {**target.runs, **_runs(made, {*lengths, *(wire.id for wire in wires)})}
    digest = digest_of((target.digest, components, every))
    return evolve(made, runs=runs, digest=digest)


def _in_order(parts: tuple[Component, ...]) -> tuple[Component, ...]:
    return tuple(sorted(parts, key=lambda part: part.role))


def _extras(car: Configuration, reference: Configuration, target: Configuration) -> list[Component]:
    """Parts that only the car has: extras, and what is joined to them by wires of its own."""
    own = {
        part.role: part
        for part in car.components
        if part.role not in reference.component_by_role
        and part.role not in target.component_by_role
    }
    taken = {role for role, part in own.items() if part.family in EXTRAS}
    grows = bool(taken)
    while grows:
        beside = {
            ref.role
            for wire in car.wires
            if wire.id not in reference.wire_by_id and {r.role for r in wire.ends} & taken
            for ref in wire.ends
            if ref.role in own and own[ref.role].family in BESIDE
        }
        grows = not beside <= taken
        taken |= beside
    return [own[role] for role in sorted(taken)]


def _wires_of(parts: list[Component], car: Configuration, whole: Configuration) -> list[Wire]:
    """Wires between these parts and the target, each end where it has its old job."""
    roles, wires = {part.role for part in parts}, []
    for wire in car.wires:
        if not {ref.role for ref in wire.ends} & roles:
            continue
        start, end = (same_job(turned(ref, car, whole), car, whole) for ref in wire.ends)
        if start is not None and end is not None and wire.id not in whole.wire_by_id:
            wires.append(evolve(wire, start=start, end=end, as_found=False))
    return wires


def _for_target(part: Component, car: Configuration, target: Configuration) -> Component:
    """An extra for the voltage of the target; what was found worn is looked after."""
    edit = for_voltage(part, car.vehicle.voltage_v, target.vehicle.voltage_v)
    given = edit.values["ratings"] if edit else {}
    changed = given if isinstance(given, dict) else {}
    numbers = {k: v.number for k, v in changed.items() if isinstance(v, Quantity)}
    return evolve(part, ratings={**part.ratings, **numbers}, as_found=False, condition=())


def _lengths(
    car: Configuration, reference: Configuration, target: Configuration
) -> list[tuple[str, float]]:
    """Lengths that were measured on the car, of wires that run between the same places."""
    found = []
    for wire in target.wires:
        old, shipped = car.wire_by_id.get(wire.id), reference.wire_by_id.get(wire.id)
        if old is None or old.measured_length_m is None or old.circuit != wire.circuit:
            continue
        is_own = shipped is None or shipped.measured_length_m != old.measured_length_m
        is_same_way = _places(wire, target) == _places(old, car)
        if is_own and is_same_way:
            found.append((wire.id, old.measured_length_m))
    return found


def _places(wire: Wire, of: Configuration) -> set[str]:
    return {of.component(ref.role).place for ref in wire.ends}


def _runs(made: Configuration, names: set[str]) -> dict[str, Run]:
    ways = RouteMap(tuple(place.id for place in made.places), made.routes)
    runs = {}
    for name in sorted(names):
        wire = made.wire_by_id[name]
        ends = [made.component(ref.role).place for ref in wire.ends]
        try:
            runs[name] = ways.run(*ends, loom=wire.loom, measured_m=wire.measured_length_m)
        except NoWay:  # the loom ends elsewhere now
            runs[name] = ways.run(*ends, measured_m=wire.measured_length_m)
    return runs
