"""
Voltage drop: how much a circuit may lose, and how much a conductor loses.

Each circuit of configuration/data/circuits.toml has a limit for its whole run; some have more for
parts of it, such as the ground side. The limits are in data/drop_limits.csv. Those from test
instructions say what a circuit in use may show; a new one should do better.
"""

import csv
from functools import cache
from importlib.resources import files
from math import inf

from attrs import frozen

from upgrade_planner.electrical.conductors import (
    COPPER_RESISTIVITY_20C_OHM_MM2_PER_M,
    resistance_at,
)

WHOLE = ""  # the whole run of a circuit, its own joints included
BASE_SYSTEM_V = 12.0  # [V] most limits stand for this nominal voltage
# Regulated over nominal voltage: 14 V on 12 V; TM 5-3820-233-35/1 (13.9 to 14.9 V, hot). [1]
REGULATED_RATIO = 14.0 / 12.0

FIXED = "fixed"
PER_AMPERE = "per ampere"
SHARE = "share"
REGULATED_SHARE = "regulated share"


@frozen(kw_only=True)
class DropLimit:
    """
    Greatest voltage drop of a circuit or a part of it.

    Attributes:
        limit_v: The limit. [V]
        source: Where it comes from, and how it was scaled to another system voltage.
        status: `seen`, `secondary` or `assumption`; a scaled limit is an assumption.
    """

    limit_v: float
    source: str
    status: str


@frozen(kw_only=True)
class _Rule:
    """One row of the table."""

    circuit: str
    part: str
    rule: str
    value: float  # [V], [V/A] or [1], by the rule
    system_v: float | None  # [V]; None for shares
    above_a: float  # the row holds for greater currents [A]
    source: str
    status: str


def limit_for(
    circuit: str, current_a: float, system_voltage_v: float, *, part: str = WHOLE
) -> DropLimit:
    """
    Greatest voltage drop of a circuit, one way, from its feed end to its load end.

    A row for the very system voltage is taken if there is one. Else the 12 V row is scaled in
    proportion: a 6 V system may lose half the volts, a 24 V system twice as many (an army manual
    doubles its limits for 24 V; for 6 V it is our assumption).

    Args:
        circuit: A key of configuration/data/circuits.toml.
        current_a: Current while the drop is measured or computed. [A]
        system_voltage_v: Nominal voltage: 6, 12 or 24. [V]
        part: `WHOLE`, or one of `parts_of`: `ground side`, `solenoid switch`.

    Raises:
        ValueError: The circuit or part has no limit, current_a is below 0 or not finite, or
            system_voltage_v is not above 0.

    Source:
        data/drop_limits.csv, a source in each row.

    Example:
        >>> limit_for("starter cable", 150, 12).limit_v
        0.3
    """
    if not 0 <= current_a < inf:
        raise ValueError(f"current_a: a finite current from 0 up is wanted, found {current_a:g}")
    _require_above_zero(system_voltage_v, "system_voltage_v")
    rule = _rule_for(circuit, part, current_a, system_voltage_v)
    limit_v = _unscaled_v(rule, current_a, system_voltage_v)
    if rule.system_v in {None, system_voltage_v}:
        return DropLimit(limit_v=limit_v, source=rule.source, status=rule.status)
    scaled = f"{rule.source}; for {rule.system_v:g} V, scaled to {system_voltage_v:g} V"
    return DropLimit(
        limit_v=limit_v * system_voltage_v / (rule.system_v or BASE_SYSTEM_V),
        source=scaled,
        status="assumption",
    )


def parts_of(circuit: str) -> tuple[str, ...]:
    """
    Parts of a circuit that have a limit of their own, in the order of the table; `WHOLE` left out.

    Example:
        >>> parts_of("ground")
        ('equipment ground',)
    """
    named = [rule.part for rule in _rules() if rule.circuit == circuit and rule.part != WHOLE]
    return tuple(dict.fromkeys(named))


