"""Rules on leads that disturb each other: those of a coil, and those of the trigger of its unit."""

from collections.abc import Iterable, Iterator, Mapping

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Remedy, Severity, at_part, at_wires
from upgrade_planner.checks.ignition_trigger import TRIGGERED
from upgrade_planner.configuration.kinds import Capability
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef, Wire
from upgrade_planner.configuration.values.measures import metre
from upgrade_planner.configuration.ways import Covering

COIL_SIDE = ("coil_positive", "coil_negative", "coil")
TRIGGER_SIDE = ("trigger_plus", "trigger_minus", "points")

LONGEST_TOGETHER_M = 0.3
"""What a coil lead and a trigger lead may lie side by side in one loom. [m] Source: our assumption:
the piece at the unit itself."""

HAND_M = 0.1
"""How far apart they are kept elsewhere, a hand's breadth. [m] Source: common practice."""


def coil_beside_trigger(examined: Examined) -> Iterator[Finding]:
    """Pulses of the coil reach the trigger through the air of a loom: sparks at the wrong time."""
    configuration = examined.configuration
    for unit in configuration.parts_of(*TRIGGERED):
        coil, trigger = _leads(unit, COIL_SIDE, configuration), _trigger(unit, configuration)
        together = {
            (one, other): together_m(one, other, configuration) for one in coil for other in trigger
        }
        longest_m = max(together.values(), default=0.0)
        if longest_m > LONGEST_TOGETHER_M:
            near = {w.id for pair, m in together.items() for w in pair if m > LONGEST_TOGETHER_M}
            discharges = unit.can(Capability.DISCHARGES)
            yield Finding(
                code="IGN-LEADS",
                severity=Severity.WARNING if discharges else Severity.CAUTION,
                subjects=(at_part(unit.role), *at_wires(sorted(near))),
                cause="discharge" if discharges else "coil",
                value=metre(longest_m),
                limit=metre(LONGEST_TOGETHER_M),
                remedy=Remedy("lead-apart"),
                source="common practice; the length: our assumption",
            )


def together_m(one: Wire, other: Wire, configuration: Configuration) -> float:
    """How far two wires lie in the same sleeve or loom; what lies open is clipped apart. [m]"""
    runs = configuration.runs
    shared = set(runs[one.id].routes) & set(runs[other.id].routes)
    return sum(route.length_m for route in shared if route.covering is not Covering.EXPOSED)


def kept_apart(configuration: Configuration) -> Mapping[str, tuple[str, ...]]:
    """For each lead of a coil or a trigger those of the other side, by id."""
    apart: dict[str, tuple[str, ...]] = {}
    for unit in configuration.parts_of(*TRIGGERED):
        coil, trigger = _leads(unit, COIL_SIDE, configuration), _trigger(unit, configuration)
        for mine, others in ((coil, trigger), (trigger, coil)):
            names = tuple(sorted(wire.id for wire in others))
            apart |= {wire.id: names for wire in mine if names}
    return apart


def twisted(configuration: Configuration) -> Mapping[str, str]:
    """The mate of each lead that belongs to a pair: of a discharge unit's coil, of a pick-up."""
    mates: dict[str, str] = {}
    for unit in configuration.parts_of(*TRIGGERED):
        for names in (COIL_SIDE[:2], TRIGGER_SIDE[:2]):
            pair = sorted(wire.id for wire in _leads(unit, names, configuration))
            if len(pair) == len(names):
                mates |= {pair[0]: pair[1], pair[1]: pair[0]}
    return mates


def _trigger(unit: Component, configuration: Configuration) -> list[Wire]:
    return _leads(unit, TRIGGER_SIDE, configuration)


def _leads(unit: Component, names: Iterable[str], configuration: Configuration) -> list[Wire]:
    """Wires at those terminals of a unit, each once."""
    found = {
        wire.id: wire
        for name in names
        for wire in configuration.wires_at.get(TerminalRef(unit.role, name), ())
    }
    return [found[wire_id] for wire_id in sorted(found)]
