"""
How tight a terminal is tightened where its maker gives no figure.

The maker's figure comes first, and of two the lower, for the softer metal: FAA AC 43.13-1B Change
1, 11-177 d, sends to the maker; the table is a fallback.
"""

import csv
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from attrs import frozen

from upgrade_planner.configuration.model import Connection, Joint

_FILE = Path(__file__).parent / "data" / "torque.csv"

_TIGHTENED = (Joint.STUD, Joint.SCREW, Joint.POST)


@frozen
class Torque:
    """A published range. [N m]"""

    low_nm: float
    high_nm: float
    source: str


@cache
def _table() -> Mapping[str, Torque]:
    rows = csv.DictReader(_FILE.read_text(encoding="utf-8").splitlines())
    return {
        row["size"]: Torque(float(row["low_nm"]), float(row["high_nm"]), row["source"])
        for row in rows
    }


def torque_for(connection: Connection) -> Torque | None:
    """The fallback for that hardware; None if nothing is tightened there or no figure is known."""
    return _table().get(connection.size) if connection.joint in _TIGHTENED else None
