"""
Copper conductors: resistance by size and temperature.

Resistances are those of plain copper without joints; terminals and corrosion are added elsewhere.
"""

from functools import cache

from upgrade_planner.configuration.files.own_data import data_rows
from upgrade_planner.configuration.values.sizes import METRIC, WireSize

# Annealed copper of 100 % IACS at 20 °C; NBS Handbook 100 (1966), section 1.1, as quoted. [Ω·mm²/m]
COPPER_RESISTIVITY_20C_OHM_MM2_PER_M = 0.017241
# Inferred temperature of zero resistance; FAA AC 43.13-1B, p. 11-22. The same as 0.00393 per °C
# at 20 °C, the IACS coefficient. [°C]
COPPER_ZERO_RESISTANCE_C = -234.5
# Temperature that tables of resistance refer to. [°C]
REFERENCE_C = 20.0

M_PER_KM = 1000.0


def resistance_20c_per_m(size: WireSize) -> float:
    """
    Resistance of one metre of a standard size at 20 °C.

    AWG and SAE: resistivity over nominal area, R = ρ/A. Stranding is left out: the strands of a
    cable run about 2 % longer than the cable, which tables of building wire hold; the one table of
    vehicle wire at hand lies 1.5 % below this formula in the mean, and would be left further.
    mm²: the greatest resistance the standard allows, which is 6 to 16 % above ρ/A of the nominal
    area.

    Args:
        size: A standard size.

    Returns:
        Resistance of one conductor, not out and back. [Ω/m]

    Raises:
        ValueError: The size is a mm² size that the table does not hold.

    Source:
        AWG, SAE: IACS resistivity, NBS Handbook 100 (1966), section 1.1. mm²: IEC 60228:2004
        table 3 (class 5) where it has the size, else ISO 6722-1:2011; rows and status in
        data/metric_resistance.csv.

    Example:
        >>> from upgrade_planner.configuration.values.sizes import parse_wire_size
        >>> round(resistance_20c_per_m(parse_wire_size("12 AWG")), 6)
        0.005211
    """
    if size.system != METRIC:
        return COPPER_RESISTIVITY_20C_OHM_MM2_PER_M / size.area_mm2
    table = _metric_resistance_ohm_per_m()
    if size.designation not in table:
        raise ValueError(f"no resistance is tabulated for {size.label}")
    return table[size.designation]


@cache
def _metric_resistance_ohm_per_m() -> dict[str, float]:
    return {
        row["designation"]: float(row["resistance_ohm_per_km"]) / M_PER_KM
        for row in data_rows(__package__, "metric_resistance.csv")
    }


def resistance_at(resistance_20c_ohm: float, temperature_c: float) -> float:
    """
    Resistance of a copper conductor at its working temperature.

    R = R20 (234.5 + T)/(234.5 + 20). Linear; meant for -40 to 250 °C.

    Args:
        resistance_20c_ohm: Resistance at 20 °C, of the whole conductor or of one metre. [Ω]
        temperature_c: Temperature of the conductor, not of the air around it. [°C]

    Returns:
        Resistance at temperature_c. [Ω]

    Raises:
        ValueError: resistance_20c_ohm is not above zero, or temperature_c not above -234.5 °C.

    Source:
        FAA AC 43.13-1B Chg 1 (2001), p. 11-22. IEC 60228 prints factors of a rounded coefficient
        (0.004 per °C) instead, 0.4 % apart at 100 °C.

    Example:
        >>> round(resistance_at(0.010, 75.0), 5)
        0.01216
    """
    _require_above(0.0, resistance_20c_ohm, "resistance_20c_ohm")
    _require_above(COPPER_ZERO_RESISTANCE_C, temperature_c, "temperature_c")
    return resistance_20c_ohm * warming_ratio(REFERENCE_C, temperature_c)


def warming_ratio(from_c: float, to_c: float) -> float:
    """
    Resistance of a copper conductor at one temperature by that at another. [1]

    Source:
        As at `resistance_at`.
    """
    return (to_c - COPPER_ZERO_RESISTANCE_C) / (from_c - COPPER_ZERO_RESISTANCE_C)


def wire_resistance(size: WireSize, length_m: float, temperature_c: float) -> float:
    """
    Resistance of one conductor from end to end at its working temperature.

    Args:
        size: A standard size.
        length_m: Length of the conductor, one way. [m]
        temperature_c: Temperature of the conductor. [°C]

    Returns:
        Resistance, joints not included. [Ω]

    Raises:
        ValueError: length_m is not above zero, or as at `resistance_20c_per_m` and `resistance_at`.

    Source:
        As at `resistance_20c_per_m` and `resistance_at`.
    """
    _require_above(0.0, length_m, "length_m")
    return resistance_at(resistance_20c_per_m(size) * length_m, temperature_c)


def _require_above(limit: float, value: float, name: str) -> None:
    # Written so that NaN and infinity are refused too.
    if not limit < value < float("inf"):
        raise ValueError(f"{name}: a finite number above {limit:g} is wanted, found {value}")
