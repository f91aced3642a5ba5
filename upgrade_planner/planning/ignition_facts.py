"""What is true of the ignition of a job, so that data files can say when a step applies."""

from upgrade_planner.comparison.part_changes import PartComes, PartLeaves, PartRebuilt
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.configuration.equipment import YES
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import (
    Component,
    Conductor,
    Configuration,
    TerminalRef,
)
from upgrade_planner.configuration.values.measures import ohm
from upgrade_planner.planning.fact_values import Facts

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

SUPPLIED = ("discharge_unit", "coil_pack", "coil", "distributor")
"""Roles at whose supply an engine is kept from starting, the first that is there."""


def ignition_flags(comparison: Comparison) -> dict[str, bool]:
    """Flags of the ignition before and after: which sort it is, what goes, what must be set."""
    before, after = comparison.before, comparison.after
    points_before, points_after = (side.parts_of(Family.POINTS) for side in (before, after))
    modules, pick_ups = after.parts_of(Family.IGNITION_MODULE), after.parts_of(Family.PICK_UP)
    discharging = after.parts_that(Capability.DISCHARGES)
    with_module = [part for part in modules if part.can(Capability.DISTRIBUTES)]
    apart = [part for part in modules if part not in with_module]
    electronic = bool(modules or after.parts_of(Family.IGNITION_UNIT))
    switching = bool(points_after) and not (apart or discharging)
    return {
        "points_before": bool(points_before),
        "points_after": switching,
        "points_trigger_after": bool(points_after) and not switching,
        "points_to_module": bool(points_before and with_module),
        "unit_to_pick_up": bool(before.parts_that(Capability.HOLDS_COIL))
        and any(part.can(Capability.DISTRIBUTES) for part in pick_ups),
        "dwell_goes": bool(points_before) and not points_after and electronic,
        "ballasted_after": switching and _is_ballasted(after),
        "electronic_ignition_after": electronic,
        "trigger_module_after": bool(with_module),
        "external_module_after": bool(apart),
        "pick_up_after": bool(pick_ups),
        "discharge_before": bool(before.parts_that(Capability.DISCHARGES)),
        "discharge_after": bool(discharging),
        "coil_pack_after": bool(after.parts_of(Family.COIL_PACK)),
        **_distributor_flags(comparison),
        "positive_module_after": bool(_positive_modules(after)),
        "points_do_nothing": not points_after,
    }


def _distributor_flags(comparison: Comparison) -> dict[str, bool]:
    """Whether the distributor comes out, comes in, and whether a crank handle could kick back."""
    changes = [c for c in comparison.parts if c.part.can(Capability.DISTRIBUTES)]
    comes = any(isinstance(change, PartComes) for change in changes)
    rebuilt = any(isinstance(change, PartRebuilt) for change in changes)
    in_hand = rebuilt or any(isinstance(change, PartLeaves) for change in changes)
    by_handle = comparison.after.vehicle.equipment.crank_handle == YES
    return {
        "distributor_in_hand": in_hand,
        "distributor_comes": comes or rebuilt,
        "distributor_set": comes or rebuilt,
        "kick_back": by_handle and (comes or in_hand),
    }


def _is_ballasted(configuration: Configuration) -> bool:
    return "ballast" in configuration.component_by_role or any(
        wire.conductor is Conductor.RESISTANCE and wire.circuit == "ignition feed"
        for wire in configuration.wires
    )


def ignition_names(configuration: Configuration) -> Facts:
    """
    Parts of the ignition after the work.

    `ignition_part`: the name of the part without whose supply the engine cannot start, None if
    there is none, and `ignition_role`; `supply_is_switched`: its supply is a light lead of the key
    switch; `pick_up_resistance` and `pick_up_role`: winding of the pick-up, and what holds it.
    """
    role = next((name for name in SUPPLIED if name in configuration.component_by_role), "")
    part = configuration.component(role) if role else None
    return {
        "ignition_role": role,
        "ignition_part": part.name if part else None,
        "supply_is_switched": part is not None and part.can(Capability.DISCHARGES),
        **_pick_up(configuration),
        **_positive_names(configuration),
    }


def _positive_modules(configuration: Configuration) -> list[Component]:
    """Electronic ignitions that work with the positive post on ground."""
    if configuration.vehicle.ground != "positive":
        return []
    return list(configuration.parts_of(Family.IGNITION_MODULE, Family.IGNITION_UNIT))


def _positive_names(configuration: Configuration) -> Facts:
    """Its name, and where its feed lead and its coil lead go, as roles."""
    module = next(iter(_positive_modules(configuration)), None)
    role = module.role if module is not None else "distributor"
    return {
        "positive_module": module.name if module is not None else None,
        "positive_module_role": role,
        "positive_module_feed": _joined_to(TerminalRef(role, "supply"), configuration),
        "positive_module_coil": _joined_to(TerminalRef(role, "coil"), configuration),
    }


def _joined_to(end: TerminalRef, configuration: Configuration) -> str | None:
    """Name of the part at the other end of what is joined there."""
    for wire in configuration.wires_at.get(end, ()):
        return configuration.component(wire.other_end(end).role).name
    return None


def _pick_up(configuration: Configuration) -> Facts:
    parts = configuration.parts_of(Family.PICK_UP)
    ohms = parts[0].ratings.get("resistance") if parts else None
    return {
        "pick_up_is_known": bool(ohms),
        "pick_up_resistance": ohm(ohms) if ohms else None,
        "pick_up_role": parts[0].role if parts else "distributor",
    }
