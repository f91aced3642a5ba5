"""Formulas of worked examples, turned round from those that the program uses."""

import math

from upgrade_planner.electrical.conductors import (
    COPPER_RESISTIVITY_20C_OHM_MM2_PER_M,
    resistance_at,
)
from upgrade_planner.electrical.fusible_links import (
    brief_melting_current,
    sustained_melting_current,
)


def area_for_drop_mm2(current_a, length_m, limit_v, conductor_c):
    """Least copper that keeps a drop: S = ρ(T) I L / E."""
    ohm_mm2_per_m = resistance_at(COPPER_RESISTIVITY_20C_OHM_MM2_PER_M, conductor_c)
    return ohm_mm2_per_m * current_a * length_m / limit_v


def adiabatic_area_mm2(current_a, duration_s, constant):
    """Least copper that stands a short circuit: S = I √t / k."""
    return current_a * math.sqrt(duration_s) / constant


def melting_current(area_mm2, duration_s, ambient_c):
    """Current that melts a copper wire within a time: the larger of the two formulas."""
    diameter_mm = math.sqrt(4 * area_mm2 / math.pi)
    brief_a = brief_melting_current(area_mm2, duration_s, ambient_c)
    return max(brief_a, sustained_melting_current(diameter_mm))
