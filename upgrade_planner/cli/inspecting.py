"""Commands that compute one configuration: findings and readings."""

from typing import Annotated

import typer

from upgrade_planner.cli.application import app
from upgrade_planner.cli.options import DANGER, Units, UnitsChoice


@app.command()
def check(
    configuration: Annotated[str, typer.Argument(help="Configuration: shipped name or file.")],
    units: Units = UnitsChoice.BOTH,
    as_json: Annotated[bool, typer.Option("--json", help="As data instead of text.")] = False,
) -> None:
    """
    Compute one configuration in every state and say what would hurt.

    Exit code 1 if a danger stands.

    Example: upgrade-planner check van_as_found
    """
    from upgrade_planner.checks.checking import check as checked
    from upgrade_planner.checks.findings import Severity
    from upgrade_planner.electrical.sizing import load_sized

    (loaded,) = load_sized(configuration)
    findings = checked(loaded)
    if as_json:
        from upgrade_planner.documents.shared.finding_data import findings_json

        typer.echo(findings_json(loaded, findings), nl=False)
    else:
        from upgrade_planner.documents.terminal.findings import print_findings

        title = f"{loaded.vehicle.title}: {loaded.title}"
        print_findings(findings, units.value, title=title)
    if any(finding.severity is Severity.DANGER for finding in findings):
        raise typer.Exit(DANGER)


@app.command()
def readings(
    configuration: Annotated[str, typer.Argument(help="Configuration: shipped name or file.")],
    state: Annotated[
        str,
        typer.Option(help="One state: off, key_on, cranking, idling, loaded, coasting."),
    ] = "",
    open_wire: Annotated[
        str, typer.Option("--open", help="A wire that is broken: show what the meter reads then.")
    ] = "",
    as_json: Annotated[bool, typer.Option("--json", help="As data instead of tables.")] = False,
) -> None:
    """
    Show what a meter reads in every state: voltages, currents, ranges to expect.

    Example: upgrade-planner readings van_upgraded --state key_on --open ignition-feed
    """
    from upgrade_planner.electrical.failures import with_open_wire
    from upgrade_planner.electrical.sizing import load_sized
    from upgrade_planner.planning.state_readings import survey

    (loaded,) = load_sized(configuration)
    surveyed = survey(with_open_wire(loaded, open_wire) if open_wire else loaded, state)
    if as_json:
        from upgrade_planner.documents.terminal.states import survey_json

        typer.echo(survey_json(surveyed), nl=False)
    else:
        from upgrade_planner.documents.terminal.screens import print_survey

        print_survey(surveyed)
