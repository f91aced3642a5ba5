"""From two names to a file: the calls behind the commands, for the command line and for scripts."""

from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path

from attrs import frozen

from upgrade_planner.checks.findings import Severity
from upgrade_planner.comparison.results import Policy
from upgrade_planner.documents.plan_json import plan_json
from upgrade_planner.documents.sheet import SheetOptions, identity_of, sheet_view
from upgrade_planner.documents.writing import NotWritten, require_target, write_whole
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.planning.plan import Plan, plan_upgrade

SUFFIXES = (".pdf", ".html", ".json", ".csv")

Say = Callable[[str], None]


@frozen(kw_only=True)
class SheetRequest:
    """
    What a work sheet shall be.

    Attributes:
        before: Name or path of the configuration as it is.
        after: Name or path of the configuration as it shall be.
        target: File to write; its suffix decides the format.
        issued: Date of issue; the only date that enters the file.
        paper: `A4` or `Letter`.
    """

    before: str
    after: str
    target: Path
    issued: date
    policy: Policy = Policy.REVERSIBLE
    paper: str = "A4"
    units: str = "both"
    sheet_number: str = ""
    revision: str = "A"


def make_worksheet(request: SheetRequest, say: Say = lambda _: None) -> Plan:
    """
    Plans the upgrade and writes the work sheet.

    Args:
        request: What to plan and where to write.
        say: Told what is being done, for a person who waits.

    Raises:
        PlannerError: faulty input, or a target that cannot be written; nothing is left half done.
    """
    suffix = request.target.suffix.lower()
    if suffix not in SUFFIXES:
        raise NotWritten(
            f"{request.target}: found the suffix '{suffix}'; expected one of {', '.join(SUFFIXES)}"
        )
    require_target(request.target)
    say("reading")
    before, after = load_sized(request.before, request.after)
    plan = plan_upgrade(before, after, request.policy)
    say("laying out")
    write_whole(request.target, _rendered(plan, request, suffix))
    return plan


def danger_stands(plan: Plan) -> bool:
    """True if the target configuration still has a danger finding."""
    return any(finding.severity is Severity.DANGER for finding in plan.findings)


def _rendered(plan: Plan, request: SheetRequest, suffix: str) -> bytes:
    options = SheetOptions(
        date=request.issued.isoformat(),
        units=request.units,
        sheet_number=request.sheet_number,
        revision=request.revision,
    )
    if suffix == ".json":
        return plan_json(plan, options).encode()
    view = sheet_view(plan, options)
    if suffix == ".csv":
        from upgrade_planner.documents.steps_csv import steps_csv

        return steps_csv(view).encode("utf-8-sig")
    from upgrade_planner.documents.html import worksheet_html

    if suffix == ".html":
        return worksheet_html(view, paper=request.paper, embed_fonts=True).encode()
    from upgrade_planner.documents.pdf import worksheet_pdf

    issued = datetime(request.issued.year, request.issued.month, request.issued.day, tzinfo=UTC)
    return worksheet_pdf(
        worksheet_html(view, paper=request.paper),
        identity=identity_of(plan, options),
        plan_json=plan_json(plan, options),
        created=issued,
    )
