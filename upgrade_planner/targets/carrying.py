"""
What of the owner's car goes over into a target whose systems are others.

A system brings its wires with the sizes and ways of its own; where the car has the same wire, the
car's is kept: its ends on parts that stay, its measured length, its copper, its colours.
"""

from collections.abc import Iterator, Set

from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import (
    OTHER_POST,
    Component,
    Conductor,
    Configuration,
    TerminalRef,
    Wire,
)
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.values.measures import ampere, metre
from upgrade_planner.configuration.values.sizes import size_text
from upgrade_planner.targets.wish_edits import Decision, Edit, EditKey, Value

OWNERS_SLOTS = ("vehicle", "changes", "as found")
"""Slots of parts that no system brought."""

OF_THE_ENGINE = ("cylinders", "dwell_angle", "cranking_current", "field_circuit")
"""Ratings that follow from the engine, or from what it drives, and not from the system."""


OF_THE_BOX = "field_circuit"
"""The one of them that goes with a dynamo only while its box stays, for box and field match."""


def carried(
    car: Configuration, target: Configuration, faulty: Set[str] = frozenset()
) -> tuple[Edit, ...]:
    """
    The edits that give a target what the car has.

    Args:
        car: The car as it is.
        target: The same car with other systems, as they come from the shelf.
        faulty: Ids of wires of the car that no new system shall be joined with.
    """
    return (
        *_lost_wires(car, target),
        *_turned_wires(car, target),
        *(e for wire in target.wires for e in _carried_wire(wire, car, target, faulty)),
        *(e for part in target.components for e in _carried_part(part, car, target)),
    )


def _lost_wires(car: Configuration, target: Configuration) -> Iterator[Edit]:
    """
    Wires that the owner's files added to parts of a system that goes: joined where they were.

    Their own ids are taken by the lines that joined them to what is gone.
    """
    joined = {frozenset(wire.ends) for wire in target.wires}
    for wire in car.wires:
        if wire.id in target.wire_by_id or wire.slot not in OWNERS_SLOTS:
            continue
        start, end = (same_job(ref, car, target) for ref in wire.ends)
        if start and end and start != end and frozenset((start, end)) not in joined:
            like = made_like(wire)
            is_copper = wire.conductor is Conductor.COPPER
            if is_copper and _places((start, end), target) != _places(wire.ends, car):
                like.pop("length", None)  # it was measured on another way
            values = {"circuit": wire.circuit, "from": start, "to": end, **like}
            yield Edit(
                table=EditKey.ADD_WIRE,
                name=f"{wire.id}-again",
                values=values,
                why="stays-joined",
            )


def made_like(wire: Wire) -> dict[str, Value]:
    """Size, colour, insulation and length of a wire, as a profile writes them."""
    values: dict[str, Value] = {
        "size": size_text(wire.given_size),
        "colour": wire.colour.code,
        "insulation": wire.insulation.name,
    }
    if wire.conductor != "copper":
        values["conductor"] = str(wire.conductor)
    if wire.measured_length_m is not None:
        values["length"] = metre(wire.measured_length_m)
    return values


def same_job(ref: TerminalRef, car: Configuration, target: Configuration) -> TerminalRef | None:
    """The terminal that has the job of another one; None if the target has none."""
    if _exists(ref, target):
        return ref
    for name, reference in car.named_terminals.items():
        if reference == ref and _exists(target.named_terminals.get(name), target):
            return target.named_terminals[name]
    name = _job(ref, car)
    return target.named_terminals.get(name) if name else None


def _job(ref: TerminalRef, car: Configuration) -> str:
    """What something that hangs on a part of a system wants of it: the name of a terminal."""
    part = car.component(ref.role)
    live = OTHER_POST[car.vehicle.ground]
    if part.family is Family.RESISTOR or (part.family is Family.COIL and ref.terminal == live):
        return "ignition"
    charges = part.family in (Family.ALTERNATOR, Family.DYNAMO, Family.REGULATOR, Family.CUT_OUT)
    return "main" if charges and ref.terminal in ("output", "supply", "battery") else ""


def turned(ref: TerminalRef, car: Configuration, target: Configuration) -> TerminalRef:
    """The same post once the ground has changed over: live stays live."""
    part = car.component(ref.role)
    has_posts = all(part.terminal(post) is not None for post in OTHER_POST)
    is_turned = car.vehicle.ground != target.vehicle.ground
    if is_turned and has_posts and ref.terminal in OTHER_POST:
        return TerminalRef(ref.role, OTHER_POST[ref.terminal])
    return ref


