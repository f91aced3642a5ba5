"""Rules on the charging system that follow from how it is joined."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.configuration.model import TerminalRef

INTERNAL = "alternator_internal_regulator"


def sensing_at_own_output(examined: Examined) -> Iterator[Finding]:
    """The sense terminal watches the alternator's own output instead of the main junction."""
    configuration = examined.configuration
    for part in configuration.components:
        sense = TerminalRef(part.role, "sense")
        if part.kind != INTERNAL or part.terminal("sense") is None:
            continue
        for wire in configuration.wires_at.get(sense, ()):
            if wire.other_end(sense) == TerminalRef(part.role, "output"):
                yield Finding(
                    code="CHG-SENSE-OWN",
                    title="Sensing at the wrong point",
                    severity=Severity.WARNING,
                    where=(wire.id,),
                    what="The regulator does not see what the output wire loses.",
                    remedy="Join the sensing wire to the main junction.",
                    source="common practice",
                )


def sensing_open(examined: Examined) -> Iterator[Finding]:
    """A sense terminal without a wire: the regulator may charge without limit."""
    configuration = examined.configuration
    for part in configuration.components:
        sense = TerminalRef(part.role, "sense")
        has_it = part.kind == INTERNAL and part.terminal("sense") is not None
        if has_it and not configuration.wires_at.get(sense):
            yield Finding(
                code="CHG-SENSE-OPEN",
                title="Sensing open",
                severity=Severity.DANGER,
                where=(str(sense),),
                what="The sense terminal carries no wire; the alternator may overcharge.",
                remedy="Run a sensing wire from the main junction.",
                source="common practice",
            )


def two_regulators(examined: Examined) -> Iterator[Finding]:
    """An external regulator beside an alternator that regulates itself."""
    configuration = examined.configuration
    internal = [p.role for p in configuration.components if p.kind == INTERNAL]
    external = [p.role for p in configuration.components if p.kind == "regulator_electromechanical"]
    if internal and external:
        yield Finding(
            code="CHG-TWO-REGULATORS",
            title="Two regulators",
            severity=Severity.WARNING,
            where=(*internal, *external),
            what="An external regulator is left beside an internally regulated alternator.",
            remedy="Take the external regulator and its field wires out.",
            source="common practice",
        )
