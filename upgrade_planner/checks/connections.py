"""Rules on terminals and connectors: how many wires on a stud, how many through a connector."""

from collections import Counter
from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Finding,
    Remedy,
    Severity,
    at_part,
    at_terminal,
    at_wire,
    at_wires,
)
from upgrade_planner.configuration.end_fittings import (
    capacity_of,
    fittings_at,
    is_heavy,
    is_too_full,
)
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Connection, Joint, TerminalRef, Wire
from upgrade_planner.configuration.values.measures import ampere, metre, square_mm
from upgrade_planner.configuration.values.quantities import Dimension, parse_quantity
from upgrade_planner.electrical.states import State

BLADE_LARGEST_MM2 = {"2.8 mm": 1.0, "4.8 mm": 2.5, "6.3 mm": 6.0, "9.5 mm": 6.0}
"""Largest flexible copper on a blade. [mm²] Source: IEC 61210:2010, abstract: flexible copper to
6 mm² in the whole family; the smaller ones: our assumption, the barrels they are sold with."""


_FULL = {
    Joint.BLADE: "blade",
    Joint.BULLET: "bullet",
    Joint.POST: "post",
    Joint.CAVITY: "cavity",
    Joint.SPLICE: "splice",
}


def crowded_studs(examined: Examined) -> Iterator[Finding]:
    """More terminals on one stud than it holds firmly, or more heavy cables, but at ground."""
    for ref, connection, wires in _terminals(examined):
        if connection.joint not in (Joint.STUD, Joint.SCREW):
            continue
        capacity = capacity_of(connection)
        if len(wires) > capacity.fittings:
            yield Finding(
                code="CONN-STUD",
                severity=Severity.WARNING,
                subjects=(at_terminal(ref), *at_wires(wire.id for wire in wires)),
                value=len(wires),
                limit=capacity.fittings,
                remedy=Remedy("fit-second-stud"),
                source=capacity.source,
            )
        heavy = [wire for wire in wires if is_heavy(wire.size)]
        is_ground = examined.configuration.component(ref.role).family is Family.GROUND_POINT
        if len(heavy) > capacity.heavy and not is_ground:
            yield Finding(
                code="CONN-STUD-HEAVY",
                severity=Severity.NOTE,
                subjects=(at_terminal(ref), *at_wires(wire.id for wire in heavy)),
                value=len(heavy),
                limit=capacity.heavy,
                remedy=Remedy("lead-from-both-sides"),
                source=capacity.source,
            )


def overfull_terminals(examined: Examined) -> Iterator[Finding]:
    """A blade, bullet, post, cavity or splice that cannot take its wires, adapters counted."""
    for ref, connection, wires in _terminals(examined):
        if connection.joint in (Joint.STUD, Joint.SCREW):
            continue
        capacity = capacity_of(connection)
        fittings = fittings_at(connection, wires, new=[wire.id for wire in wires])
        crimped = max((len(fitting.wires) for fitting in fittings), default=0)
        if is_too_full(connection, fittings) or crimped > capacity.in_one:
            yield Finding(
                code="CONN-FULL",
                severity=Severity.WARNING,
                subjects=(at_terminal(ref), *at_wires(wire.id for wire in wires)),
                cause=_FULL[connection.joint],
                value=len(wires),
                limit=capacity.most_wires,
                remedy=Remedy("share-out-wires"),
                source=capacity.source,
            )


def _terminals(
    examined: Examined,
) -> Iterator[tuple[TerminalRef, Connection, tuple[Wire, ...]]]:
    """Terminals that wires are joined to, with their hardware."""
    configuration = examined.configuration
    for ref, wires in configuration.wires_at.items():
        terminal = configuration.component(ref.role).terminal(ref.terminal)
        if terminal is not None and terminal.connection.joint is not Joint.CASE:
            yield ref, terminal.connection, wires


def overfull_connectors(examined: Examined) -> Iterator[Finding]:
    """More wires through a connector than it has cavities."""
    configuration = examined.configuration
    passing = Counter(
        role for wire in configuration.wires for role in configuration.runs[wire.id].connectors
    )
    for part in configuration.components:
        cavities = part.ratings.get("cavities", 0)
        if part.family is Family.CONNECTOR and passing[part.role] > cavities:
            yield Finding(
                code="CONN-CAVITIES",
                severity=Severity.WARNING,
                subjects=(at_part(part.role),),
                value=passing[part.role],
                limit=int(cavities),
                remedy=Remedy("use-own-grommet-or-larger-connector"),
                source="the profile's own figures",
            )


def cavity_overloaded(examined: Examined) -> Iterator[Finding]:
    """More current through a connector cavity than it carries, in some state."""
    configuration = examined.configuration
    for wire in configuration.wires:
        for role in configuration.runs[wire.id].connectors:
            limit_a = configuration.component(role).ratings.get("cavity_current")
            greatest = greatest_current(examined, wire.id)
            if limit_a is None or greatest is None or greatest[0] <= limit_a:
                continue
            amps, state = greatest
            yield Finding(
                code="CONN-CAVITY-CURRENT",
                severity=Severity.WARNING,
                subjects=(at_wire(wire.id), at_part(role)),
                value=ampere(amps),
                limit=ampere(limit_a),
                facts={"state": state},
                remedy=Remedy("use-own-grommet"),
                source="the profile's own figures",
            )


def greatest_current(examined: Examined, wire_id: str) -> tuple[float, State] | None:
    """Greatest current of a wire over all states [A], and the state it flows in; None if none."""
    found = [
        (abs(point.wire_current_a(wire_id)), point.state) for point in examined.points.values()
    ]
    return max(found, key=lambda one: (one[0], one[1].title), default=None)


def cable_too_thick_for_blade(examined: Examined) -> Iterator[Finding]:
    """A cable that no blade receptacle of that width has a barrel for."""
    configuration = examined.configuration
    for ref, wires in configuration.wires_at.items():
        terminal = configuration.component(ref.role).terminal(ref.terminal)
        if terminal is None or terminal.connection.joint is not Joint.BLADE:
            continue
        largest_mm2 = BLADE_LARGEST_MM2.get(terminal.connection.size)
        for wire in wires:
            if largest_mm2 is not None and wire.size.area_mm2 > largest_mm2:
                yield Finding(
                    code="CONN-BLADE",
                    severity=Severity.WARNING,
                    subjects=(at_wire(wire.id), at_terminal(ref)),
                    value=square_mm(wire.size.area_mm2),
                    limit=square_mm(largest_mm2),
                    facts={
                        "size": wire.size,
                        "width": metre(parse_quantity(terminal.connection.size, Dimension.LENGTH)),
                        "widest": square_mm(max(BLADE_LARGEST_MM2.values())),
                    },
                    remedy=Remedy("end-on-stud"),
                    source="IEC 61210:2010, abstract: flexible copper to {widest:g}; smaller "
                    "blades: our assumption",
                )
