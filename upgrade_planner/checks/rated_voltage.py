"""
Rules on parts made for another voltage: a 6 V lamp on 12 V, a 12 V relay on 6 V.

What counts is the voltage over the part while it works, so a dropping resistor before it is seen.
"""

from collections.abc import Iterator, Mapping

from attrs import frozen

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity, worded
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
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

POWERED = (Family.LOAD, Family.MOTOR)
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
    """What too high a voltage does to a kind of part, and what is done about it."""

    severity: Severity
    harm: str
    remedy: str


CURES: Mapping[Family | None, Cure] = {
    Family.LAMP: Cure(
        severity=Severity.WARNING,
        harm="it burns out at once",
        remedy="Fit a lamp of {volts:g} V and the same watts.",
    ),
    Family.LOAD: Cure(
        severity=Severity.DANGER,
        harm="it takes a multiple of its power and may burn",
        remedy="Fit one of {volts:g} V, or take it out.",
    ),
    Family.MOTOR: Cure(
        severity=Severity.DANGER,
        harm="it runs far too fast, overheats and may burn",
        remedy="Fit a motor of {volts:g} V, or a dropping resistor made for its running current.",
    ),
    Family.GAUGE: Cure(
        severity=Severity.WARNING,
        harm="it reads wrong and its winding burns",
        remedy="Fit a voltage reducer for the gauges, or gauges and senders for {volts:g} V.",
    ),
    Family.COIL: Cure(
        severity=Severity.WARNING,
        harm="coil and points take twice their current and burn",
        remedy="Fit a coil for {volts:g} V, or a ballast resistor of the coil's own resistance.",
    ),
    Family.STARTER: Cure(
        severity=Severity.CAUTION,
        harm="it spins twice as fast and engages hard",
        remedy="It may stay: crank in short bursts and watch pinion and ring gear.",
    ),
    None: Cure(
        severity=Severity.WARNING,
        harm="it overheats or dies",
        remedy="Fit one for {volts:g} V.",
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
    return worded(
        code="RATED-VOLTAGE",
        title="Part made for a lower voltage",
        severity=cure.severity,
        where=(part.role,),
        what=f"Made for {rated:g} V, it gets {found:.1f} V: {cure.harm}.",
        remedy=cure.remedy.format(volts=configuration.vehicle.voltage_v),
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
    yield worded(
        code="RATED-MACHINE",
        title="Charging part for another voltage",
        severity=Severity.WARNING,
        where=(part.role,),
        what=f"Made for {rated:g} V in a system of {volts:g} V: "
        + ("it never charges this battery." if rated < volts else "it charges far too high."),
        remedy=f"Fit machine and regulator for {volts:g} V, of one kind.",
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
        yield worded(
            code="RATED-LOW",
            title="Part made for a higher voltage",
            severity=Severity.WARNING,
            where=(part.role,),
            what=f"The {part.words} is made for {rated:g} V; at {volts:g} V it is "
            "too weak or dead.",
            remedy=f"Fit one for {volts:g} V.",
            source="common practice",
        )


def battery_of_other_voltage(examined: Examined) -> Iterator[Finding]:
    """The batteries together do not make the system voltage."""
    configuration = examined.configuration
    emf, volts = emf_of(configuration), configuration.vehicle.voltage_v
    if emf and not UNDER_RATIO < emf / volts < OVER_RATIO:
        yield worded(
            code="RATED-BATTERY",
            title="Battery of another voltage",
            severity=Severity.DANGER if emf > volts else Severity.WARNING,
            where=tuple(part.role for part in configuration.parts_of(Family.BATTERY)),
            what=f"The battery, or the string of batteries, has {emf:.1f} V in a system of "
            f"{volts:g} V.",
            remedy="Join two batteries in series for the double voltage, side by side for the "
            "same; or fit one of the right voltage.",
            source="common practice",
        )
