"""
What cures a finding that a target has and the car has not, as edits: the first that helps is taken.

A cure is what the remedy of the rule says, done: the wire thicker, a fuse where it begins, a second
stud, the part in the version for this ground. A finding without a cure here is no choice for the
car.
"""

from collections.abc import Callable, Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Subject, SubjectForm
from upgrade_planner.checks.guard_remedies import output_ways
from upgrade_planner.configuration.edits import Resize
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import (
    Component,
    Conductor,
    TerminalRef,
    Wire,
)
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.values.measures import ampere
from upgrade_planner.configuration.values.sizes import WireSize, size_text, sizes_in
from upgrade_planner.electrical.batteries import batteries_of, grounded_post
from upgrade_planner.targets.as_told import as_told
from upgrade_planner.targets.changing_over import (
    connection_text,
    for_ground,
    for_voltage,
    with_output,
)
from upgrade_planner.targets.guards import (
    Bench,
    Cure,
    changed,
    changed_part,
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
from upgrade_planner.targets.link_cures import NEARLY_RATIO, behind_link, fitting_link
from upgrade_planner.targets.stud_cures import (
    behind_isolator,
    heavier_stud,
    relay_taken_out,
    second_stud,
)
from upgrade_planner.targets.wish_edits import Edit, EditKey, NewName, Value

CHANGING = (EditKey.CHANGE_WIRE, EditKey.CHANGE_PART)


def cures(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """What may cure a finding, the mildest first; nothing if no cure is known."""
    for made in _known(finding, bench):
        if made and (bench.may_add or all(edit.table in CHANGING for edit in made)):
            yield made


def _known(finding: Finding, bench: Bench) -> Iterator[Cure]:
    if not bench.told_first and finding.code.startswith("PROT-LATE") and _is_harsh(finding, bench):
        yield from guarded(finding, bench)
    yield from as_told(finding, bench)
    if not bench.told_first and finding.code.startswith("PROT-FUSE-BIG"):
        yield from guarded(finding, bench)
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
    """A fuse or a link where the wire begins, or, late in a short, where one that feeds it does."""
    ways = output_ways(Examined(configuration=bench.configuration))
    charging = {name for _, names in ways for name in names}
    wires = wires_named(finding, bench)
    for wire in wires if finding.code == "PROT-LATE" and not bench.told_first else wires[:1]:
        if wire.conductor is Conductor.COPPER:
            order = (linked, fused) if wire.id in charging else (fused, linked)
            yield from (made(wire, bench) for made in order)


def _is_harsh(finding: Finding, bench: Bench) -> bool:
    """
    True if a fuse of its own is a milder cure for a wire than the remedy of the finding.

    That makes it thick beyond its terminals, or a link thin that feeds more than this wire.
    """
    wires = bench.configuration.wire_by_id
    return any(
        not 1.0 < edit.size.area_mm2 / wires[edit.wire_id].size.area_mm2 <= NEARLY_RATIO
        for edit in finding.remedy.edits
        if isinstance(edit, Resize)
    )


def larger_fuse(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """A fuse that the output does not blow."""
    amps = finding.value.number if finding.value and not isinstance(finding.value, int) else 0.0
    for part in parts_named(finding, bench):
        rating = min((a for a in ratings_sold() if a >= amps * 4 / 3), default=0.0)
        if part.is_single_fuse and rating:
            values: dict[str, Value] = {"ratings": {"rated_current": ampere(rating)}}
            yield (changed_part(part, values, "larger-fuse", None),)


def version_for_ground(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """The version of a part for the ground of this car, where such are made."""
    for part in parts_named(finding, bench)[:1]:
        if part.can(Capability.EITHER_GROUND) or part.slot not in bench.chosen:
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
            yield (changed_part(part, values, "wider-ammeter", called),)


def to_grounded_post(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """Of two batteries the other one's post is on ground: the return ends there."""
    batteries = {part.role for part in batteries_of(bench.configuration)}
    post = grounded_post(bench.configuration)
    for part in parts_named(finding, bench)[:1]:
        ends = [
            (wire, ref)
            for wire in bench.configuration.wires
            for ref in wire.ends
            if ref.role in batteries and ref != post and part.role == wire.other_end(ref).role
        ]
        if post is not None:
            yield tuple(
                changed(wire, {"from" if wire.start == ref else "to": post}, "grounded-post")
                for wire, ref in ends
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
    return "ground", (changed_part(part, {"terminals": (*own, screw)}, "own-ground", None),)


def past_connector(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """The wires that a connector cannot carry in a loom that does not pass it."""
    named = finding.remedy.facts.get("wires", ())
    told = named if isinstance(named, tuple) else ()
    every = [one for one in told if isinstance(one, Subject)] or finding.subjects
    names = [one.name for one in every if one.form is SubjectForm.WIRE]
    through = {route.loom for route in bench.configuration.routes if route.through}
    for loom in sorted({r.loom for r in bench.configuration.routes if r.loom} - through):
        wires = [bench.configuration.wire_by_id[name] for name in names]
        yield tuple(changed(wire, {"route": loom}, "past-connector") for wire in wires)


def way_of_its_own(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """The trigger leads in another loom, an empty one if the vehicle has it."""
    wires = [w for w in wires_named(finding, bench) if w.circuit == "trigger"]
    filled = {loom for run in bench.configuration.runs.values() for loom in run.looms}
    looms = {route.loom for route in bench.configuration.routes if route.loom}
    for loom in sorted(looms, key=lambda loom: (loom in filled, loom)):
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
    (("CHG-CAVITY", "CONN-CAVITY-CURRENT"), past_connector),
    (("IGN-LEADS",), way_of_its_own),
    (("RLY-NO-COIL",), relay_taken_out),
    (("CHG-BALANCE",), larger_machine),
    (("IGN-NO-BYPASS",), bypass_by_diode),
    (("ISO-BYPASSED",), behind_isolator),
    (("PWR-NO-RETURN", "IGN-GROUND", "IGN-CD-RETURN"), to_grounded_post),
    (("PWR-NO-RETURN", "GND-CASE", "IGN-GROUND", "CHG-CUT-OUT-GROUND", "CHG-GROUND"), own_ground),
)
"""Beginnings of codes, and the cure for them; all that fit are tried, in this order."""
