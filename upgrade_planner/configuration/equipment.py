"""What a vehicle has besides its wiring, so that papers speak of nothing that is not there."""

from collections.abc import Mapping
from functools import cache

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.own_data import data_table

YES, NO, NOT_KNOWN = "yes", "no", ""
KEY, PULL_SWITCH = "key", "pull switch"
ROAD, FARM, MARINE = "road", "farm", "marine"
RULES = (ROAD, FARM, MARINE)


@frozen(kw_only=True)
class Equipment:
    """
    Facts of a vehicle; each `yes`, `no`, or not known.

    Attributes:
        doors: Doors that close, and may light a lamp.
        crank_handle: A handle to turn the engine by hand.
        governed: A governor that limits the speed of the engine.
        switched_by: `key`, `pull switch`, or not known.
        rules: By which rules its wires are judged: `road`, `farm`, `marine`.
        highest_speed_rpm: Of the engine in tests: the lower of what the profile names. [r/min]
    """

    doors: str = NOT_KNOWN
    crank_handle: str = NOT_KNOWN
    governed: str = NOT_KNOWN
    switched_by: str = NOT_KNOWN
    rules: str = ROAD
    highest_speed_rpm: float | None = None


@cache
def usual_equipment() -> Mapping[str, Mapping[str, str]]:
    """What vehicles have as a rule, by what they are built as."""
    return data_table(__package__, "vehicles.toml")
