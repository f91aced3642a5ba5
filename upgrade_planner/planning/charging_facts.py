"""What is true of charging, starting and extras of a job: when standing steps apply."""

from upgrade_planner.checks.charging import is_control_box
from upgrade_planner.comparison.part_changes import (
    PartComes,
    PartExchanged,
    PartFitted,
    PartKept,
)
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import Kept
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import Component, Configuration
from upgrade_planner.planning.fact_values import Facts

CHARGING_ROLES = ("dynamo", "alternator", "regulator", "cut_out", "battery")
"""Roles of the parts whose change asks for a dynamo to be polarised."""

CHARGING_CIRCUITS = ("charge output", "field", "battery cable")

PUMPS = (Family.MOTOR, Family.LOAD)
"""What an electric fuel pump may be."""

NO_LABEL = "?"
"""Stands for a terminal that a vehicle without dynamo does not have; no step shows it."""


def charging_flags(comparison: Comparison) -> dict[str, bool]:
    """Flags of charging, starting and extras."""
    before, after = comparison.before, comparison.after
    alternators, dynamos = after.parts_of(Family.ALTERNATOR), after.parts_of(Family.DYNAMO)
    roles = {part.role for part in after.components}
    circuits = _field_circuits(after) if _is_touched(comparison) else set()
    return {
        "polarise_a": "A" in circuits,
        "polarise_b": "B" in circuits,
        "polarised": bool(circuits),
        "control_box_after": any(map(is_control_box, after.components)),
        "dynamo_goes": bool(before.parts_of(Family.DYNAMO) and alternators and not dynamos),
        "self_excited_after": any(part.excites_itself for part in after.components),
        "relay_after": bool(after.parts_of(Family.RELAY)),
        "start_by_hand_after": "start_switch" in roles,
        "magnet_starter_after": bool(after.parts_that(Capability.PERMANENT_MAGNETS)),
        "isolator_after": "isolator" in roles,
        "fan_after": "fan" in roles,
        "belt_machine_comes": bool(_belt_machines(comparison)),
        "pump_fitted": any(
            "fuel_pump" in change.role
            and change.part.family in PUMPS
            and isinstance(change, PartFitted | PartExchanged)
            for change in comparison.parts
        ),
        "pump_by_oil_after": {"fuel_pump", "oil_pressure_switch"} <= roles,
        "pump_by_crash_switch_after": {"fuel_pump", "inertia_switch"} <= roles,
    }


def _belt_machines(comparison: Comparison) -> list[Component]:
    """Alternators and dynamos that are fitted."""
    return [
        change.part
        for change in comparison.parts
        if isinstance(change, PartComes)
        and change.part.family in (Family.ALTERNATOR, Family.DYNAMO)
    ]


def _is_touched(comparison: Comparison) -> bool:
    """True if dynamo, box, battery or the wires between them are changed, or the ground is."""
    parts = any(
        change.role in CHARGING_ROLES and not isinstance(change, PartKept)
        for change in comparison.parts
    )
    wires = any(
        not isinstance(change, Kept)
        and any(wire.circuit in CHARGING_CIRCUITS for wire in change.wires)
        for change in comparison.wires
    )
    turned = comparison.before.vehicle.ground != comparison.after.vehicle.ground
    return parts or wires or turned


def _field_circuits(configuration: Configuration) -> set[str]:
    """Field circuits of the dynamos whose profile says."""
    found = configuration.parts_of(Family.DYNAMO)
    return {str(part.ratings["field_circuit"]) for part in found if "field_circuit" in part.ratings}


def charging_names(comparison: Comparison) -> Facts:
    """Control box or cut-out and what is marked on its terminals; the machine that gets a belt."""
    configuration = comparison.after
    machine = next(iter(_belt_machines(comparison)), None)
    boxes = [p for p in configuration.components if p.family is Family.CUT_OUT or is_control_box(p)]
    box = boxes[0] if boxes else None
    return {
        "box_is_cut_out": box is not None and box.family is Family.CUT_OUT,
        "box_role": box.role if box is not None else "dynamo",
        "box_battery": _label(box, "supply"),
        "box_armature": _label(box, "armature"),
        "box_field": _label(box, "field"),
        "belt_machine": machine.role if machine is not None else "",
        "belt_machine_name": machine.name if machine is not None else None,
    }


def _label(box: Component | None, name: str) -> str:
    terminal = box.terminal(name) if box is not None else None
    return (terminal.mark or terminal.name) if terminal is not None else NO_LABEL
