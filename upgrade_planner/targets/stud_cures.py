"""Cures about studs and what hangs on them: a second stud, a heavier one, behind the isolator."""

from collections.abc import Iterator

from upgrade_planner.checks.findings import Finding
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Conductor, TerminalRef
from upgrade_planner.configuration.values.measures import ampere, metre
from upgrade_planner.configuration.values.sizes import size_text
from upgrade_planner.targets.carrying import OWNERS_SLOTS
from upgrade_planner.targets.guards import (
    SHORT_LEAD_M,
    Bench,
    Cure,
    changed,
    changed_part,
    parts_named,
    wires_named,
)
from upgrade_planner.targets.wish_edits import Edit, EditKey, NewName, Value

MAIN_WAYS = ("charge output", "main feed", "battery cable", "starter cable")
"""Circuits of what stays on the first stud whatever its copper."""

THIN_MM2 = 7.0
"""What may be led to a second stud although the car has it on the first: no main cable. [mm²]
Our assumption."""


def second_stud(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """A second stud beside the full one; the new wires go there, and one lead to the old."""
    ref = TerminalRef(finding.subjects[0].name, finding.subjects[0].terminal)
    part = bench.configuration.component(ref.role)
    role = f"{ref.role}_second"
    connection = part.terminal(ref.terminal)
    here = bench.configuration.wires_at[ref]
    old = {wire.id for wire in bench.car.wires if ref in wire.ends}
    new = [w for w in here if w.id not in old] or list(here)
    thin = sorted(here, key=lambda wire: (wire.id in old, wire.size.area_mm2))
    over = len(here) + 1 - int(str(finding.limit))
    light = [w for w in thin if w in new or w.size.area_mm2 < THIN_MM2]
    copper = sorted(light, key=lambda wire: wire.conductor is Conductor.LINK)
    moved = copper[: max(over, 2)]
    if role in bench.configuration.component_by_role:
        here_too = TerminalRef(role, "stud")
        lead_id = f"{role.replace('_', '-')}-lead"
        branches = [w for w in thin if w.circuit not in MAIN_WAYS]
        more = [w for w in (*copper, *branches) if w.id != lead_id][:1]
        yield tuple(
            changed(wire, {"from" if wire.start == ref else "to": here_too}, "stud-full")
            for wire in more
        )
        return
    if connection is None or not moved:
        return
    is_ground = part.family is Family.GROUND_POINT
    stud = Edit(
        table=EditKey.ADD_PART,
        name=role,
        values={
            "kind": "ground_point" if is_ground else "junction",
            "place": part.place,
            "terminals": ({"name": "stud", "label": connection.label, "connection": "stud M6"},),
        },
        why="stud-full",
        called=NewName(code="second-stud", old=part.name),
    )
    thickest = max(moved, key=lambda wire: wire.size.area_mm2)
    plain = next((w for w in here if w.conductor is Conductor.COPPER), thickest)
    lead = Edit(
        table=EditKey.ADD_WIRE,
        name=f"{role.replace('_', '-')}-lead",
        values={
            "circuit": "ground" if is_ground else "distribution",
            "from": ref,
            "to": TerminalRef(role, "stud"),
            "size": size_text(thickest.size),
            "colour": plain.colour.code,
            "insulation": plain.insulation.name,
            "length": metre(SHORT_LEAD_M),
        },
        why="stud-full",
    )
    ends = tuple(
        changed(
            wire, {"from" if wire.start == ref else "to": TerminalRef(role, "stud")}, "stud-full"
        )
        for wire in moved
    )
    yield (stud, lead, *ends) if not is_ground else (stud, *ends)
    yield (stud, lead, *ends)


def heavier_stud(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """A stud that bears the output."""
    amps = finding.value.number if finding.value and not isinstance(finding.value, int) else 0.0
    for part in parts_named(finding, bench):
        if part.family is Family.JOINT and "rated_current" in part.ratings:
            called = NewName(code="heavier-stud", old=part.name)
            values: dict[str, Value] = {"ratings": {"rated_current": ampere(amps * 1.25)}}
            yield (changed_part(part, values, "heavier-stud", called),)


def behind_isolator(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """Wires that pass an isolator are joined to its far stud."""
    (part,) = parts_named(finding, bench)[:1]
    post = TerminalRef("battery", bench.configuration.vehicle.ground)
    yield tuple(
        changed(
            wire,
            {"from" if wire.start == post else "to": TerminalRef(part.role, "out")},
            "isolator",
        )
        for wire in wires_named(finding, bench)
    )


def relay_taken_out(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """A relay that nothing pulls in any more, with the wires that end at it."""
    for part in parts_named(finding, bench)[:1]:
        if part.family in (Family.RELAY, Family.STARTER_RELAY) and part.slot in OWNERS_SLOTS:
            yield (
                *(
                    Edit(table=EditKey.REMOVE_WIRE, name=wire.id, why="out-of-use")
                    for wire in bench.configuration.wires
                    if part.role in {ref.role for ref in wire.ends}
                ),
                Edit(table=EditKey.REMOVE_PART, name=part.role, why="out-of-use"),
            )
