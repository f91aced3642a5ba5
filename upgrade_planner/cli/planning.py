"""Commands that plan: work sheet and comparison."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from upgrade_planner.cli.application import app
from upgrade_planner.cli.outputs import Format, destination, output_option
from upgrade_planner.cli.parameters import (
    DANGER,
    After,
    Before,
    CustomerName,
    English,
    Issued,
    JobPapers,
    Paper,
    PaperChoice,
    Policy,
    PolicyChoice,
    Progress,
    StagesAndAfter,
    Units,
    UnitsChoice,
    english_words,
)
from upgrade_planner.cli.saying import say
from upgrade_planner.jobs.issuing import date_of_issue

if TYPE_CHECKING:
    from upgrade_planner.jobs.worksheet import Sheet


@app.command()
def worksheet(
    before: Before,
    after: StagesAndAfter,
    output: Annotated[Path, output_option("File to write: .pdf, .html, .json or .csv.")] = Path(
        "worksheet.pdf"
    ),
    form: Format = "",
    policy: Policy = PolicyChoice.REVERSIBLE,
    way_back: Annotated[
        bool,
        typer.Option("--way-back", help="The sheet that undoes the one from BEFORE to AFTER."),
    ] = False,
    paper: Paper = PaperChoice.A4,
    units: Units = UnitsChoice.BOTH,
    english: English = None,
    date_: Issued = "",
    number: Annotated[
        str,
        typer.Option(metavar="TEXT", help="Sheet number (else from the check code)."),
    ] = "",
    revision: Annotated[
        str,
        typer.Option(metavar="TEXT", help="Revision of the sheet (else A)."),
    ] = "",
    job_file: JobPapers = None,
    customer: CustomerName = "",
    drawings: Annotated[
        bool,
        typer.Option("--drawings/--no-drawings", help="Pictures of what changes and where."),
    ] = True,
    reasons: Annotated[
        bool, typer.Option("--reasons", help="Print why each wire and part is treated as it is.")
    ] = False,
    record_page: Annotated[
        bool, typer.Option("--record-page", help="Add a page with all readings, to be filed alone.")
    ] = False,
    all_wires: Annotated[
        bool, typer.Option("--all-wires", help="List the wires that nobody touches, too.")
    ] = False,
    packed: Annotated[
        Path | None,
        typer.Option(
            "--packed",
            metavar="KIT.json",
            help="The kit that was packed for the job: the sheet says at each wire what stands in "
            "for its cable.",
        ),
    ] = None,
) -> None:
    """
    Write the ordered work sheet that turns BEFORE into AFTER.

    With more than one AFTER the job is done in stages: one sheet a stage, sheet_1.pdf, sheet_2.pdf
    and so on beside each other for -o sheet.pdf, all of them or none, each with what may be driven
    until the next. A wire that a later stage needs larger is fitted larger at once.

    With --way-back, the sheet leads from AFTER back to BEFORE, for a job done by the sheet of the
    same two configurations and the same policy: capped wires are joined again, the bag is emptied.

    Example: upgrade-planner worksheet van_as_found van_upgraded -o sheet.pdf --policy clean
    """
    from upgrade_planner.jobs import worksheet as job
    from upgrade_planner.jobs.job_papers import job_papers

    *stages, last = after
    with destination(output, form, parts=len(after)) as to, Progress() as progress:
        request = job.SheetRequest(
            before=before,
            after=last,
            stages=tuple(stages),
            way_back=way_back,
            target=to.target,
            issued=date_of_issue(date_),
            policy=policy.value,
            paper=paper.value,
            units=units.value,
            english=english_words(english),
            job=job_papers(job_file, number=number, revision=revision, customer=customer),
            drawings=drawings,
            reasons=reasons,
            record_page=record_page,
            all_wires=all_wires,
            packed=packed,
        )
        sheets = job.worksheet(request, progress.say)
    for sheet in sheets:
        for remark in sheet.remarks:
            say(remark, err=True)
        to.tell(_written(sheet, to.name_of(sheet.target)))
    dangerous = _dangerous(sheets)
    if dangerous:
        say(f"A danger finding stands in {dangerous}: see the first page.", err=True)
        raise typer.Exit(DANGER)


def _written(sheet: "Sheet", target: Path) -> str:
    plan = sheet.plan
    holds = sum(getattr(operation, "hold", False) for operation in plan.operations)
    return f"{target}: {len(plan.steps)} steps, {holds} hold points, check {plan.check_code}"


def _dangerous(sheets: "tuple[Sheet, ...]") -> str:
    """Where danger findings stand, in words; "" if nowhere."""
    from upgrade_planner.jobs.worksheet import danger_stands

    numbers = [str(n) for n, sheet in enumerate(sheets, start=1) if danger_stands(sheet.plan)]
    if len(sheets) == 1:
        return "AFTER" if numbers else ""
    return f"the vehicle after stage {' and '.join(numbers)}" if numbers else ""


@app.command()
def compare(
    before: Before,
    after: After,
    policy: Policy = PolicyChoice.REVERSIBLE,
    units: Units = UnitsChoice.BOTH,
    everything: Annotated[bool, typer.Option("--all", help="Kept parts and wires too.")] = False,
    as_json: Annotated[bool, typer.Option("--json", help="As data instead of a table.")] = False,
    english: English = None,
) -> None:
    """
    Show what happens to each part and wire, and why.

    Example: upgrade-planner compare van_original_ballast van_upgraded
    """
    from upgrade_planner.jobs import compare as job

    with Progress() as progress:
        progress.say("comparing")
        compared = job.compare(before, after, policy.value)
    for remark in compared.remarks:
        say(remark, err=True)
    if as_json:
        typer.echo(compared.as_json(), nl=False)
    else:
        from upgrade_planner.documents.terminal.findings import print_findings
        from upgrade_planner.documents.terminal.screens import print_comparison

        comparison, words = compared.comparison, english_words(english)
        print_comparison(
            comparison,
            (before, after),
            everything=everything,
            units=units.value,
            english=words,
        )
        print_findings(compared.findings, comparison.after, units.value, english=words)
    if compared.has_danger:
        raise typer.Exit(DANGER)
