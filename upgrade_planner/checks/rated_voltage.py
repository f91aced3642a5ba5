"""
Rules on parts made for another voltage: a 6 V lamp on 12 V, a 12 V relay on 6 V.

What counts is the voltage over the part while it works, so a dropping resistor before it is seen.
"""

from collections.abc import Iterator, Mapping

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Remedy, Severity, at_part, at_parts
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.configuration.values.measures import volt
from upgrade_planner.electrical.batteries import emf_of
from upgrade_planner.electrical.operating_points import OperatingPoint
from upgrade_planner.electrical.states import Engine

OVER_RATIO = 1.35
"""Voltage over a part, as part of its rated voltage, from which it suffers. [1] Source: our
assumption: 14.9 V over a 12 V part are 1.24, 12.6 V over a 6 V part 2.1."""

UNDER_RATIO = 0.7
"""System voltage, as part of the rated voltage, below which a part fails to do its job. [1] Source:
our assumption: a 12 V relay or lamp on 8 V."""

WORKS_RATIO = 0.3
"""Voltage, as part of the system voltage, from which a part counts as switched on. [1] Source: our
assumption."""

ENDS = {
    Family.LAMP: ("supply", "return"),
    Family.LOAD: ("supply", "return"),
    Family.GAUGE: ("supply", ""),
    Family.COIL: ("positive", "negative"),
    Family.RELAY: ("coil_in", "coil_out"),
    Family.VOLTMETER: ("supply", "return"),
    Family.STARTER_RELAY: ("signal", "case"),
}
"""Terminals between which a part works; others stand between their live side and ground."""


@frozen(kw_only=True)
class Cure:
    """
    What too high a voltage does to a family of parts, and what is done about it.

    Attributes:
        severity: How bad it is.
        cause: Cause of the finding; its sentence tells the harm.
        remedy: Code of the remedy.
    """

    severity: Severity
    cause: str
    remedy: str


CURES: Mapping[Family | None, Cure] = {
    Family.LAMP: Cure(
        severity=Severity.WARNING,
        cause="burns-out",
        remedy="fit-lamp-for-voltage",
    ),
    Family.LOAD: Cure(
        severity=Severity.DANGER,
        cause="takes-too-much-power",
        remedy="fit-for-voltage-or-take-out",
    ),
    Family.MOTOR: Cure(
        severity=Severity.DANGER,
        cause="runs-too-fast",
        remedy="fit-motor-for-voltage-or-resistor",
    ),
    Family.GAUGE: Cure(
        severity=Severity.WARNING,
        cause="reads-wrong",
        remedy="fit-reducer-or-gauges-for-voltage",
    ),
    Family.COIL: Cure(
        severity=Severity.WARNING,
        cause="burns-points",
        remedy="fit-coil-for-voltage-or-ballast",
    ),
    Family.STARTER: Cure(
        severity=Severity.CAUTION,
        cause="spins-too-fast",
        remedy="crank-in-short-bursts",
    ),
    None: Cure(
        severity=Severity.WARNING,
        cause="overheats",
        remedy="fit-for-voltage",
    ),
}
"""By family; None for all others. Source: common practice of conversions."""


def made_for_less(examined: Examined) -> Iterator[Finding]:
    """Parts that get more than the voltage they are made for."""
    configuration = examined.configuration
    for part in configuration.components:
        rated = part.ratings.get("rated_voltage")
        if rated is None:
            continue
        if part.can(Capability.CHARGES) or part.family is Family.REGULATOR:
            yield from _machine(part, rated, configuration)
            continue
        if configuration.vehicle.voltage_v < OVER_RATIO * rated:
            continue  # the right part; what else lifts its voltage, other rules say
        found = _highest_v(part, examined)
        if found > OVER_RATIO * rated:
            yield _over(part, rated, found, configuration)


def _over(part: Component, rated: float, found: float, configuration: Configuration) -> Finding:
    cure = CURES.get(part.family, CURES[None])
    return Finding(
        code="RATED-VOLTAGE",
        severity=cure.severity,
        subjects=(at_part(part.role),),
        cause=cure.cause,
        value=volt(found),
        limit=volt(OVER_RATIO * rated),
        facts={"rated": volt(rated)},
        remedy=Remedy(cure.remedy, {"system": volt(configuration.vehicle.voltage_v)}),
        source="common practice of voltage conversions; volts computed",
    )


def _highest_v(part: Component, examined: Examined) -> float:
    """Highest voltage over a part, not cranking; nominal if it never works. [V]"""
    nominal = examined.configuration.vehicle.voltage_v
    if part.family is Family.STARTER:
        return nominal
    points = [p for p in examined.points.values() if p.state.engine is not Engine.CRANKING]
    volts = [_across_v(part, point) for point in points]
    worked = [found for found in volts if found > WORKS_RATIO * nominal]
    return max(worked, default=nominal)


def _across_v(part: Component, point: OperatingPoint) -> float:
    one, other = ENDS.get(part.family, ("", ""))
    if part.terminal(one) is not None:
        first = point.live_v(TerminalRef(part.role, one)) or 0.0
        second = point.live_v(TerminalRef(part.role, other)) if part.terminal(other) else None
        return abs(first - (second or 0.0))
    return max(point.live_v(TerminalRef(part.role, t.name)) or 0.0 for t in part.terminals)


def _machine(part: Component, rated: float, configuration: Configuration) -> Iterator[Finding]:
    volts = configuration.vehicle.voltage_v
    if UNDER_RATIO < volts / rated < OVER_RATIO:
        return
    yield Finding(
        code="RATED-MACHINE",
        severity=Severity.WARNING,
        subjects=(at_part(part.role),),
        cause="never-charges" if rated < volts else "charges-too-high",
        value=volt(rated),
        facts={"system": volt(volts)},
        remedy=Remedy("fit-machine-for-voltage", {"system": volt(volts)}),
        source="common practice",
    )


def made_for_more(examined: Examined) -> Iterator[Finding]:
    """Parts for a higher voltage than the system has: dim, weak or dead."""
    configuration = examined.configuration
    volts = configuration.vehicle.voltage_v
    for part in configuration.components:
        rated = part.ratings.get("rated_voltage")
        is_machine = part.can(Capability.CHARGES) or part.family is Family.REGULATOR
        if rated is None or is_machine or volts > UNDER_RATIO * rated:
            continue
        yield Finding(
            code="RATED-LOW",
            severity=Severity.WARNING,
            subjects=(at_part(part.role),),
            value=volt(volts),
            limit=volt(UNDER_RATIO * rated),
            facts={"kind": part.words, "rated": volt(rated)},
            remedy=Remedy("fit-for-voltage", {"system": volt(volts)}),
            source="common practice",
        )


def battery_of_other_voltage(examined: Examined) -> Iterator[Finding]:
    """The batteries together do not make the system voltage."""
    configuration = examined.configuration
    emf, volts = emf_of(configuration), configuration.vehicle.voltage_v
    if emf and not UNDER_RATIO < emf / volts < OVER_RATIO:
        yield Finding(
            code="RATED-BATTERY",
            severity=Severity.DANGER if emf > volts else Severity.WARNING,
            subjects=at_parts(part.role for part in configuration.parts_of(Family.BATTERY)),
            value=volt(emf),
            facts={"system": volt(volts)},
            remedy=Remedy("join-batteries-for-voltage"),
            source="common practice",
        )
