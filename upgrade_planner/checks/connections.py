"""Rules on terminals and connectors: how many wires on a stud, how many through a connector."""

from collections import Counter
from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.configuration.model import Joint

MOST_ON_A_STUD = 4
"""Source: FAA AC 43.13-1B Change 1: a bus strap is needed above four terminals on one stud."""


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
