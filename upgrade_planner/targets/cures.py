"""
What cures a finding that a target has and the car has not, as edits: the first that helps is taken.

A cure is what the remedy of the rule says, done: the wire thicker, a fuse where it begins, a second
stud, the part in the version for this ground. A finding without a cure here is no choice for the
car.
"""

from collections.abc import Callable, Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Subject
from upgrade_planner.checks.guard_remedies import output_ways
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import (
    Component,
    Conductor,
    TerminalRef,
    Wire,
)
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.values.measures import ampere, metre
from upgrade_planner.configuration.values.sizes import WireSize, size_text, sizes_in
from upgrade_planner.targets.as_told import as_told
from upgrade_planner.targets.changing_over import (
    connection_text,
    for_ground,
    for_voltage,
    with_output,
)
from upgrade_planner.targets.guards import (
    SHORT_LEAD_M,
    Bench,
    Cure,
    changed,
    fused,
    linked,
    parts_named,
    ratings_sold,
    wires_named,
)
from upgrade_planner.targets.lamp_cures import (
    diode,
    diode_in_lamp_wire,
    lamp_taken_out,
    resistor_for_lamp,
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


def thicker_wires(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """Every wire that is named gets the size that the remedy names, or the next one."""
    size = finding.remedy.facts.get("size")
    wires = [wire for wire in wires_named(finding, bench) if wire.conductor is Conductor.COPPER]
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
    for wire in wires_named(finding, bench)[:1]:
        ways = output_ways(Examined(configuration=bench.configuration))
        charges = any(wire.id in names for _, names in ways)
        yield from (made(wire, bench) for made in ((linked, fused) if charges else (fused, linked)))


def larger_fuse(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """A fuse that the output does not blow."""
    amps = finding.value.number if finding.value and not isinstance(finding.value, int) else 0.0
    for part in parts_named(finding, bench):
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
    if role in bench.configuration.component_by_role:
        here_too = TerminalRef(role, "stud")
        lead_id = f"{role.replace('_', '-')}-lead"
        more = [w for w in copper if w.id != lead_id][:1]
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
    for part in parts_named(finding, bench)[:1]:
        if part.kind in FOR_EITHER_GROUND or part.slot not in bench.chosen:
            yield tuple(for_ground(part, bench.configuration))


def for_this_voltage(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """The same part for the voltage of the system, where it is a simple one."""
    simple = (Family.LAMP, Family.VOLTMETER, Family.GAUGE, Family.LOAD, Family.MOTOR, Family.COIL)
    volts = bench.configuration.vehicle.voltage_v
    for part in parts_named(finding, bench)[:1]:
        if part.family in (*simple, Family.BATTERY):
            edit = for_voltage(part, float(part.ratings.get("rated_voltage", volts)), volts)
            yield (edit,) if edit else ()


WIDER_RANGES_A = (30.0, 60.0, 100.0)
"""Ammeters as sold. [A] Source: common practice."""


def wider_ammeter(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """An ammeter with a scale for the output."""
    amps = finding.value.number if finding.value and not isinstance(finding.value, int) else 0.0
    for part in parts_named(finding, bench):
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
    for part in parts_named(finding, bench):
        if part.family is Family.JOINT and "rated_current" in part.ratings:
            called = NewName(code="heavier-stud", old=part.name)
            values: dict[str, Value] = {"ratings": {"rated_current": ampere(amps * 1.25)}}
            yield (_part(part, values, "heavier-stud", called),)


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


def own_ground(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """A ground wire for a part whose place gives none; on a terminal of its own, if need be."""
    for part in parts_named(finding, bench)[:1]:
        grounds = bench.configuration.parts_of(Family.GROUND_POINT)
        near = sorted(grounds, key=lambda g: (g.place != part.place, g.role != "engine_ground"))
        name, edits = _ground_terminal(part)
        if not name or not near:
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
        yield (*edits, Edit(table=EditKey.ADD_WIRE, name=lead, values=values, why="own-ground"))


def _ground_terminal(part: Component) -> tuple[str, tuple[Edit, ...]]:
    """A terminal that a ground wire can be joined to, "" if there is none; what makes it."""
    name = part.return_terminal
    terminal = part.terminal(name) if name else None
    if name and terminal is not None and terminal.connection.joint != "case":
        return name, ()
    if "ground" not in (kinds()[part.kind].optional_terminals or ()):
        return "", ()
    own = [
        {"name": t.name, "label": t.label, "connection": connection_text(t.connection)}
        for t in part.terminals
    ]
    screw = {"name": "ground", "label": "31", "connection": "screw M5"}
    return "ground", (_part(part, {"terminals": (*own, screw)}, "own-ground", None),)


def past_connector(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """The wires that a connector cannot carry in a loom that does not pass it."""
    named = finding.remedy.facts.get("wires", ())
    every = named if isinstance(named, tuple) else ()
    names = [one.name for one in every if isinstance(one, Subject)]
    through = {route.loom for route in bench.configuration.routes if route.through}
    for loom in sorted({r.loom for r in bench.configuration.routes if r.loom} - through):
        wires = [bench.configuration.wire_by_id[name] for name in names]
        yield tuple(changed(wire, {"route": loom}, "past-connector") for wire in wires)


def way_of_its_own(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """The trigger leads in a loom of their own, where the vehicle has an empty one."""
    wires = [w for w in wires_named(finding, bench) if w.circuit == "trigger"]
    filled = {loom for run in bench.configuration.runs.values() for loom in run.looms}
    for loom in sorted({r.loom for r in bench.configuration.routes if r.loom} - filled):
        yield tuple(changed(wire, {"route": loom}, "way-of-its-own") for wire in wires)


OUTPUTS_A = (35.0, 45.0, 55.0, 65.0, 75.0)
"""Alternators as sold. [A] Source: common practice."""


def larger_machine(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """An alternator of the next outputs; a dynamo has no larger one of its size."""
    for part in parts_named(finding, bench)[:1]:
        now = float(part.ratings.get("rated_output", 0.0))
        larger = [a for a in OUTPUTS_A if a > now * 1.05]
        for output in (
            larger if part.family is Family.ALTERNATOR and part.slot in bench.chosen else ()
        ):
            yield (with_output(part, output, "larger-machine"),)


def bypass_by_diode(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """Where the start contact has no bypass: from the start signal over a diode to the coil."""
    at = finding.subjects[0]
    signal = bench.configuration.named_terminals.get("start_signal")
    if signal is None or "bypass_diode" in bench.configuration.component_by_role:
        return
    coil = TerminalRef(at.name, at.terminal)
    is_positive = bench.configuration.vehicle.ground == "positive"
    near, far = ("cathode", "anode") if is_positive else ("anode", "cathode")
    for wire in bench.configuration.wires_at.get(coil, ())[:1]:
        place = bench.configuration.component(coil.role).place
        ends = (
            (signal, TerminalRef("bypass_diode", near)),
            (TerminalRef("bypass_diode", far), coil),
        )
        leads = (
            _bypass(f"bypass-{name}", start, end, wire)
            for name, (start, end) in zip(("signal", "coil"), ends, strict=True)
        )
        yield (diode("bypass_diode", place, wire, "bypass-diode"), *leads)


def _bypass(name: str, start: TerminalRef, end: TerminalRef, like: Wire) -> Edit:
    values: dict[str, Value] = {
        "circuit": "start bypass",
        "from": start,
        "to": end,
        "size": "auto",
        "colour": "YE/BU",
        "insulation": like.insulation.name,
    }
    return Edit(table=EditKey.ADD_WIRE, name=name, values=values, why="bypass-diode")


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
    (("CHG-NO-EXCITE",), resistor_for_lamp),
    (("CHG-CAVITY",), past_connector),
    (("IGN-LEADS",), way_of_its_own),
    (("CHG-BALANCE",), larger_machine),
    (("IGN-NO-BYPASS",), bypass_by_diode),
    (("ISO-BYPASSED",), behind_isolator),
    (("PWR-NO-RETURN", "GND-CASE", "IGN-GROUND", "CHG-CUT-OUT-GROUND", "CHG-GROUND"), own_ground),
)
"""Beginnings of codes, and the cure for them; all that fit are tried, in this order."""
