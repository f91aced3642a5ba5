"""
How tight a terminal is tightened where its maker gives no figure.

The maker's figure comes first, and of two the lower, for the softer metal: FAA AC 43.13-1B Change
1, 11-177 d, sends to the maker; the table is a fallback.
"""

from collections.abc import Mapping
from functools import cache

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.own_data import data_rows
from upgrade_planner.configuration.model import Connection, Joint

_TIGHTENED = (Joint.STUD, Joint.SCREW, Joint.POST)


@frozen
class Torque:
    """A published range. [N m]"""

    low_nm: float
    high_nm: float
    source: str


@cache
def _table() -> Mapping[str, Torque]:
    return {
        row["size"]: Torque(float(row["low_nm"]), float(row["high_nm"]), row["source"])
        for row in data_rows(__package__, "torque.csv")
    }


def torque_for(connection: Connection) -> Torque | None:
    """The fallback for that hardware; None if nothing is tightened there or no figure is known."""
    return _table().get(connection.size) if connection.joint in _TIGHTENED else None
