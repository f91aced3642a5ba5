"""
What cures a finding that a target has and the car has not, as edits: the first that helps is taken.

A cure is what the remedy of the rule says, done: the wire thicker, a fuse where it begins, a second
stud, the part in the version for this ground. A finding without a cure here is no choice for the
car.
"""

from collections.abc import Callable, Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, SubjectForm
from upgrade_planner.checks.guard_remedies import output_ways
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import (
    Component,
    Conductor,
    TerminalRef,
    Wire,
)
from upgrade_planner.configuration.values.measures import ampere, metre
from upgrade_planner.configuration.values.sizes import WireSize, size_text, sizes_in
from upgrade_planner.targets.as_told import as_told
from upgrade_planner.targets.changing_over import for_ground, for_voltage
from upgrade_planner.targets.guards import (
    SHORT_LEAD_M,
    Bench,
    Cure,
    changed,
    fused,
    linked,
    ratings_sold,
)
from upgrade_planner.targets.link_cures import behind_link, fitting_link
from upgrade_planner.targets.wish_edits import Edit, EditKey, NewName, Value

CHANGING = (EditKey.CHANGE_WIRE, EditKey.CHANGE_PART)

THIN_MM2 = 7.0
"""What may be led to a second stud although the car has it on the first: no main cable. [mm²]
Our assumption."""


