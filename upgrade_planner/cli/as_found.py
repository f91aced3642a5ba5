"""Commands about the real vehicle: the form to take to the car, and what came back on it."""

from pathlib import Path
from typing import Annotated

import typer

from upgrade_planner.cli.application import app
from upgrade_planner.cli.outputs import Format, destination, output_option
from upgrade_planner.cli.parameters import (
    About,
    English,
    Issued,
    Paper,
    PaperChoice,
    Progress,
    Replace,
    Units,
    UnitsChoice,
    english_words,
)
from upgrade_planner.cli.saying import say
from upgrade_planner.jobs.issuing import date_of_issue


@app.command()
def survey(
    configuration: About,
    output: Annotated[Path, output_option("File to write: .pdf, .html or .csv.")] = Path(
        "survey.pdf"
    ),
    form: Format = "",
    paper: Paper = PaperChoice.A4,
    units: Units = UnitsChoice.BOTH,
    english: English = None,
    date_: Issued = "",
    in_full: Annotated[
        bool, typer.Option("--all", help="Ask for the state of every part and wire, too.")
    ] = False,
    replace: Replace = False,
) -> None:
    """
    Write the form to take to the car: what is really there.

    Example: upgrade-planner survey van_original_resistance -o form.pdf
    """
    from upgrade_planner.jobs import survey as job

    with destination(output, form) as to, Progress() as progress:
        request = job.SurveyRequest(
            configuration=configuration,
            target=to.target,
            issued=date_of_issue(date_),
            paper=paper.value,
            units=units.value,
            english=english_words(english),
            replace=replace,
            in_full=in_full,
        )
        made = job.survey(request, progress.say)
    wires = sum(len(stop.wires) for stop in made.stops)
    parts = sum(len(stop.parts) for stop in made.stops)
    to.tell(
        f"{output}: {wires} wires and {parts} parts at {len(made.stops)} places, "
        f"{len(made.measurements)} values to measure"
    )


@app.command()
def record(
    configuration: About,
    form: Annotated[
        Path,
        typer.Argument(
            metavar="FORM", help="The filled form: .csv, .pdf or .json; or a CSV file of wires."
        ),
    ],
    output: Annotated[
        Path, typer.Option("-o", "--output", metavar="FILE", help="Configuration to write: .toml.")
    ] = Path("as_found.toml"),
    replace: Replace = False,
    strict: Annotated[
        bool, typer.Option("--strict", help="All or nothing: refuse a form that is not clear.")
    ] = False,
    english: English = None,
) -> None:
    """
    Turn a filled form into a configuration of your own.

    What is clear is taken; what is not is listed, and stands in the file as questions.

    Example: upgrade-planner record van_original_resistance form.csv -o found.toml
    """
    from upgrade_planner.documents.terminal.told import outcome_lines
    from upgrade_planner.jobs import record as job

    with Progress() as progress:
        progress.say(f"reading {form.name}")
        outcome = job.record(configuration, form, output, replace=replace, strict=strict)
    for line in outcome_lines(outcome, english_words(english)):
        say(line)
