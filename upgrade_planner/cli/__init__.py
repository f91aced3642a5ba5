"""
The command line: parse, call, print.

Every command is one library call plus printing. Exit codes: 0 done; 1 done, but a danger finding
stands in the target; 2 bad input or a target that cannot be written.
"""

import os
import sys
from datetime import UTC, date, datetime
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from upgrade_planner import __version__
from upgrade_planner.errors import PlannerError

DONE, DANGER, BAD_INPUT = 0, 1, 2

HELP = """
Plan an ignition or charging upgrade of an old vehicle, wire by wire.

BEFORE and AFTER are configurations: shipped ones ('upgrade-planner list') or TOML files of your
own. Start with:

    upgrade-planner worksheet van_original_resistance van_upgraded -o sheet.pdf

No sheet is a certificate of safety. Local codes, the maker's service manual and licensed practice
come first.
"""

app = typer.Typer(
    help=HELP,
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)


class PolicyChoice(StrEnum):
    """What happens to wires that are no longer used."""

    REVERSIBLE = "reversible"
    CLEAN = "clean"


class PaperChoice(StrEnum):
    """Paper sizes."""

    A4 = "A4"
    LETTER = "Letter"


class UnitsChoice(StrEnum):
    """Units on paper."""

    METRIC = "metric"
    US = "us"
    BOTH = "both"


Before = Annotated[str, typer.Argument(help="Configuration as it is now: shipped name or file.")]
After = Annotated[str, typer.Argument(help="Configuration as it shall be: shipped name or file.")]
Policy = Annotated[
    PolicyChoice,
    typer.Option(help="reversible: cap off unused wires in looms; clean: take all of them out."),
]
Units = Annotated[UnitsChoice, typer.Option(help="Units on paper and screen.")]


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
        issued=_issued(date_),
        policy=PlanPolicy(policy.value),
        paper=paper.value,
        units=units.value,
        sheet_number=number,
        revision=revision,
    )
    with _Progress() as progress:
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


@app.command()
def check(
    configuration: Annotated[str, typer.Argument(help="Configuration: shipped name or file.")],
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
        from upgrade_planner.documents.plan_json import findings_json

        typer.echo(findings_json(loaded, findings), nl=False)
    else:
        from upgrade_planner.documents.terminal import print_findings

        print_findings(findings, title=f"{loaded.vehicle.title}: {loaded.title}")
    if any(finding.severity is Severity.DANGER for finding in findings):
        raise typer.Exit(DANGER)


@app.command("list")
def list_profiles(
    as_json: Annotated[bool, typer.Option("--json", help="As data instead of a table.")] = False,
) -> None:
    """
    List the shipped vehicles, systems and configurations.

    Example: upgrade-planner list
    """
    from upgrade_planner.documents.catalogue import catalogue, catalogue_json, print_catalogue

    if as_json:
        typer.echo(catalogue_json(catalogue()), nl=False)
    else:
        print_catalogue(catalogue())


@app.command()
def show(
    name: Annotated[str, typer.Argument(help="Configuration, vehicle or system: name or file.")],
    output: Annotated[
        Path | None,
        typer.Option("-o", "--output", help="Copy: .toml the profile to edit, .csv its wires."),
    ] = None,
    units: Units = UnitsChoice.BOTH,
) -> None:
    """
    Show a profile, or copy it to a file of your own.

    Example: upgrade-planner show van_as_found -o my_van.toml
    """
    from upgrade_planner.documents.catalogue import copy_profile, show_profile

    if output is None:
        show_profile(name, units.value)
    else:
        typer.echo(copy_profile(name, output))


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
    from upgrade_planner.planning.survey import survey

    (loaded,) = load_sized(configuration)
    surveyed = survey(with_open_wire(loaded, open_wire) if open_wire else loaded, state)
    if as_json:
        from upgrade_planner.documents.survey import survey_json

        typer.echo(survey_json(surveyed), nl=False)
    else:
        from upgrade_planner.documents.terminal import print_survey

        print_survey(surveyed)


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"upgrade-planner {__version__}")
        raise typer.Exit(DONE)


@app.callback()
def _common(
    version: Annotated[
        bool,
        typer.Option("--version", callback=_version, is_eager=True, help="Show the version."),
    ] = False,
) -> None:
    pass


def _issued(text: str) -> date:
    """The date of issue: as asked for, else SOURCE_DATE_EPOCH, else today."""
    epoch = os.environ.get("SOURCE_DATE_EPOCH", "")
    try:
        if text:
            return date.fromisoformat(text)
        if epoch:
            return datetime.fromtimestamp(int(epoch), UTC).date()
    except (ValueError, OverflowError, OSError) as error:
        found = text or f"SOURCE_DATE_EPOCH={epoch}"
        raise PlannerError(
            f"--date: found '{found}'; expected a date such as 2026-03-01"
        ) from error
    return datetime.now().astimezone().date()


class _Progress:
    """One changing line on a terminal, so that a wait explains itself; nothing elsewhere."""

    def __enter__(self) -> "_Progress":
        self._shown = sys.stderr.isatty()
        return self

    def say(self, text: str) -> None:
        if self._shown:
            sys.stderr.write(f"\r\x1b[K{text} …")
            sys.stderr.flush()

    def __exit__(self, *_: object) -> None:
        if self._shown:
            sys.stderr.write("\r\x1b[K")
            sys.stderr.flush()


def main() -> None:
    """Runs the command line; every error on purpose becomes text and exit code 2."""
    try:
        app()
    except PlannerError as error:
        typer.echo(str(error), err=True)
        sys.exit(BAD_INPUT)
    except BrokenPipeError:  # the reader of a pipe has gone: not a fault
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(DONE)
