"""The command that writes quotations."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from upgrade_planner.cli.application import app
from upgrade_planner.cli.parameters import (
    DANGER,
    Before,
    English,
    PaperChoice,
    Policy,
    PolicyChoice,
    Progress,
    Units,
    UnitsChoice,
    english_words,
    issued,
)

if TYPE_CHECKING:
    from upgrade_planner.jobs.quote import Quotation

Offers = Annotated[
    list[str],
    typer.Argument(
        help="Configuration as it shall be: shipped name or file. More than one: an offer for "
        "each, compared side by side.",
    ),
]


@app.command()
def quote(
    before: Before,
    after: Offers,
    output: Annotated[
        Path,
        typer.Option(
            "-o", "--output", help="Customer's file to write: .pdf, .html, .json or .xlsx."
        ),
    ] = Path("quote.pdf"),
    internal: Annotated[
        Path | None,
        typer.Option(
            help="The shop's own file besides, every line with cost and margin: .pdf, .xlsx or "
            ".json."
        ),
    ] = None,
    rates: Annotated[
        Path | None, typer.Option(help="Rates of the shop (else those of an invented shop).")
    ] = None,
    labour: Annotated[
        Path | None, typer.Option(help="Working times (else those of an invented shop).")
    ] = None,
    prices: Annotated[
        Path | None,
        typer.Option(help="Price list, .csv or .xlsx beside its shop.toml, or the shop's folder."),
    ] = None,
    policy: Policy = PolicyChoice.REVERSIBLE,
    stages: Annotated[
        list[str] | None,
        typer.Option(
            "--stage", help="As it is after a first visit: the job in stages as a choice."
        ),
    ] = None,
    paper: Annotated[PaperChoice, typer.Option(help="Paper size.")] = PaperChoice.A4,
    units: Units = UnitsChoice.BOTH,
    english: English = None,
    date_: Annotated[
        str,
        typer.Option("--date", help="Date of issue, YYYY-MM-DD (else SOURCE_DATE_EPOCH or today)."),
    ] = "",
) -> None:
    """
    Write a quotation for the job that turns BEFORE into AFTER.

    Example: upgrade-planner quote van_original_ballast van_upgraded -o quote.pdf
    """
    from upgrade_planner.jobs import quote as job

    request = job.QuoteRequest(
        before=before,
        after=tuple(after),
        target=output,
        issued=issued(date_),
        internal=internal,
        rates=rates,
        labour=labour,
        prices=prices,
        policy=policy.value,
        stages=tuple(stages or ()),
        paper=paper.value,
        units=units.value,
        english=english_words(english),
    )
    with Progress() as progress:
        made = job.quote(request, progress.say)
    _say(made, request.target, internal)


def _say(made: "Quotation", target: Path, internal: Path | None) -> None:
    from upgrade_planner.documents.terminal.orders import quotation_lines

    for line in quotation_lines(target, made.view):
        typer.echo(line)
    if internal is not None:
        typer.echo(f"{internal}: for the shop only, with cost and margin")
    if made.invented:
        typer.echo(made.invented)
    dangerous = [offer.title for offer in made.view.offers if offer.dangers]
    if dangerous:
        typer.echo(f"A danger finding stands in: {'; '.join(dangerous)}.", err=True)
        raise typer.Exit(DANGER)
