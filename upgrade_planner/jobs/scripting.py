"""What scripts begin with; `upgrade_planner` itself exports these calls and those of the jobs."""

from datetime import date
from pathlib import Path
from typing import Any

from upgrade_planner.comparison.results import Policy
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.documents.words.own_car import with_remarks
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.jobs.issuing import date_of_issue
from upgrade_planner.jobs.worksheet import SheetRequest, worksheet
from upgrade_planner.planning.own_car import load_job
from upgrade_planner.planning.plan import Plan, plan_upgrade


def load_whole(name: str | Path) -> Configuration:
    """
    A configuration by shipped name or path, sizes that its file leaves open chosen.

    Raises:
        PlannerError: no such name or file, or a faulty one; all that is wrong with it.
    """
    (configuration,) = load_sized(str(name))
    return configuration


def plan_job(before: str | Path, after: str | Path, policy: str = Policy.REVERSIBLE) -> Plan:
    """
    The job that turns one configuration into another: steps, readings, findings, check code.

    Args:
        before: Name or path of the configuration as it is.
        after: Name or path of the configuration as it shall be.
        policy: `reversible` or `clean`.

    Raises:
        PlannerError: faulty input, or two configurations that cannot be compared.
    """
    now, then = with_remarks(load_job(str(before), str(after)))
    return plan_upgrade(now, then, Policy(policy))


def write_worksheet(
    before: str | Path, after: str | Path, path: str | Path, issued: date | None = None, **look: Any
) -> Plan:
    """
    Writes the work sheet of a job.

    Args:
        before: As at `plan_job`.
        after: As at `plan_job`.
        path: File to write: .pdf, .html, .json or .csv.
        issued: Date of issue; today, or SOURCE_DATE_EPOCH, where None.
        look: `policy`, `paper`, `units`, `english` and the other fields of `SheetRequest`.

    Raises:
        PlannerError: faulty input, or a file that cannot be written; nothing is left half done.
    """
    request = SheetRequest(
        before=str(before),
        after=str(after),
        target=Path(path),
        issued=issued or date_of_issue(),
        **look,
    )
    (sheet,) = worksheet(request)
    return sheet.plan
