"""What is true of a job, in flags and words, so that data files can say when a step applies."""

from collections.abc import Mapping

from upgrade_planner.comparison.results import (
    Comparison,
    Disposition,
    PartDisposition,
    WireChange,
)
from upgrade_planner.configuration.model import Component, Conductor, Configuration
from upgrade_planner.electrical.network.errors import NetworkError
from upgrade_planner.electrical.operating_points import operating_point
from upgrade_planner.electrical.performance import battery_current_a
from upgrade_planner.electrical.states import OFF

_REST_VOLTAGE = "12.4 V"
"""Source: TM 5-3805-262-20 p. 5-142, 75 % charge of a 12 V battery."""

Facts = Mapping[str, bool | str]


def facts_of(comparison: Comparison) -> Facts:
    """Flags (`points_before`, `has_capped`, …) and words (`live`, `ignition_unit`, …) of a job."""
    before, after = comparison.before, comparison.after
    return {
        **_posts(before, ""),
        **_posts(after, "_after"),
        **_flags(comparison),
        "rest_voltage": _REST_VOLTAGE,
        "system_voltage": f"{after.vehicle.voltage_v:g}\N{NO-BREAK SPACE}V",
        "ignition_unit": _ignition_unit(after),
        "capped_wires": _marks(change.before for change in comparison.wires if is_capped(change)),
        "new_wires": _marks(
            change.after
            for change in comparison.wires
            if change.disposition in (Disposition.ADD, Disposition.RESIZE)
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


def is_capped(change: WireChange) -> bool:
    """True if an old conductor stays in the vehicle, capped."""
    return change.disposition is Disposition.CAP_OFF or change.old_stays


def _posts(configuration: Configuration, suffix: str) -> dict[str, str]:
    words = {"positive": "+", "negative": "−"}
    grounded = configuration.vehicle.ground
    live = "negative" if grounded == "positive" else "positive"
    return {f"grounded{suffix}": words[grounded], f"live{suffix}": words[live],
            f"ground{suffix}": grounded}  # fmt: skip


def _flags(comparison: Comparison) -> dict[str, bool]:
    before, after = comparison.before, comparison.after
    old, new = _kinds(before), _kinds(after)
    charge_lamp = "charge_lamp" in after.component_by_role
    resistances = [w for w in after.wires if w.conductor is Conductor.RESISTANCE]
    ballasted = "ballast" in after.component_by_role or any(
        wire.circuit == "ignition feed" for wire in resistances
    )
    return {
        "twelve_volt": before.vehicle.voltage_v == 12.0 == after.vehicle.voltage_v,
        "points_before": "points_distributor" in old,
        "points_after": "points_distributor" in new,
        "ballasted_after": ballasted and "points_distributor" in new,
        "bypass_after": any(wire.circuit == "start bypass" for wire in after.wires),
        "electronic_ignition_after": "integral_coil_distributor" in new,
        "internal_regulator_after": "alternator_internal_regulator" in new,
        "alternator_after": bool(
            new & {"alternator_internal_regulator", "alternator_external_regulator"}
        ),
        "dynamo_after": "dynamo" in new,
        "charge_lamp_after": charge_lamp,
        "no_charge_lamp_after": not charge_lamp,
        "ignition_changes": _changes(comparison, ("distributor", "coil", "ballast")),
        "distributor_changes": _changes(comparison, ("distributor",)),
        "has_capped": any(is_capped(change) for change in comparison.wires),
        "has_new": any((change.after and not change.before) or
                       change.disposition is Disposition.RESIZE for change in comparison.wires),
        "has_parts_off": _parts_off(comparison) != "none",
    }  # fmt: skip


def _kinds(configuration: Configuration) -> set[str]:
    return {part.kind for part in configuration.components}


def _changes(comparison: Comparison, roles: tuple[str, ...]) -> bool:
    return any(
        change.role in roles and change.disposition is not PartDisposition.KEEP
        for change in comparison.parts
    )


def _ignition_unit(configuration: Configuration) -> str:
    for role in ("coil", "distributor"):
        part: Component | None = configuration.component_by_role.get(role)
        if part is not None:
            return part.name[:1].lower() + part.name[1:]
    return "ignition"


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
