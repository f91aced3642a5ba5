"""Cautions of the survey form, chosen by what is measured and by the rules of the vehicle."""

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
    """The cautions for a form: those without a condition, and those of which one holds."""
    holds = {found.state for found in inspection.measurements}
    holds.add(inspection.configuration.vehicle.equipment.rules)
    for entry in caution_entries():
        when = entry.get("when", ())
        if not when or holds & set(when):
            yield entry
