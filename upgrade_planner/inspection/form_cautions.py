"""Cautions of the survey form, chosen by what is measured."""

from collections.abc import Iterator
from functools import cache
from typing import Any

from upgrade_planner.configuration.files.own_data import data_table
from upgrade_planner.inspection.walk import Inspection


@cache
def caution_entries() -> tuple[dict[str, Any], ...]:
    """The table as it stands in the data, gravest first."""
    return tuple(data_table(__package__, "cautions.toml")["caution"])


def cautions(inspection: Inspection) -> Iterator[dict[str, Any]]:
    """The cautions for a form: those without a condition, and those whose state is measured."""
    states = {found.state for found in inspection.measurements}
    for entry in caution_entries():
        when = entry.get("when", ())
        if not when or states & set(when):
            yield entry
