"""Cures about the charge lamp: out, a diode in its wire, or a resistor in its place."""

from collections.abc import Iterator

from upgrade_planner.checks.findings import Finding, Subject
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Component, Conductor, TerminalRef, Wire
from upgrade_planner.configuration.values.measures import ampere, metre, ohm
from upgrade_planner.configuration.values.sizes import size_text
from upgrade_planner.targets.guards import SHORT_LEAD_M, Bench, Cure, changed, parts_named
from upgrade_planner.targets.wish_edits import Edit, EditKey, NewName, Value

LAMP = "charge_lamp"

DIODE_A = 3.0
"""Rating of a diode in a lamp or bypass wire. [A] Source: common practice."""

EXCITING_A = 0.2
"""Current through a resistor that excites like a lamp of 2 W at 12 V. [A] Source: passenger-car
workshop data of 1998 demand such a lamp."""

SERIES_OHM = (22.0, 33.0, 47.0, 68.0, 100.0, 150.0)
"""Resistors as sold, of those that may be needed. [Ω] Source: IEC 60063, series E6."""


def lamp_taken_out(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """
    A charge lamp that the machine has no terminal for comes out with its wires.

    What was fed on from its feed terminal is fed from where that came from.
    """
    for part in parts_named(finding, bench)[:1]:
        if part.role != LAMP:
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


def diode(name: str, place: str, wire: Wire, why: str) -> Edit:
    """A diode beside a wire."""
    terminals = tuple(
        {"name": end, "label": label, "connection": "blade 6.3 mm"}
        for end, label in (("anode", "+"), ("cathode", "\u2212"))
    )
    values: dict[str, Value] = {
        "kind": "diode",
        "place": place,
        "terminals": terminals,
        "ratings": {"rated_current": ampere(DIODE_A)},
    }
    called = NewName(code=why, old=wire.id)
    return Edit(table=EditKey.ADD_PART, name=name, values=values, why=why, called=called)


def diode_in_lamp_wire(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """A diode where the lamp wire reaches machine or regulator: nothing feeds back."""
    named = finding.remedy.facts.get("terminal")
    ref = TerminalRef(named.name, named.terminal) if isinstance(named, Subject) else _lamp(bench)
    if ref is None or "lamp_diode" in bench.configuration.component_by_role:
        return
    wires = bench.configuration.wires_at.get(ref, ())
    is_positive = bench.configuration.vehicle.ground == "positive"
    far, near = ("cathode", "anode") if is_positive else ("anode", "cathode")
    for wire in wires[:1]:
        place = bench.configuration.component(ref.role).place
        part = diode("lamp_diode", place, wire, "lamp-diode")
        lead = _lead("lamp-diode-lead", wire, TerminalRef("lamp_diode", near), ref, "lamp-diode")
        moved = (_moved(w, ref, TerminalRef("lamp_diode", far), "lamp-diode") for w in wires)
        yield (part, lead, *moved)


def _lamp(bench: Bench) -> TerminalRef | None:
    """The terminal of machine or regulator that the charge lamp's wire ends on."""
    machines = bench.configuration.parts_of(Family.ALTERNATOR, Family.REGULATOR)
    refs = (TerminalRef(part.role, "lamp") for part in machines)
    return next((ref for ref in refs if bench.configuration.wires_at.get(ref)), None)


def resistor_for_lamp(finding: Finding, bench: Bench) -> Iterator[Cure]:
    """A resistor from the ignition to the lamp terminal of a machine that no lamp excites."""
    at = finding.subjects[0]
    ref, role = TerminalRef(at.name, at.terminal), "exciting_resistor"
    ignition = bench.configuration.named_terminals.get("ignition")
    taken = role in bench.configuration.component_by_role
    if ignition is None or taken or bench.configuration.wires_at.get(ref):
        return
    wanted = bench.configuration.vehicle.voltage_v / EXCITING_A
    terminals = tuple(
        {"name": end, "label": label, "connection": "blade 6.3 mm"}
        for end, label in (("in", "15"), ("out", "61"))
    )
    values: dict[str, Value] = {
        "kind": "resistor",
        "place": bench.configuration.component(ignition.role).place,
        "terminals": terminals,
        "ratings": {"resistance": ohm(min(SERIES_OHM, key=lambda r: abs(r - wanted)))},
    }
    called = NewName(code="exciting-resistor", old=ref.role)
    part = Edit(
        table=EditKey.ADD_PART, name=role, values=values, why="exciting-resistor", called=called
    )
    yield (
        part,
        _exciting("exciting-feed", ignition, TerminalRef(role, "in"), bench),
        _exciting("exciting-lead", TerminalRef(role, "out"), ref, bench),
    )


def _exciting(name: str, start: TerminalRef, end: TerminalRef, bench: Bench) -> Edit:
    plain = next(w for w in bench.configuration.wires if w.conductor is Conductor.COPPER)
    values: dict[str, Value] = {
        "circuit": "charge lamp",
        "from": start,
        "to": end,
        "size": "auto",
        "colour": "GN/OG",
        "insulation": plain.insulation.name,
    }
    return Edit(table=EditKey.ADD_WIRE, name=name, values=values, why="exciting-resistor")


def _lead(name: str, wire: Wire, start: TerminalRef, end: TerminalRef, why: str) -> Edit:
    values: dict[str, Value] = {
        "circuit": wire.circuit,
        "from": start,
        "to": end,
        "size": size_text(wire.given_size),
        "colour": wire.colour.code,
        "insulation": wire.insulation.name,
        "length": metre(SHORT_LEAD_M),
    }
    return Edit(table=EditKey.ADD_WIRE, name=name, values=values, why=why)


def _moved(wire: Wire, ref: TerminalRef, to: TerminalRef, why: str) -> Edit:
    return changed(wire, {"from" if wire.start == ref else "to": to}, why)
