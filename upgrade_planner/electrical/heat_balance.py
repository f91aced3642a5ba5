"""
Temperature of a conductor from the balance of heat: what current makes, still air takes away.

A second opinion on the tables of `allowable_current`: those decide, this shows how hot a wire
really gets, also in other air, in a bundle, and for how long it stands an overload.

Model: a horizontal round wire in still air. Heat made: I² R, with R at the temperature of the
copper. Heat lost: natural convection and radiation at the outside of the insulation, which the heat
reaches through the insulation. A bundle is one thicker cylinder in which every wire carries the
same current. Neither ends, nor sun, nor moving air are counted.

How far it lies from the published tables (current for the conductor temperature of the column; no
parameter was fitted; tests/electrical/test_heat_balance.py has every figure):

- NEC free air, 60 to 90 °C: 14 AWG -5 to -2 %, 12 +7 to +14 %, 10 +7 to +12 %, 6 +1 to +10 %,
  4 +4 to +12 %, 1 +4 to +12 %, 1/0 +3 to +10 %, 2/0 +4 to +11 %, 4/0 +6 to +13 %.
- VDE 0298-4, 70 °C: 0.75 mm² -6 %, 1 -12 %, 2.5 -9 %, 4 -6 %, 10 +2 %, 16 +2 %, 35 +5 %, 50 +6 %,
  70 +8 %, 95 +10 %.
- 33 CFR 183.425, 105 °C: 18 AWG +8 %, 14 +8 %, 12 +14 %, 10 +15 %, 6 +8 %, 4 +9 %, 3 +13 %,
  1 +12 %, 1/0 +12 %, 2/0 +13 %, 4/0 +15 %. Its 60 and 75 °C columns hold small sizes far lower
  (+8 to +68 % up to size 10) and its 200 °C column all of them (+24 to +50 %): these columns are
  rules, not heat.
- FAA AC 43.13-1B figure 11-4a, 14 AWG, 150 °C above the air: 47 A; here 53 A, +13 %.
- Bundles against the MIL-W-5088L curves at full load: within 0.04 for 2 to 19 wires.

So it says more current than the tables do for most sizes; allowable current is not taken from it.
"""

from functools import cache, lru_cache, partial
from itertools import pairwise
from math import inf, log, pi, sqrt

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.own_data import data_rows
from upgrade_planner.configuration.values.sizes import WireSize
from upgrade_planner.electrical.air_cooling import heat_given_off
from upgrade_planner.electrical.conductors import (
    COPPER_ZERO_RESISTANCE_C,
    resistance_20c_per_m,
    resistance_at,
    warming_ratio,
)
from upgrade_planner.electrical.roots import Rising, root_of_rising

# 5.0 K·m/W, IEC 60287-2-1 for PVC of low voltage (from memory); XLPE leads better. [W/(m·K)]
INSULATION_CONDUCTIVITY_W_PER_M_K = 0.2
# Wires and the air between them; our assumption: like solid insulation. [W/(m·K)]
BUNDLE_CONDUCTIVITY_W_PER_M_K = 0.2
# Copper in the circle around 19 strands in three layers: 19 of 5² strand areas; geometry. [1]
STRAND_FILL_RATIO = 19 / 25
# Circle around n equal wires over wire diameter times √n; exact 1.134 for 7, 1.147 for 19. [1]
BUNDLE_DIAMETER_RATIO = 1.15
# Volumetric heat of copper; sheet on the adiabatic constant k, as in IEC 60949. [J/(K·mm³)]
COPPER_HEAT_J_PER_K_MM3 = 3.45e-3
COPPER_MELTS_C = 1083.0  # [°C] as used in the short-time melting equation

MM_PER_M = 1000.0
STEPS = 200  # of the time integral
KEPT = 1024  # results; the wires of a job are of few sizes and lie in few airs


@frozen(kw_only=True)
class _Way:
    """Where the heat of one wire goes: the surface it shares, and what it passes to get there."""

    outside_m: float  # diameter of the wire or of the bundle [m]
    wires: int
    resistance_k_m_per_w: float  # from copper to surface, per wire [K·m/W]
    ambient_c: float

    def loss_w_per_m(self, surface_c: float) -> float:
        """Heat that one wire gives off per metre. [W/m]"""
        return heat_given_off(self.outside_m, surface_c, self.ambient_c) / self.wires

    def conductor_c(self, surface_c: float) -> float:
        """Temperature of the copper that belongs to a surface temperature. [°C]"""
        return surface_c + self.loss_w_per_m(surface_c) * self.resistance_k_m_per_w

    def surface_c(self, conductor_c: float) -> float:
        """Surface temperature that belongs to a temperature of the copper. [°C]"""
        return root_of_rising(self.conductor_c, conductor_c, self.ambient_c, conductor_c)