def _turned_wires(car: Configuration, target: Configuration) -> Iterator[Edit]:
    """Wires that the owner's files join to a post by its sign, where the ground changes over."""
    for wire in target.wires:
        old = car.wire_by_id.get(wire.id)
        if old is None or wire.slot not in OWNERS_SLOTS:
            continue
        pairs = zip(("from", "to"), wire.ends, old.ends, strict=True)
        values = {
            k: turned(r, car, target) for k, r, o in pairs if r == o != turned(o, car, target)
        }
        if values:
            yield Edit(table=EditKey.CHANGE_WIRE, name=wire.id, values=values, why="ground-turned")


MOTOR, STUD, FEED = "starter_motor", "battery", "battery_feed"
"""A starter whose stud is live only while it turns, and where what hung on such a stud is fed."""


def fed_elsewhere(
    car: Configuration, target: Configuration
) -> tuple[tuple[Edit, ...], tuple[Decision, ...]]:
    """
    What hung on the stud of a starter that is switched before its stud now: on the switch's feed.

    Args:
        car: The car as it is.
        target: The same car with other systems.

    Returns:
        The edits, and for each wire the question where it shall hang.
    """
    feed = target.named_terminals.get(FEED)
    edits, asked = [], []
    for part in target.components:
        old = car.component_by_role.get(part.role)
        if part.kind != MOTOR or old is None or old.kind == MOTOR or feed is None:
            continue
        stud = TerminalRef(part.role, STUD)
        for wire in target.wires_at.get(stud, ()):
            if wire.circuit != "starter cable" and feed not in (stud, wire.other_end(stud)):
                key = "from" if wire.start == stud else "to"
                values = {key: feed}
                edits.append(
                    Edit(
                        table=EditKey.CHANGE_WIRE, name=wire.id, values=values, why="fed-elsewhere"
                    )
                )
                facts = {"wire": wire.id}
                asked.append(Decision(code="fed-elsewhere", role=part.role, facts=facts))
    return tuple(edits), tuple(asked)


def _exists(ref: TerminalRef | None, target: Configuration) -> bool:
    part = target.component_by_role.get(ref.role) if ref else None
    return part is not None and ref is not None and part.terminal(ref.terminal) is not None


def _carried_wire(
    wire: Wire, car: Configuration, target: Configuration, faulty: Set[str]
) -> Iterator[Edit]:
    old = car.wire_by_id.get(wire.id)
    if old is None or wire.slot in OWNERS_SLOTS or old.circuit != wire.circuit:
        return
    values: dict[str, Value] = {}
    ends = []
    olds = tuple(turned(ref, car, target) for ref in old.ends)
    for key, ref, there in zip(("from", "to"), wire.ends, olds, strict=True):
        both_stay = _is_owners(there, car) and _is_owners(ref, target)
        keeps = not old.altered and there != ref and both_stay
        ends.append(there if keeps and _exists(there, target) else ref)
        if ends[-1] != ref:
            values[key] = ends[-1]
    if ends[0] == ends[1]:
        return
    is_same = {*ends} == {*olds} and old.conductor == wire.conductor
    if is_same and wire.id not in faulty:
        values |= {k: v for k, v in made_like(old).items() if made_like(wire).get(k) != v}
    elif old.measured_length_m is not None and _places(ends, target) == _places(old.ends, car):
        values["length"] = metre(old.measured_length_m)
    if values:
        yield Edit(table=EditKey.CHANGE_WIRE, name=wire.id, values=values, why="as-on-the-car")


def _is_owners(ref: TerminalRef, car: Configuration) -> bool:
    return car.component(ref.role).slot in OWNERS_SLOTS


def _places(ends: "tuple[TerminalRef, ...] | list[TerminalRef]", of: Configuration) -> set[str]:
    return {of.component(ref.role).place for ref in ends}


def _carried_part(part: Component, car: Configuration, target: Configuration) -> Iterator[Edit]:
    """What follows from the engine stays, whichever system a part comes from."""
    old = car.component_by_role.get(part.role)
    if old is None or part.slot in OWNERS_SLOTS:
        return
    names: tuple[str, ...] = OF_THE_ENGINE if old.kind == part.kind else OF_THE_ENGINE[:2]
    if _boxes(car) != _boxes(target):
        names = tuple(name for name in names if name != OF_THE_BOX)
    ratings: dict[str, Value] = {
        name: _rating(part.kind, name, old.ratings[name])
        for name in names
        if name in part.ratings and name in old.ratings and part.ratings[name] != old.ratings[name]
    }
    if ratings:
        values = {"ratings": ratings}
        yield Edit(table=EditKey.CHANGE_PART, name=part.role, values=values, why="of-the-engine")


def _boxes(of: Configuration) -> set[str]:
    """Kinds of what regulates the machine."""
    return {part.kind for part in of.parts_of(Family.REGULATOR, Family.CUT_OUT)}


def _rating(kind: str, name: str, number: float | str) -> Value:
    """A rating as an edit has it."""
    is_current = kinds()[kind].ratings[name] == "current"
    return ampere(number) if is_current and not isinstance(number, str) else number
