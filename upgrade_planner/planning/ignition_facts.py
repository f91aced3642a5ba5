"""What is true of the ignition of a job, so that data files can say when a step applies."""

from collections.abc import Mapping

from upgrade_planner.comparison.results import Comparison
from upgrade_planner.configuration.model import Conductor, Configuration

IGNITION_ROLES = (
    "distributor",
    "coil",
    "ballast",
    "ignition_module",
    "discharge_unit",
    "coil_pack",
    "ignition_controller",
    "pick_up",
)
"""Roles of the parts that make the spark."""

TIMING_ROLES = ("distributor", "discharge_unit", "ignition_controller", "pick_up")
"""Roles whose change moves the moment of the spark."""

POINTS, DISCHARGE = "points_distributor", "capacitor_discharge_unit"
TRIGGERED = ("trigger_distributor", "ignition_module")
POINTS_TRIGGER = ("ignition_module", DISCHARGE)
"""Kinds that points may trigger; they then switch no coil themselves."""

ELECTRONIC = ("integral_coil_distributor", *TRIGGERED, "ignition_controller", DISCHARGE)


SUPPLIED = ("discharge_unit", "coil_pack", "coil", "distributor")
"""Roles at whose supply an engine is kept from starting, the first that is there."""


def ignition_flags(comparison: Comparison) -> dict[str, bool]:
    """Flags of the ignition before and after: which sort it is, what goes, what must be set."""
    old, new = (
        {part.kind for part in side.components} for side in (comparison.before, comparison.after)
    )
    switching = POINTS in new and not new & {*POINTS_TRIGGER}
    return {
        "points_before": POINTS in old,
        "points_after": switching,
        "points_trigger_after": POINTS in new and not switching,
        "points_to_module": POINTS in old and "trigger_distributor" in new,
        "unit_to_pick_up": "integral_coil_distributor" in old and "pick_up_distributor" in new,
        "dwell_goes": POINTS in old and POINTS not in new and bool(new & {*ELECTRONIC}),
        "ballasted_after": switching and _is_ballasted(comparison.after),
        "electronic_ignition_after": bool(new & {*ELECTRONIC}),
        "trigger_module_after": "trigger_distributor" in new,
        "external_module_after": "ignition_module" in new,
        "pick_up_after": bool(new & {"pick_up", "pick_up_distributor"}),
        "discharge_before": DISCHARGE in old,
        "discharge_after": DISCHARGE in new,
        "coil_pack_after": "coil_pack" in new,
    }


def _is_ballasted(configuration: Configuration) -> bool:
    return "ballast" in configuration.component_by_role or any(
        wire.conductor is Conductor.RESISTANCE and wire.circuit == "ignition feed"
        for wire in configuration.wires
    )


def ignition_words(configuration: Configuration) -> Mapping[str, str]:
    """
    Words of the ignition after the work.

    `ignition_supply`: the lead without which the engine cannot start, and `ignition_role`, the part
    that it is joined to; `pick_up_ohms` and `pick_up_role`, its winding and the part that holds it.
    """
    role = next((name for name in SUPPLIED if name in configuration.component_by_role), "")
    return {
        "ignition_role": role,
        "ignition_supply": _supply(role, configuration),
        **_pick_up(configuration),
    }


def _supply(role: str, configuration: Configuration) -> str:
    if not role:
        return "supply of the ignition"
    part = configuration.component(role)
    lead = "light switched lead" if part.kind == DISCHARGE else "supply"
    return f"{lead} at the {part.name[:1].lower()}{part.name[1:]}"


def _pick_up(configuration: Configuration) -> dict[str, str]:
    kinds = ("pick_up", "pick_up_distributor")
    parts = [part for part in configuration.components if part.kind in kinds]
    ohms = parts[0].ratings.get("resistance") if parts else None
    return {
        "pick_up_ohms": f"about {ohms:g}\N{NO-BREAK SPACE}Ω" if ohms else "the maker's figure",
        "pick_up_role": parts[0].role if parts else "distributor",
    }
