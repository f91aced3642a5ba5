"""Commands that compute one configuration: findings and readings."""

from pathlib import Path
from typing import Annotated

import typer

from upgrade_planner.cli.application import app
from upgrade_planner.cli.parameters import (
    DANGER,
    About,
    English,
    Progress,
    Replace,
    Units,
    UnitsChoice,
    english_words,
)
from upgrade_planner.cli.saying import say


@app.command()
def check(
    configuration: About,
    units: Units = UnitsChoice.BOTH,
    as_json: Annotated[bool, typer.Option("--json", help="As data instead of text.")] = False,
    remedy: Annotated[
        bool,
        typer.Option("--remedy", help="Write the configuration with its remedies carried out."),
    ] = False,
    output: Annotated[
        Path,
        typer.Option("-o", "--output", metavar="FILE", help="Configuration to write, .toml."),
    ] = Path("mended.toml"),
    replace: Replace = False,
    english: English = None,
) -> None:
    """
    Compute one configuration and say what would hurt.

    Every state of key and engine is computed. Exit code 1 if a danger stands.

    Example: upgrade-planner check van_as_found

    With --remedy, the remedies of dangers and warnings are carried out on paper as far as they are
    changes of wires and parts, each with its reason beside it.

    Example: upgrade-planner check van_as_found --remedy -o mended.toml
    """
    from upgrade_planner.jobs import check as job

    with Progress() as progress:
        progress.say("computing all states")
        checked = job.check(configuration)
    if as_json:
        typer.echo(checked.as_json(), nl=False)
    else:
        from upgrade_planner.documents.terminal.findings import print_findings

        found = checked.configuration
        title = f"{found.vehicle.title}: {found.title}"
        title += f" ({found.vehicle.equipment.rules} rules)"
        print_findings(
            checked.findings,
            found,
            units.value,
            title=title,
            english=english_words(english),
            unnamed_switches=checked.unnamed_switches,
        )
    if remedy:
        with Progress() as progress:
            progress.say("trying remedies")
            left = job.mend(configuration, output, replace=replace)
        say(f"{output}: {len(left)} dangers and warnings left", err=as_json)
    if checked.has_danger:
        raise typer.Exit(DANGER)


@app.command()
def readings(
    configuration: About,
    state: Annotated[
        str,
        typer.Option(
            metavar="STATE",
            help="One state: off, key_on, cranking, idling, loaded, coasting.",
        ),
    ] = "",
    open_wire: Annotated[
        str,
        typer.Option(
            "--open", metavar="WIRE", help="A wire that is broken: show what the meter reads then."
        ),
    ] = "",
    everything: Annotated[
        bool, typer.Option("--all", help="All currents, with drops and temperatures of wires.")
    ] = False,
    as_json: Annotated[bool, typer.Option("--json", help="As data instead of tables.")] = False,
    english: English = None,
) -> None:
    """
    Show what a meter reads in every state, and its range.

    Example: upgrade-planner readings van_upgraded --state key_on --open ignition-feed
    """
    from upgrade_planner.jobs import readings as job

    with Progress() as progress:
        progress.say("computing all states")
        surveyed = job.readings(configuration, state, open_wire)
    if as_json:
        from upgrade_planner.documents.terminal.states import survey_json

        typer.echo(survey_json(surveyed), nl=False)
    else:
        from upgrade_planner.documents.terminal.screens import print_survey

        print_survey(surveyed, english_words(english), everything=everything)
