"""What a kit was packed with instead of what the plan asks for, for the sheet of its job."""

import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from upgrade_planner.configuration.files.texts import read_bytes
from upgrade_planner.documents.kit.kit_shape import KIT
from upgrade_planner.errors import PlannerError, printable
from upgrade_planner.planning.plan import Plan

LARGEST_KIT_BYTES = 20_000_000
"""Source: our assumption; a kit of one job takes about 0.1 MB."""

WANTED = "a kit.json as 'kit … -o kit.json' writes it, with this version of the program"


class NotThisKit(PlannerError):
    """A file that is no kit, or one of other jobs."""


def packed_instead(path: Path, plan: Plan) -> Mapping[str, str]:
    """
    What stands in for the wires of a plan, in words, by wire id.

    Raises:
        NotThisKit: no kit of this version, or none that holds this job as it is planned.
    """
    data = _data(path)
    sheets = {str(sheet) for job in data["jobs"] for sheet in job["sheets"]}
    if plan.sheet_number not in sheets:
        named = printable(", ".join(sorted(sheets)))
        raise NotThisKit(f"{path}: found a kit for {named}; expected one for {plan.sheet_number}")
    return dict(_instead(data, plan.sheet_number))


def _instead(data: Mapping[str, Any], sheet: str) -> Iterator[tuple[str, str]]:
    for bag in data["bags"]:
        if bag["sheet"] == sheet:
            for wire in bag["wires"]:
                if wire["packed_from"]:
                    yield wire["id"], printable(wire["packed_from"])


def _data(path: Path) -> Mapping[str, Any]:
    try:
        read = json.loads(read_bytes(path, WANTED, LARGEST_KIT_BYTES))
        if (read["format"], read["version"]) != (KIT.written, KIT.version):
            raise NotThisKit(f"{path}: found another format or version; expected {WANTED}")
        data: Mapping[str, Any] = read["data"]
        _ = [wire["packed_from"] for bag in data["bags"] for wire in bag["wires"]]
        _ = [sheet for job in data["jobs"] for sheet in job["sheets"]]
    except (ValueError, KeyError, TypeError, RecursionError) as error:
        raise NotThisKit(f"{path}: found no kit; expected {WANTED}") from error
    return data