def _rule_for(circuit: str, part: str, current_a: float, system_voltage_v: float) -> _Rule:
    rules = [rule for rule in _rules() if (rule.circuit, rule.part) == (circuit, part)]
    if not rules:
        wanted = "a circuit with a limit" if part == WHOLE else f"a part of {circuit}"
        raise ValueError(f"{wanted} is wanted, found {part or circuit}")
    same = [rule for rule in rules if rule.system_v == system_voltage_v]
    base = [rule for rule in rules if rule.system_v in {None, BASE_SYSTEM_V}]
    fitting = [
        rule for rule in same or base or rules if rule.above_a == 0 or current_a > rule.above_a
    ]
    return max(fitting, key=lambda rule: rule.above_a)


def _unscaled_v(rule: _Rule, current_a: float, system_voltage_v: float) -> float:
    if rule.rule == PER_AMPERE:
        return rule.value * current_a
    if rule.rule == SHARE:
        return rule.value * system_voltage_v
    if rule.rule == REGULATED_SHARE:
        return rule.value * REGULATED_RATIO * system_voltage_v
    return rule.value


@cache
def _rules() -> tuple[_Rule, ...]:
    table = files(__package__).joinpath("data/drop_limits.csv").read_text(encoding="utf-8")
    return tuple(
        _Rule(
            circuit=row["circuit"],
            part=row["part"],
            rule=row["rule"],
            value=float(row["value"]),
            system_v=float(row["system_v"]) if row["system_v"] else None,
            above_a=float(row["above_a"]),
            source=row["source"],
            status=row["status"],
        )
        for row in csv.DictReader(table.splitlines())
    )


def drop_along(current_a: float, length_m: float, ohm_per_m: float) -> float:
    """
    Voltage drop along one conductor: E = I R L.

    Args:
        current_a: Current. [A]
        length_m: Length of the conductor; out and back are two lengths. [m]
        ohm_per_m: Resistance of one metre at its working temperature. [Ω/m]

    Returns:
        Voltage drop. [V]

    Raises:
        ValueError: length_m or ohm_per_m is not above 0, or current_a is below 0 or not finite.

    Source:
        Ohm's law; worked in FAA AC 43.13-1B tables 11-7 and 11-8.

    Example:
        >>> round(drop_along(20, 10, 0.002), 3)
        0.4
    """
    if not 0 <= current_a < inf:
        raise ValueError(f"current_a: a finite current from 0 up is wanted, found {current_a:g}")
    _require_above_zero(length_m, "length_m")
    _require_above_zero(ohm_per_m, "ohm_per_m")
    return current_a * ohm_per_m * length_m


def area_for_drop_mm2(
    current_a: float, length_m: float, limit_v: float, conductor_c: float
) -> float:
    """
    Least copper that keeps a drop: S = ρ(T) I L / E.

    Args:
        current_a: Current. [A]
        length_m: Length of copper in the circuit, out and back. [m]
        limit_v: Drop allowed over that length. [V]
        conductor_c: Working temperature of the copper. [°C]

    Returns:
        Area. [mm²]

    Raises:
        ValueError: An argument but the temperature is not above 0, or as at
            `conductors.resistance_at`.

    Source:
        Ohm's law with the resistivity of IACS copper. The marine formula, circular mils = 10.75 I L
        / E, is the same at 29.3 °C.

    Example:
        >>> round(area_for_drop_mm2(10, 6.4, 0.36, 20), 2)
        3.07
    """
    _require_above_zero(current_a, "current_a")
    _require_above_zero(length_m, "length_m")
    _require_above_zero(limit_v, "limit_v")
    resistivity_ohm_mm2_per_m = resistance_at(COPPER_RESISTIVITY_20C_OHM_MM2_PER_M, conductor_c)
    return resistivity_ohm_mm2_per_m * current_a * length_m / limit_v


def _require_above_zero(value: float, name: str) -> None:
    if not 0 < value < inf:
        raise ValueError(f"{name}: a finite number above 0 is wanted, found {value:g}")
