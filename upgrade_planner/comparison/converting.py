"""What becomes of the parts that stay while the ground changes over or the voltage changes."""

from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.load_changes import computed_reason
from upgrade_planner.comparison.why import Fact, Reason, because
from upgrade_planner.configuration.files.own_data import data_table
from upgrade_planner.configuration.model import Component, Configuration
from upgrade_planner.configuration.values.measures import Quantity, metre, volt


@frozen(kw_only=True)
class Treatment:
    """
    What is done to one part because of the conversion.

    Attributes:
        reason: Why, or why nothing has to be done; its code stands in the data.
        code: Our own name for what is done; "" if the part stays as it is.
        phase: Name of the phase in which it is done; "" if nothing is.
        voltage: Of the system after the work.
    """

    role: str
    reason: Reason
    code: str = ""
    phase: str = ""
    voltage: Quantity
    source: str = "common practice"

    @property
    def is_work(self) -> bool:
        """True if somebody has to do something to the part."""
        return bool(self.code)


def conversions(before: Configuration, after: Configuration) -> tuple[str, ...]:
    """What is converted between two configurations: `ground`, `voltage`, both or nothing."""
    found = ["ground"] if before.vehicle.ground != after.vehicle.ground else []
    if before.vehicle.voltage_v != after.vehicle.voltage_v:
        found.append("voltage")
    return tuple(found)


def treatments(
    part: Component, converted: Iterable[str], before: Configuration, after: Configuration
) -> tuple[Treatment, ...]:
    """
    What the conversion asks of a part that stays; at most one treatment for each of `converted`.

    A part with a rated voltage is not asked for it: it is known, and a finding if it is wrong.
    """
    found = (_first(part, word) for word in converted)
    return tuple(_treatment(part, entry, before, after) for entry in found if entry is not None)


def _first(part: Component, converted: str) -> Mapping[str, Any] | None:
    for entry in _entries():
        if entry["on"] != converted or part.kind not in entry["kinds"]:
            continue
        if entry["on"] == "voltage" and entry["action"] == "convert":
            return None if "rated_voltage" in part.ratings else entry
        if entry.get("polarity", "") in ("", part.ratings.get("polarity")):
            return entry
    return None


def _treatment(
    part: Component, entry: Mapping[str, Any], before: Configuration, after: Configuration
) -> Treatment:
    is_work = entry["action"] == "convert"
    return Treatment(
        role=part.role,
        reason=_reason(part, entry, before, after),
        code=entry["do"] if is_work else "",
        phase=entry["phase"] if is_work else "",
        voltage=volt(after.vehicle.voltage_v),
        source=entry.get("source", "common practice"),
    )


def _reason(
    part: Component, entry: Mapping[str, Any], before: Configuration, after: Configuration
) -> Reason:
    if "computed" in entry:
        return computed_reason(entry["computed"], part, before, after)
    return because(entry["why"], **_figures(after, entry))


def _figures(after: Configuration, entry: Mapping[str, Any]) -> dict[str, Fact]:
    figures: dict[str, Fact] = {"voltage": volt(after.vehicle.voltage_v)}
    if "look_again_m" in entry:
        figures["distance"] = metre(float(entry["look_again_m"]))
    return figures


@cache
def _entries() -> tuple[Mapping[str, Any], ...]:
    return tuple(data_table(__package__, "conversions.toml")["treatment"])