def conductor_temperature(
    size: WireSize, current_a: float, ambient_c: float, *, bundle: int = 1
) -> float:
    """
    Temperature of a conductor after it has carried a current for a long time.

    Args:
        size: A standard size.
        current_a: Continuous current; in a bundle, of every wire. [A]
        ambient_c: Still air around the wire or bundle. [°C]
        bundle: How many wires of this size lie together, all carrying the current.

    Returns:
        Temperature of the copper; infinity if no balance exists below its melting point. [°C]
        Meant for results up to 250 °C; hotter, insulation burns and the figure only says so.

    Raises:
        ValueError: current_a is below 0 or not finite, ambient_c is outside -60 to 1083 °C, bundle
            is below 1, or as at `conductors.resistance_20c_per_m`.

    Source:
        Heat balance; correlation and constants as at `heat_given_off`.

    Example:
        >>> from upgrade_planner.configuration.values.sizes import parse_wire_size
        >>> round(conductor_temperature(parse_wire_size("12 AWG"), 30, 30))
        57
    """
    if not 0 <= current_a < inf:
        raise ValueError(f"current_a: a finite current from 0 up is wanted, found {current_a:g}")
    way = _way(size, ambient_c, bundle)
    if current_a >= _melting_current_a(size, ambient_c, bundle):
        return inf

    return way.conductor_c(_squares(size, ambient_c, bundle).root(current_a**2))


def furthest_temperature(conductor_c: float, ambient_c: float, current_ratio: float) -> float:
    """
    Bound of the temperature that a conductor in balance comes to when its current changes.

    That temperature lies between the one before and this bound, for the resistance of copper
    follows the temperature, and what hinders the heat on its way to the air falls while it rises;
    here it stays as it was.

    Args:
        conductor_c: The temperature before. [°C]
        ambient_c: Still air around the wire. [°C]
        current_ratio: The current after, by that before. [1]

    Returns:
        The bound; infinity where copper alone would run away. [°C]

    Source:
        Heat balance, as at `conductor_temperature`.
    """
    rise = (1.0 - warming_ratio(conductor_c, ambient_c)) * current_ratio**2
    above_zero_c = ambient_c - COPPER_ZERO_RESISTANCE_C
    return inf if rise >= 1.0 else ambient_c + above_zero_c * rise / (1.0 - rise)


@lru_cache(maxsize=KEPT)
def _squares(size: WireSize, ambient_c: float, bundle: int) -> Rising:
    """Square of the current [A²] by the surface temperature [°C]: straighter than the current."""
    way, ohm_per_m = _way(size, ambient_c, bundle), resistance_20c_per_m(size)
    return Rising(partial(_balanced_square, ohm_per_m, way), ambient_c, COPPER_MELTS_C)


@lru_cache(maxsize=KEPT)
def current_for_temperature(
    size: WireSize, conductor_c: float, ambient_c: float, *, bundle: int = 1
) -> float:
    """
    Continuous current that brings a conductor to a temperature; inverse of `conductor_temperature`.

    Args:
        size: A standard size.
        conductor_c: Temperature of the copper, up to 1083 °C. [°C]
        ambient_c: Still air around the wire or bundle. [°C]
        bundle: How many wires of this size lie together, all carrying the current.

    Returns:
        The current; 0 if the air is as hot already. [A]

    Raises:
        ValueError: A temperature is outside -60 to 1083 °C, bundle is below 1, or as at
            `conductors.resistance_20c_per_m`.

    Source:
        As at `conductor_temperature`.
    """
    _require_temperature(conductor_c, "conductor_c")
    way = _way(size, ambient_c, bundle)
    if conductor_c <= ambient_c:
        return 0.0
    return sqrt(_balanced_square(resistance_20c_per_m(size), way, way.surface_c(conductor_c)))


@lru_cache(maxsize=KEPT)
def _melting_current_a(size: WireSize, ambient_c: float, bundle: int) -> float:
    return current_for_temperature(size, COPPER_MELTS_C, ambient_c, bundle=bundle)


def _balanced_square(ohm_per_m: float, way: _Way, surface_c: float) -> float:
    """Square of the current whose heat the surface just gives off. [A²]"""
    loss_w_per_m = way.loss_w_per_m(surface_c)
    conductor_c = surface_c + loss_w_per_m * way.resistance_k_m_per_w
    return loss_w_per_m / resistance_at(ohm_per_m, conductor_c)


