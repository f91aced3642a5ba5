"""Cautions of the survey form, chosen by what is measured."""

import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

from upgrade_planner.inspection.walk import Inspection

_DATA = Path(__file__).parent / "data" / "cautions.toml"


@cache
def caution_entries() -> tuple[dict[str, Any], ...]:
    """The table as it stands in the data, gravest first."""
    return tuple(tomllib.loads(_DATA.read_text(encoding="utf-8"))["caution"])


def cautions(inspection: Inspection) -> Iterator[dict[str, Any]]:
    """The cautions for a form: those without a condition, and those whose state is measured."""
    states = {found.state for found in inspection.measurements}
    for entry in caution_entries():
        when = entry.get("when", ())
        if not when or states & set(when):
            yield entry