def cures(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """What may cure a finding, the mildest first; nothing if no cure is known."""
    for made in _known(finding, bench):
        if made and (bench.may_add or all(edit.table in CHANGING for edit in made)):
            yield made


def _known(finding: Finding, bench: Bench) -> Iterator[Cure]:
    yield from as_told(finding, bench)
    for codes, cure in CURES:
        if finding.code.startswith(codes):
            yield from cure(finding, bench)


def _wires(finding: Finding, bench: Bench) -> list[Wire]:
    found = [s.name for s in finding.subjects if s.form is SubjectForm.WIRE]
    return [bench.configuration.wire_by_id[name] for name in found]


def _parts(finding: Finding, bench: Bench) -> list[Component]:
    forms = (SubjectForm.PART, SubjectForm.TERMINAL)
    names = dict.fromkeys(s.name for s in finding.subjects if s.form in forms)
    return [bench.configuration.component(name) for name in names]


def thicker_wires(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """Every wire that is named gets the size that the remedy names, or the next one."""
    size = finding.remedy.facts.get("size")
    wires = [wire for wire in _wires(finding, bench) if wire.conductor is Conductor.COPPER]
    yield tuple(_sized(wire, size if isinstance(size, WireSize) else None) for wire in wires[:1])
    yield tuple(_sized(wire, None) for wire in wires)


def _sized(wire: Wire, least: WireSize | None) -> Edit:
    larger = [s for s in sizes_in(wire.size.system) if s.area_mm2 > wire.size.area_mm2 * 1.01]
    size = larger[0] if larger else wire.size
    if least is not None and least.area_mm2 > size.area_mm2:
        size = least
    return changed(wire, {"size": size_text(size)}, "thicker")


def guarded(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """A fuse or a link where the wire begins."""
    for wire in _wires(finding, bench)[:1]:
        ways = output_ways(Examined(configuration=bench.configuration))
        charges = any(wire.id in names for _, names in ways)
        yield from (made(wire, bench) for made in ((linked, fused) if charges else (fused, linked)))


def larger_fuse(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """A fuse that the output does not blow."""
    amps = finding.value.number if finding.value and not isinstance(finding.value, int) else 0.0
    for part in _parts(finding, bench):
        rating = min((a for a in ratings_sold() if a >= amps * 4 / 3), default=0.0)
        if part.is_single_fuse and rating:
            values: dict[str, Value] = {"ratings": {"rated_current": ampere(rating)}}
            yield (_part(part, values, "larger-fuse", None),)


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
    if role in bench.configuration.component_by_role or connection is None or not moved:
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


FOR_EITHER_GROUND = (
    "trigger_distributor",
    "pick_up_distributor",
    "ignition_module",
    "motor",
    "load",
    "tachometer",
)
"""Kinds that are made for either ground. Source: common practice."""


def version_for_ground(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """The version of a part for the ground of this car, where such are made."""
    for part in _parts(finding, bench)[:1]:
        if part.kind in FOR_EITHER_GROUND or part.slot not in bench.chosen:
            yield tuple(for_ground(part, bench.configuration))


def for_this_voltage(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """The same part for the voltage of the system, where it is a simple one."""
    simple = (Family.LAMP, Family.VOLTMETER, Family.GAUGE, Family.LOAD, Family.MOTOR, Family.COIL)
    volts = bench.configuration.vehicle.voltage_v
    for part in _parts(finding, bench)[:1]:
        if part.family in (*simple, Family.BATTERY):
            edit = for_voltage(part, float(part.ratings.get("rated_voltage", volts)), volts)
            yield (edit,) if edit else ()


WIDER_RANGES_A = (30.0, 60.0, 100.0)
"""Ammeters as sold. [A] Source: common practice."""


def wider_ammeter(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """An ammeter with a scale for the output."""
    amps = finding.value.number if finding.value and not isinstance(finding.value, int) else 0.0
    for part in _parts(finding, bench):
        ranges = [a for a in WIDER_RANGES_A if a >= amps]
        if part.family is Family.AMMETER and ranges:
            called = NewName(code="wider", old=part.name, facts={"range": ampere(ranges[0])})
            values: dict[str, Value] = {"ratings": {"range": ampere(ranges[0])}}
            yield (_part(part, values, "wider-ammeter", called),)


def _part(part: Component, values: dict[str, Value], why: str, called: NewName | None) -> Edit:
    return Edit(table=EditKey.CHANGE_PART, name=part.role, values=values, why=why, called=called)


def heavier_stud(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """A stud that bears the output."""
    amps = finding.value.number if finding.value and not isinstance(finding.value, int) else 0.0
    for part in _parts(finding, bench):
        if part.family is Family.JOINT and "rated_current" in part.ratings:
            called = NewName(code="heavier-stud", old=part.name)
            values: dict[str, Value] = {"ratings": {"rated_current": ampere(amps * 1.25)}}
            yield (_part(part, values, "heavier-stud", called),)


def lamp_taken_out(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """
    A charge lamp that the machine has no terminal for comes out with its wires.

    What was fed on from its feed terminal is fed from where that came from.
    """
    for part in _parts(finding, bench)[:1]:
        if part.role != "charge_lamp":
            continue
        wires = [w for w in bench.configuration.wires if part.role in (r.role for r in w.ends)]
        onward = [
            w for w in wires if w.id in bench.feeds and bench.feeds[w.id].near.role == part.role
        ]
        feeding = [w for w in wires if w not in onward]
        source = (
            bench.feeds[feeding[0].id].near if feeding and feeding[0].id in bench.feeds else None
        )
        kept = [w for w in onward if source is not None and not _is_return(w, part)]
        yield (
            *(_removed(EditKey.REMOVE_WIRE, wire.id) for wire in wires if wire not in kept),
            *(_led_from(wire, part, source) for wire in kept if source is not None),
            _removed(EditKey.REMOVE_PART, part.role),
        )


def _is_return(wire: Wire, part: Component) -> bool:
    return TerminalRef(part.role, "return") in wire.ends


def _led_from(wire: Wire, part: Component, source: TerminalRef) -> Edit:
    key = "from" if wire.start.role == part.role else "to"
    return changed(wire, {key: source}, "lamp-out")


def _removed(table: EditKey, name: str) -> Edit:
    return Edit(table=table, name=name, why="lamp-out")


def diode_in_lamp_wire(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """A diode in the wire from the charge lamp to the machine: nothing feeds back."""
    del finding
    lamp = bench.configuration.component_by_role.get("charge_lamp")
    if lamp is None or "lamp_diode" in bench.configuration.component_by_role:
        return
    ref = TerminalRef(lamp.role, "return")
    for wire in bench.configuration.wires_at.get(ref, ())[:1]:
        terminals = tuple(
            {"name": name, "label": label, "connection": "blade 6.3 mm"}
            for name, label in (("anode", "+"), ("cathode", "−"))
        )
        is_positive = bench.configuration.vehicle.ground == "positive"
        near, far = ("cathode", "anode") if is_positive else ("anode", "cathode")
        diode = Edit(
            table=EditKey.ADD_PART,
            name="lamp_diode",
            values={"kind": "diode", "place": lamp.place, "terminals": terminals},
            why="diode",
            called=NewName(code="lamp-diode", old=wire.id),
        )
        lead = Edit(
            table=EditKey.ADD_WIRE,
            name="lamp-diode-lead",
            values={
                "circuit": wire.circuit,
                "from": ref,
                "to": TerminalRef("lamp_diode", near),
                "size": size_text(wire.given_size),
                "colour": wire.colour.code,
                "insulation": wire.insulation.name,
                "length": metre(SHORT_LEAD_M),
            },
            why="diode",
        )
        key = "from" if wire.start == ref else "to"
        yield (diode, lead, changed(wire, {key: TerminalRef("lamp_diode", far)}, "diode"))


def behind_isolator(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """Wires that pass an isolator are joined to its far stud."""
    (part,) = _parts(finding, bench)[:1]
    post = TerminalRef("battery", bench.configuration.vehicle.ground)
    yield tuple(
        changed(
            wire,
            {"from" if wire.start == post else "to": TerminalRef(part.role, "out")},
            "isolator",
        )
        for wire in _wires(finding, bench)
    )


def own_ground(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """A ground wire for a part whose place gives none."""
    for part in _parts(finding, bench)[:1]:
        name = part.return_terminal
        grounds = bench.configuration.parts_of(Family.GROUND_POINT)
        near = sorted(grounds, key=lambda g: (g.place != part.place, g.role != "engine_ground"))
        if name is None or not near:
            continue
        terminal = part.terminal(name)
        if terminal is None or terminal.connection.joint == "case":
            continue
        values: dict[str, Value] = {
            "circuit": "ground",
            "from": TerminalRef(part.role, name),
            "to": TerminalRef(near[0].role, "stud"),
            "size": "auto",
            "colour": "BK",
            "insulation": bench.configuration.wires[0].insulation.name,
        }
        lead = f"{part.role.replace('_', '-')}-ground-wire"
        yield (Edit(table=EditKey.ADD_WIRE, name=lead, values=values, why="own-ground"),)


CURES: tuple[tuple[tuple[str, ...], Callable[[Finding, Bench], Iterator[Cure]]], ...] = (
    (("PROT-LINK-BIG",), behind_link),
    (("CHG-LINK", "PROT-LINK-SMALL"), fitting_link),
    (("DROP-", "PROT-OUTPUT", "CHG-OUTPUT-DROP", "STA-", "GND-", "CHG-SENSE"), thicker_wires),
    (("PROT-LATE", "PROT-FUSE-BIG"), thicker_wires),
    (("PROT-NONE", "PROT-LATE"), guarded),
    (("CHG-FUSE", "PROT-OUTPUT-FUSE", "PROT-FUSE-SMALL"), larger_fuse),
    (("CONN-STUD",), second_stud),
    (("PWR-GROUND-SIDE",), version_for_ground),
    (("RATED-",), for_this_voltage),
    (("CHG-AMMETER",), wider_ammeter),
    (("CHG-JUNCTION",), heavier_stud),
    (("PWR-NO-RETURN", "CHG-LAMP-LOOSE"), lamp_taken_out),
    (("CHG-RUN-ON", "IGN-CD-RUN-ON", "IGN-CD-AWAKE"), diode_in_lamp_wire),
    (("ISO-BYPASSED",), behind_isolator),
    (("PWR-NO-RETURN", "GND-CASE", "IGN-GROUND", "CHG-CUT-OUT-GROUND"), own_ground),
)
"""Beginnings of codes, and the cure for them; all that fit are tried, in this order."""