@lru_cache(maxsize=KEPT)
def heating_time(
    size: WireSize, current_a: float, start_c: float, limit_c: float, ambient_c: float
) -> float:
    """
    Time that a current takes to heat a single wire from one temperature to another.

    t = ∫ C dT/(I² R(T) - q(T)), with the heat q that the wire would lose at T for good. Only copper
    stores heat here, the insulation does not, so the real time is longer. Without losses it is the
    adiabatic time.

    Args:
        size: A standard size.
        current_a: Constant current. [A]
        start_c: Copper at the start, not below ambient_c. [°C]
        limit_c: Copper at the end. [°C]
        ambient_c: Still air around the wire. [°C]

    Returns:
        The time; infinity if the current never heats the wire so far. [s]

    Raises:
        ValueError: current_a is below 0 or not finite, ambient_c is above start_c, limit_c is not
            above start_c, or as at `current_for_temperature`.

    Source:
        Heat balance of one lumped mass; copper as in IEC 60949. That insulation stores nothing: our
        assumption, on the safe side.
    """
    if not 0 <= current_a < inf:
        raise ValueError(f"current_a: a finite current from 0 up is wanted, found {current_a:g}")
    _require_temperature(limit_c, "limit_c")
    if not ambient_c <= start_c < limit_c:
        raise ValueError(
            f"ambient_c ≤ start_c < limit_c is wanted, "
            f"found {ambient_c:g}, {start_c:g}, {limit_c:g}"
        )
    way = _way(size, ambient_c, 1)
    ohm_per_m = resistance_20c_per_m(size)

    def surplus_w_per_m(surface_c: float) -> float:
        loss_w_per_m = way.loss_w_per_m(surface_c)
        conductor_c = surface_c + loss_w_per_m * way.resistance_k_m_per_w
        return current_a**2 * resistance_at(ohm_per_m, conductor_c) - loss_w_per_m

    first, last = (way.surface_c(conductor_c) for conductor_c in (start_c, limit_c))
    edges_c = [first + (last - first) * step / STEPS for step in range(STEPS + 1)]
    spans = list(pairwise(edges_c))
    surpluses = [surplus_w_per_m((lower + upper) / 2) for lower, upper in spans]
    if min(surplus_w_per_m(first), surplus_w_per_m(last), *surpluses) <= 0:
        return inf
    rises_c = [upper - lower for lower, upper in pairwise(map(way.conductor_c, edges_c))]
    heat_j_per_k_m = COPPER_HEAT_J_PER_K_MM3 * size.area_mm2 * MM_PER_M
    return heat_j_per_k_m * sum(
        rise_c / surplus for rise_c, surplus in zip(rises_c, surpluses, strict=True)
    )


@lru_cache(maxsize=KEPT)
def conductor_diameter_mm(size: WireSize) -> float:
    """
    Diameter of the stranded copper of a size: the circle around 19 strands.

    Source:
        Geometry; that every size is stranded so: our assumption (size 12 and 10 SAE are).
    """
    return sqrt(4 * size.area_mm2 / (pi * STRAND_FILL_RATIO))


@lru_cache(maxsize=KEPT)
def outside_diameter_mm(size: WireSize) -> float:
    """
    Diameter over the insulation, estimated from the copper area.

    Source:
        Wall by size: our assumption, data/insulation_walls.csv; no published row was at hand.

    Example:
        >>> from upgrade_planner.configuration.values.sizes import parse_wire_size
        >>> round(outside_diameter_mm(parse_wire_size("12 SAE")), 1)
        3.6
    """
    wall_mm = next(wall for up_to_mm2, wall in _walls_mm() if size.area_mm2 <= up_to_mm2)
    return conductor_diameter_mm(size) + 2 * wall_mm


@cache
def _walls_mm() -> tuple[tuple[float, float], ...]:
    return tuple(
        (float(row["up_to_mm2"] or inf), float(row["wall_mm"]))
        for row in data_rows(__package__, "insulation_walls.csv")
    )


@lru_cache(maxsize=KEPT)
def _way(size: WireSize, ambient_c: float, bundle: int) -> _Way:
    _require_temperature(ambient_c, "ambient_c")
    if bundle < 1:
        raise ValueError(f"bundle: one wire or more is wanted, found {bundle}")
    copper_mm, outside_mm = conductor_diameter_mm(size), outside_diameter_mm(size)
    through_wall = log(outside_mm / copper_mm) / (2 * pi * INSULATION_CONDUCTIVITY_W_PER_M_K)
    if bundle == 1:
        around_mm, to_rim = outside_mm, 0.0
    else:
        around_mm = BUNDLE_DIAMETER_RATIO * sqrt(bundle) * outside_mm
        # Axis above rim of a cylinder heated evenly: q'/(4 π λ), here per wire of the bundle.
        to_rim = bundle / (4 * pi * BUNDLE_CONDUCTIVITY_W_PER_M_K)
    return _Way(
        outside_m=around_mm / MM_PER_M,
        wires=bundle,
        resistance_k_m_per_w=through_wall + to_rim,
        ambient_c=ambient_c,
    )


def _require_temperature(value: float, name: str) -> None:
    # -60 °C: colder air makes no sense here; copper melts at the other end.
    if not -60 <= value <= COPPER_MELTS_C:
        raise ValueError(f"{name}: from -60 to {COPPER_MELTS_C:g} °C is wanted, found {value:g}")
