"""What is true of a job, in flags and words, so that data files can say when a step applies."""

from collections.abc import Mapping

from upgrade_planner.comparison.converting import conversions
from upgrade_planner.comparison.results import (
    ON_THE_WAY_BACK,
    Comparison,
    Disposition,
    PartDisposition,
    WireChange,
)
from upgrade_planner.configuration.model import OTHER_POST, Configuration
from upgrade_planner.electrical.network.errors import NetworkError
from upgrade_planner.electrical.operating_points import operating_point
from upgrade_planner.electrical.performance import battery_current_a
from upgrade_planner.electrical.states import OFF
from upgrade_planner.planning.charging_facts import charging_flags, charging_words
from upgrade_planner.planning.ignition_facts import (
    IGNITION_ROLES,
    TIMING_ROLES,
    ignition_flags,
    ignition_words,
)

_REST_CELL_V = 12.4 / 6
"""Source: TM 5-3805-262-20 p. 5-142, 12.4 V at 75 % charge of a 12 V battery, six cells. [V]"""

_CELLS = {6.0: 3, 12.0: 6, 24.0: 12}
"""Cells of a lead-acid battery by the voltage it is called after."""

_NEW = (Disposition.ADD, Disposition.RESIZE)

Facts = Mapping[str, bool | str]


def facts_of(comparison: Comparison) -> Facts:
    """Flags (`points_before`, `has_capped`, …) and words (`live`, `rest_voltage`, …) of a job."""
    before, after = comparison.before, comparison.after
    return {
        **_posts(before, ""),
        **_posts(after, "_after"),
        **_flags(comparison),
        "rest_voltage": _rest_voltage(before.vehicle.voltage_v),
        "rest_voltage_after": _rest_voltage(after.vehicle.voltage_v),
        "voltage_before": f"{before.vehicle.voltage_v:g}\N{NO-BREAK SPACE}V",
        "converted_parts": _converted_parts(comparison),
        "system_voltage": f"{after.vehicle.voltage_v:g}\N{NO-BREAK SPACE}V",
        **ignition_words(after),
        **charging_words(after),
        "capped_wires": _marks(change.before for change in comparison.wires if is_capped(change)),
        "new_wires": _marks(
            change.after for change in comparison.wires if change.disposition in _NEW
        ),
        "rejoined_wires": _marks(
            change.after for change in comparison.wires if change.disposition in ON_THE_WAY_BACK
        ),
        "parts_off": _parts_off(comparison),
        "standing_current": _standing_current(after),
    }


def _standing_current(configuration: Configuration) -> str:
    """What flows with the key off: the current of the first energising, as a meter shows it."""
    try:
        point = operating_point(configuration, OFF)
    except NetworkError:
        return "not computed"
    return f"{1000 * abs(battery_current_a(point)):.0f}\N{NO-BREAK SPACE}mA"


def _rest_voltage(system_v: float) -> str:
    cells = _CELLS.get(system_v, round(system_v / 2))
    return f"{cells * _REST_CELL_V:.1f}\N{NO-BREAK SPACE}V"


def _converted_parts(comparison: Comparison) -> str:
    """Parts that are exchanged, or that something must be done to, as ground or voltage change."""
    if not conversions(comparison.before, comparison.after):
        return "none"
    names = [
        change.part.name
        for change in comparison.parts
        if any(treatment.is_work for treatment in change.treatments)
        or change.disposition is PartDisposition.REPLACE
        or (change.part.kind == "dynamo" and change.treatments)
    ]
    return "; ".join(names) if names else "none"


def is_capped(change: WireChange) -> bool:
    """True if an old conductor stays in the vehicle, capped."""
    return change.disposition is Disposition.CAP_OFF or change.old_stays


def _posts(configuration: Configuration, suffix: str) -> dict[str, str]:
    words = {"positive": "+", "negative": "−"}
    grounded = configuration.vehicle.ground
    live = OTHER_POST[grounded]
    return {
        f"grounded{suffix}": words[grounded],
        f"live{suffix}": words[live],
        f"ground{suffix}": grounded,
    }


def _flags(comparison: Comparison) -> dict[str, bool]:
    before, after = comparison.before, comparison.after
    new = _kinds(after)
    charge_lamp = "charge_lamp" in after.component_by_role
    return {
        "twelve_volt": before.vehicle.voltage_v == 12.0 == after.vehicle.voltage_v,
        "ground_changes": before.vehicle.ground != after.vehicle.ground,
        "voltage_changes": before.vehicle.voltage_v != after.vehicle.voltage_v,
        "converted": bool(conversions(before, after)),
        **ignition_flags(comparison),
        **charging_flags(comparison),
        "bypass_after": any(wire.circuit == "start bypass" for wire in after.wires),
        "internal_regulator_after": "alternator_internal_regulator" in new,
        "alternator_after": bool(
            new & {"alternator_internal_regulator", "alternator_external_regulator"}
        ),
        "dynamo_after": "dynamo" in new,
        "charge_lamp_after": charge_lamp,
        "no_charge_lamp_after": not charge_lamp,
        "ignition_changes": _changes(comparison, IGNITION_ROLES),
        "distributor_changes": _changes(comparison, TIMING_ROLES),
        "has_capped": any(is_capped(change) for change in comparison.wires),
        "has_new": any(change.disposition in _NEW for change in comparison.wires),
        "has_rejoined": any(c.disposition in ON_THE_WAY_BACK for c in comparison.wires),
        "has_parts_off": _parts_off(comparison) != "none",
    }


def _kinds(configuration: Configuration) -> set[str]:
    return {part.kind for part in configuration.components}


def _changes(comparison: Comparison, roles: tuple[str, ...]) -> bool:
    return any(
        change.role in roles and change.disposition is not PartDisposition.KEEP
        for change in comparison.parts
    )


def _marks(wires: object) -> str:
    ids = sorted({wire.id for wire in wires if wire is not None})  # type: ignore[attr-defined]
    return ", ".join(ids) if ids else "none"


def _parts_off(comparison: Comparison) -> str:
    names = [
        change.before.name
        for change in comparison.parts
        if change.before is not None
        and change.part.kind != "splice"
        and change.disposition in (PartDisposition.REMOVE, PartDisposition.REPLACE)
    ]
    return "; ".join(names) if names else "none"
