"""What the vehicle has and has not: so that no step speaks of what is not there."""

from upgrade_planner.comparison.part_changes import PartConverted, PartKept
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.configuration.equipment import KEY, MARINE, NOT_KNOWN, YES, Equipment
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.values.measures import Quantity, rpm, second, volt
from upgrade_planner.planning.fact_values import Facts

BURST_S, BURST_REST_S = 5.0, 60.0
"""Longest turn of a starter on more volts than it is made for, and rest after it. [s] Source:
common practice."""

CRANK_S, CRANK_MOST_S, CRANK_REST_S = 15.0, 30.0, 120.0
"""Turn of a starter for one reading, the longest, and rest after it. [s] Source: TM 10-3930-671-24
p. F-299 and F-303."""

OVER_VOLTED = 1.35
"""A starter on more than this of its own voltage turns in short bursts only. Source: our
assumption, as for other parts over their rated voltage."""


def vehicle_facts(comparison: Comparison) -> Facts:
    """Doors, clock, heater, how it is switched on, highest speed, and how the starter may turn."""
    after = comparison.after
    own, roles = after.vehicle.equipment, set(after.component_by_role)
    short = turns_in_bursts(comparison)
    return {
        "has_doors": own.doors == YES,
        "may_have_doors": own.doors == NOT_KNOWN,
        "has_crank_handle": own.crank_handle == YES,
        "may_have_crank_handle": own.crank_handle == NOT_KNOWN,
        "has_key": own.switched_by == KEY,
        "may_have_key": own.switched_by == NOT_KNOWN,
        "is_boat": own.rules == MARINE,
        "is_on_wheels": own.rules != MARINE,
        "has_clock": any("clock" in role for role in roles),
        "has_heater": any(role.startswith("heater") for role in roles),
        "has_radio": "radio" in roles,
        "has_lamps": bool(after.parts_of(Family.LAMP)),
        "speed_is_lowered": False,
        "may_be_governed": own.governed == YES and own.highest_speed_rpm is None,
        "highest_speed": _highest_speed(own),
        "turns_in_bursts": short,
        "crank_for": second(BURST_S if short else CRANK_S),
        "crank_most": second(BURST_S if short else CRANK_MOST_S),
        "crank_rest": second(BURST_REST_S if short else CRANK_REST_S),
        "starter_made_for": volt(starter_voltage_v(comparison)),
    }


def starter_voltage_v(comparison: Comparison) -> float:
    """
    The voltage that the starter is made for.

    As rated; else that of the vehicle in which it was, for one that stays. [V]
    """
    after = comparison.after
    for part in after.parts_of(Family.STARTER):
        rated = part.ratings.get("rated_voltage")
        if rated is not None:
            return float(rated)
        if isinstance(comparison.part_by_role[part.role], PartKept | PartConverted):
            return comparison.before.vehicle.voltage_v
    return after.vehicle.voltage_v


def turns_in_bursts(comparison: Comparison) -> bool:
    """True if the battery has clearly more volts than the starter is made for."""
    return comparison.after.vehicle.voltage_v > OVER_VOLTED * starter_voltage_v(comparison)


def _highest_speed(own: Equipment) -> Quantity | None:
    return None if own.highest_speed_rpm is None else rpm(own.highest_speed_rpm)
