"""The command that writes quotations."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from upgrade_planner.cli.application import app
from upgrade_planner.cli.outputs import Destination, Format, destination, output_option
from upgrade_planner.cli.parameters import (
    DANGER,
    Before,
    CustomerName,
    English,
    Issued,
    JobPapers,
    Language,
    Mail,
    Paper,
    PaperChoice,
    Policy,
    PolicyChoice,
    Prices,
    Progress,
    ShopFolder,
    StagesAndAfter,
    Strict,
    Units,
    UnitsChoice,
    configuration_names,
    english_words,
)
from upgrade_planner.cli.saying import say
from upgrade_planner.jobs.issuing import date_of_issue

if TYPE_CHECKING:
    from upgrade_planner.jobs.quote import Quotation


@app.command()
def quote(
    before: Before,
    after: StagesAndAfter,
    output: Annotated[
        Path, output_option("Customer's file to write: .pdf, .html, .json or .xlsx.")
    ] = Path("quote.pdf"),
    form: Format = "",
    others: Annotated[
        list[str] | None,
        typer.Option(
            "--or",
            metavar="AFTER",
            help="An alternative, offered beside AFTER and compared with it; again for each.",
            autocompletion=configuration_names,
        ),
    ] = None,
    internal: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE",
            help="The shop's own file besides, every line with cost and margin: .pdf, .xlsx or "
            ".json.",
        ),
    ] = None,
    mail: Mail = None,
    shop: ShopFolder = None,
    rates: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Rates (else rates.toml of the shop's folder)."),
    ] = None,
    labour: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Working times (else labour.toml of the shop's folder)."),
    ] = None,
    prices: Prices = None,
    strict: Strict = False,
    policy: Policy = PolicyChoice.REVERSIBLE,
    language: Language = None,
    paper: Paper = PaperChoice.A4,
    units: Units = UnitsChoice.BOTH,
    english: English = None,
    date_: Issued = "",
    job_file: JobPapers = None,
    number: Annotated[
        str,
        typer.Option(
            metavar="TEXT",
            help="Number of the offer (else as --job says; without one it is a draft).",
        ),
    ] = "",
    revision: Annotated[str, typer.Option(metavar="TEXT", help="Revision of the offer.")] = "",
    customer: CustomerName = "",
) -> None:
    """
    Write a quotation for the job that turns BEFORE into AFTER.

    With more than one AFTER the customer may have the job done in stages, one visit for each.
    Alternatives stand behind --or. With --shop and a number the offer is kept in the shop's folder
    'offers': no other offer gets its number, and 'accept' and 'invoice' go on from there.

    Example: upgrade-planner quote van_original_ballast van_upgraded -o quote.pdf

    Example: upgrade-planner quote van_original_ballast van_upgraded --or van_discharge_unit
    """
    from upgrade_planner.jobs import quote as job
    from upgrade_planner.jobs.job_papers import job_papers
    from upgrade_planner.jobs.shop import LABOUR, OFFERS, RATES, shop_file, shop_list

    *stages, last = after
    with destination(output, form) as to, Progress() as progress:
        request = job.QuoteRequest(
            before=before,
            after=(last, *(others or ())),
            target=to.target,
            issued=date_of_issue(date_),
            internal=internal,
            mail=mail,
            keep=shop / OFFERS if shop else None,
            rates=rates or shop_file(shop, RATES),
            labour=labour or shop_file(shop, LABOUR),
            prices=prices or shop_list(shop),
            is_strict=strict,
            policy=policy.value,
            stages=tuple(stages),
            job=job_papers(job_file, number=number, revision=revision, customer=customer),
            language=language.value if language else "",
            paper=paper.value,
            units=units.value,
            english=english_words(english),
        )
        made = job.quote(request, progress.say)
    _say_what_was_written(made, to, internal)


def _say_what_was_written(made: "Quotation", to: Destination, internal: Path | None) -> None:
    from upgrade_planner.documents.terminal.orders import list_lines, quotation_lines

    for line in list_lines(made.prices):
        typer.echo(line, err=True)
    for line in quotation_lines(to.name_of(to.target), made.own_view):
        to.tell(line)
    if internal is not None:
        to.tell(f"{internal}: for the shop only, with cost and margin")
    if made.kept is not None:
        to.tell(f"{made.kept}: kept, for 'accept' and 'invoice'; its number is taken")
    if made.invented:
        to.tell(made.invented)
    dangerous = [offer.title for offer in made.own_view.offers if offer.dangers]
    if dangerous:
        say(f"A danger finding stands in: {'; '.join(dangerous)}.", err=True)
        raise typer.Exit(DANGER)
