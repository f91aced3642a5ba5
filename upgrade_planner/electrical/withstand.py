"""How long a wire stands a short circuit before its insulation is spoiled."""

from functools import cache
from math import inf, log, sqrt

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.own_data import data_rows
from upgrade_planner.configuration.values.sizes import WireSize
from upgrade_planner.electrical.arguments import require_above_zero
from upgrade_planner.electrical.heat_balance import heating_time

# K of k = K √ln((β + θf)/(β + θi)) [A·√s/mm²] and β [°C]. Copper and aluminium: IEC 60949 as
# described on a web page. Steel: √(Qc (β + 20)/ρ20) of the same standard's constants.
ADIABATIC_FACTORS = {"copper": (226.0, 234.5), "aluminium": (148.0, 228.0), "steel": (78.2, 202.0)}
ADIABATIC_LONGEST_S = 5.0  # [s] IEC 60364-5-54, as quoted: valid up to 5 s

ADIABATIC = "adiabatic"
HEAT_BALANCE = "heat balance"
NOT_COMPUTED = "not computed"


@frozen(kw_only=True)
class Withstand:
    """
    How long a wire stands a current.

    Attributes:
        time_s: Time until the insulation is at its limit; infinity if it never is; None if not
            computed. [s]
        method: `ADIABATIC`, `HEAT_BALANCE` or `NOT_COMPUTED`.
    """

    time_s: float | None
    method: str


@frozen(kw_only=True)
class ShortCircuitLimit:
    """Temperature that an insulation stands for the seconds of a short circuit. [°C]"""

    limit_c: float
    source: str
    status: str


def adiabatic_constant(start_c: float, limit_c: float, metal: str = "copper") -> float:
    """
    Constant k of the short-circuit rule: k = K √ln[(β + θf)/(β + θi)].

    Args:
        start_c: Conductor at the start, θi. [°C]
        limit_c: Conductor at the end, θf. [°C]
        metal: `copper`, `aluminium` or `steel`.

    Returns:
        The constant. [A·√s/mm²]

    Raises:
        ValueError: The metal is not listed, or limit_c > start_c > -β does not hold.

    Source:
        IEC 60949 and IEC 60364-5-54, as described.

    Example:
        >>> round(adiabatic_constant(70, 160))
        115
    """
    if metal not in ADIABATIC_FACTORS:
        raise ValueError(f"metal: one of {', '.join(ADIABATIC_FACTORS)} is wanted, found {metal}")
    factor, beta_c = ADIABATIC_FACTORS[metal]
    if not -beta_c < start_c < limit_c < inf:
        raise ValueError(f"start_c < limit_c is wanted, found {start_c:g} and {limit_c:g}")
    return factor * sqrt(log((beta_c + limit_c) / (beta_c + start_c)))


def adiabatic_time(area_mm2: float, current_a: float, constant: float) -> float:
    """
    Time that a conductor stands a short circuit, no heat being lost: t = (k S / I)². [s]

    Args:
        area_mm2: Area of the conductor. [mm²]
        current_a: Short-circuit current. [A]
        constant: From `adiabatic_constant`. [A·√s/mm²]

    Raises:
        ValueError: An argument is not above 0 or not finite.

    Source:
        IEC 60364-5-54, as described; valid up to 5 s, longer times are on the safe side.

    Example:
        >>> round(adiabatic_time(6.875, 2500, 115), 2)
        0.1
    """
    require_above_zero(area_mm2, "area_mm2")
    require_above_zero(current_a, "current_a")
    require_above_zero(constant, "constant")
    return (constant * area_mm2 / current_a) ** 2


def withstand(
    size: WireSize,
    current_a: float,
    start_c: float,
    limit_c: float,
    *,
    ambient_c: float | None = None,
) -> Withstand:
    """
    How long a copper wire stands a current before its insulation is at its limit.

    Up to 5 s adiabatic. Longer: `heat_balance.heating_time` in still air, but not below the
    adiabatic time, which counts the nominal copper only.

    Args:
        size: A standard size.
        current_a: Constant current. [A]
        start_c: Conductor at the start; its rated temperature is on the safe side. [°C]
        limit_c: What the insulation stands for a short time; see `short_circuit_limit`. [°C]
        ambient_c: Air around the wire, not above start_c; None leaves times above 5 s out. [°C]

    Raises:
        ValueError: As at `adiabatic_time`, `adiabatic_constant` and `heat_balance.heating_time`.

    Source:
        As at `adiabatic_time` and `heat_balance.heating_time`.
    """
    constant = adiabatic_constant(start_c, limit_c)
    time_s = adiabatic_time(size.area_mm2, current_a, constant)
    if time_s <= ADIABATIC_LONGEST_S:
        return Withstand(time_s=time_s, method=ADIABATIC)
    if ambient_c is None:
        return Withstand(time_s=None, method=NOT_COMPUTED)
    longer_s = heating_time(size, current_a, start_c, limit_c, ambient_c)
    return Withstand(time_s=max(time_s, longer_s), method=HEAT_BALANCE)


@cache
def short_circuit_limit(insulation: str) -> ShortCircuitLimit:
    """
    What an insulation class stands for the seconds of a short circuit.

    Args:
        insulation: Name as in configuration/data/insulation.csv.

    Raises:
        ValueError: The class is not listed.

    Source:
        data/short_circuit_limits.csv: IEC 60364-5-54 as quoted for PVC, XLPE and rubber; the rest
        from memory or our assumption.

    Example:
        >>> short_circuit_limit("PVC").limit_c
        160.0
    """
    for row in data_rows(__package__, "short_circuit_limits.csv"):
        if row["insulation"] == insulation:
            return ShortCircuitLimit(
                limit_c=float(row["limit_c"]), source=row["source"], status=row["status"]
            )
    raise ValueError(f"insulation: a class of the table is wanted, found {insulation}")
