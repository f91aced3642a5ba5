"""
Voltage drop: how much a circuit may lose, and how much a conductor loses.

Each circuit of configuration/data/circuits.toml has a limit for its whole run; some have more for
parts of it, such as the ground side. The limits are in data/drop_limits.csv. Those from test
instructions say what a circuit in use may show; a new one should do better.
"""

from functools import cache
from math import inf

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.own_data import data_rows
from upgrade_planner.electrical.arguments import require_above_zero

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
    require_above_zero(system_voltage_v, "system_voltage_v")
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


def limit_while_cranking(part: str, current_a: float, system_voltage_v: float) -> DropLimit:
    """
    Greatest drop of a part of the cranking circuit: the figure published for that very voltage.

    Where there is none, the rule of so much per ampere takes its place: starters of 6 V draw about
    twice the current, so that a figure of 12 V halved would ask for a quarter of the resistance.

    Args:
        part: One of `starter cable`: `ground side`, `battery to solenoid`.
        current_a: Current while cranking. [A]
        system_voltage_v: Nominal voltage. [V]
    """
    limit = limit_for("starter cable", current_a, system_voltage_v, part=part)
    if limit.status != "assumption":
        return limit
    return limit_for("starter cable", current_a, system_voltage_v)


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
        for row in data_rows(__package__, "drop_limits.csv")
    )
