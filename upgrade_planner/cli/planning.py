"""Commands that plan: work sheet and comparison."""

from pathlib import Path
from typing import Annotated

import typer

from upgrade_planner.cli.application import app
from upgrade_planner.cli.options import (
    DANGER,
    After,
    Before,
    PaperChoice,
    Policy,
    PolicyChoice,
    Progress,
    Units,
    UnitsChoice,
    issued,
)


@app.command()
def worksheet(
    before: Before,
    after: After,
    output: Annotated[
        Path,
        typer.Option("-o", "--output", help="File to write: .pdf, .html, .json or .csv."),
    ] = Path("worksheet.pdf"),
    policy: Policy = PolicyChoice.REVERSIBLE,
    paper: Annotated[PaperChoice, typer.Option(help="Paper size.")] = PaperChoice.A4,
    units: Units = UnitsChoice.BOTH,
    date_: Annotated[
        str,
        typer.Option("--date", help="Date of issue, YYYY-MM-DD (else SOURCE_DATE_EPOCH or today)."),
    ] = "",
    number: Annotated[str, typer.Option(help="Sheet number (else from the check code).")] = "",
    revision: Annotated[str, typer.Option(help="Revision of the sheet.")] = "A",
) -> None:
    """
    Write the ordered work sheet that turns BEFORE into AFTER.

    Example: upgrade-planner worksheet van_as_found van_upgraded -o sheet.pdf --policy clean
    """
    from upgrade_planner.comparison.results import Policy as PlanPolicy
    from upgrade_planner.documents.jobs import SheetRequest, danger_stands, make_worksheet

    request = SheetRequest(
        before=before,
        after=after,
        target=output,
        issued=issued(date_),
        policy=PlanPolicy(policy.value),
        paper=paper.value,
        units=units.value,
        sheet_number=number,
        revision=revision,
    )
    with Progress() as progress:
        plan = make_worksheet(request, progress.say)
    holds = sum(getattr(operation, "hold", False) for operation in plan.operations)
    typer.echo(f"{output}: {len(plan.steps)} steps, {holds} hold points, check {plan.check_code}")
    if danger_stands(plan):
        typer.echo("A danger finding stands in AFTER: see the first page.", err=True)
        raise typer.Exit(DANGER)


@app.command()
def compare(
    before: Before,
    after: After,
    policy: Policy = PolicyChoice.REVERSIBLE,
    units: Units = UnitsChoice.BOTH,
    everything: Annotated[bool, typer.Option("--all", help="Kept parts and wires too.")] = False,
    as_json: Annotated[bool, typer.Option("--json", help="As data instead of a table.")] = False,
) -> None:
    """
    Show what happens to each part and wire, and why.

    Example: upgrade-planner compare van_original_ballast van_upgraded
    """
    from upgrade_planner.checks.checking import check
    from upgrade_planner.checks.findings import Severity
    from upgrade_planner.comparison.comparing import compare as compared
    from upgrade_planner.comparison.results import Policy as PlanPolicy
    from upgrade_planner.electrical.sizing import load_sized

    loaded = load_sized(before, after)
    comparison = compared(loaded[0], loaded[1], PlanPolicy(policy.value))
    findings = check(comparison.after)
    if as_json:
        from upgrade_planner.documents.plan_json import comparison_json

        typer.echo(comparison_json(comparison), nl=False)
    else:
        from upgrade_planner.documents.terminal import print_comparison, print_findings

        print_comparison(comparison, everything=everything, units=units.value)
        print_findings(findings)
    if any(finding.severity is Severity.DANGER for finding in findings):
        raise typer.Exit(DANGER)
