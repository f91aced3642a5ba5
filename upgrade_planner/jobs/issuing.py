"""The date of issue of a paper: the only date that enters it."""

import os
from datetime import UTC, date, datetime

from upgrade_planner.errors import PlannerError


def date_of_issue(text: str = "", option: str = "--date") -> date:
    """
    The date as asked for by an option, else SOURCE_DATE_EPOCH, else today.

    Raises:
        PlannerError: no date such as 2026-03-01, or a variable that is no number of seconds.
    """
    epoch = os.environ.get("SOURCE_DATE_EPOCH", "")
    try:
        if text:
            return date.fromisoformat(text)
        if epoch:
            return datetime.fromtimestamp(int(epoch), UTC).date()
    except (ValueError, OverflowError, OSError) as error:
        found = text or f"SOURCE_DATE_EPOCH={epoch}"
        raise PlannerError(
            f"{option}: found '{found}'; expected a date such as 2026-03-01"
        ) from error
    return datetime.now().astimezone().date()
