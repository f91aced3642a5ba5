"""Rules on terminals and connectors: how many wires on a stud, how many through a connector."""

from collections import Counter
from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.configuration.model import Joint

MOST_ON_A_STUD = 4
"""Source: FAA AC 43.13-1B Change 1: a bus strap is needed above four terminals on one stud."""

BLADE_LARGEST_MM2 = {"2.8 mm": 1.0, "4.8 mm": 2.5, "6.3 mm": 6.0, "9.5 mm": 6.0}
"""Largest flexible copper on a blade. [mm²] Source: IEC 61210:2010, abstract: flexible copper to
6 mm² in the whole family; the smaller ones: our assumption, the barrels they are sold with."""


def crowded_studs(examined: Examined) -> Iterator[Finding]:
    """More terminals on one stud than it holds firmly."""
    configuration = examined.configuration
    for ref, wires in sorted(configuration.wires_at.items()):
        terminal = configuration.component(ref.role).terminal(ref.terminal)
        if terminal is None or terminal.connection.joint not in (Joint.STUD, Joint.SCREW):
            continue
        if len(wires) > MOST_ON_A_STUD:
            yield Finding(
                code="CONN-STUD",
                title="Crowded stud",
                severity=Severity.WARNING,
                where=(str(ref), *(wire.id for wire in wires)),
                what=f"{len(wires)} wires on one stud, at most {MOST_ON_A_STUD} hold firmly.",
                remedy="Fit a second stud with a strap and share the wires out.",
                source="FAA AC 43.13-1B Change 1",
            )


def overfull_connectors(examined: Examined) -> Iterator[Finding]:
    """More wires through a connector than it has cavities."""
    configuration = examined.configuration
    passing = Counter(
        role for wire in configuration.wires for role in configuration.runs[wire.id].connectors
    )
    for part in configuration.components:
        cavities = part.ratings.get("cavities", 0)
        if part.kind == "connector" and passing[part.role] > cavities:
            yield Finding(
                code="CONN-CAVITIES",
                title="Connector too small",
                severity=Severity.WARNING,
                where=(part.role,),
                what=f"{passing[part.role]} wires pass it, it has {cavities} cavities.",
                remedy="Lead a wire through a grommet of its own, or fit a larger connector.",
                source="the profile's own figures",
            )


def cavity_overloaded(examined: Examined) -> Iterator[Finding]:
    """More current through a connector cavity than it carries, in some state."""
    configuration = examined.configuration
    for wire in configuration.wires:
        for role in configuration.runs[wire.id].connectors:
            limit = configuration.component(role).ratings.get("cavity_current")
            amps, state = greatest_current(examined, wire.id)
            if limit is not None and amps > limit:
                yield Finding(
                    code="CONN-CAVITY-CURRENT",
                    title="Connector cavity overloaded",
                    severity=Severity.WARNING,
                    where=(wire.id, role),
                    what=f"{amps:.0f} A pass one cavity ({state}), it carries {limit:.0f} A.",
                    remedy="Lead that wire through a grommet of its own, past the connector.",
                    source="the profile's own figures",
                )


def greatest_current(examined: Examined, wire_id: str) -> tuple[float, str]:
    """Greatest current of a wire over all states [A], and the state it flows in."""
    found = [
        (abs(point.wire_current_a(wire_id)), point.state.title)
        for point in examined.points.values()
    ]
    return max(found, default=(0.0, ""))


def cable_too_thick_for_blade(examined: Examined) -> Iterator[Finding]:
    """A cable that no blade receptacle of that width has a barrel for."""
    configuration = examined.configuration
    for ref, wires in sorted(configuration.wires_at.items()):
        terminal = configuration.component(ref.role).terminal(ref.terminal)
        if terminal is None or terminal.connection.joint is not Joint.BLADE:
            continue
        largest = BLADE_LARGEST_MM2.get(terminal.connection.size)
        for wire in wires:
            if largest is not None and wire.size.area_mm2 > largest:
                yield Finding(
                    code="CONN-BLADE",
                    title="Cable too thick for its blade",
                    severity=Severity.WARNING,
                    where=(wire.id, str(ref)),
                    what=f"{wire.size.label} on a {terminal.connection.label}: its receptacle "
                    f"takes at most {largest:g} mm².",
                    remedy="End the cable on a stud and lead a short thinner wire to the blade.",
                    source="IEC 61210:2010, abstract: flexible copper to 6 mm²; smaller blades: "
                    "our assumption",
                )
