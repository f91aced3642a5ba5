"""Rules on the starter: its cables, the circuit of its solenoid, its interlock."""

from collections.abc import Iterable, Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import (
    Facts,
    Finding,
    Remedy,
    Severity,
    at_node,
    at_part,
    at_parts,
    at_terminal,
    at_wire,
    at_wires,
)
from upgrade_planner.checks.moves import taken_out, to_own_terminal
from upgrade_planner.checks.paths import (
    RESTING_RUN,
    RESTING_START,
    Path,
    is_grounded,
    links_of,
    live_node,
    names_on,
    paths_from,
    wires_of,
)
from upgrade_planner.configuration.kinds import Family, TerminalUse
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.configuration.values.measures import ampere, is_above, volt
from upgrade_planner.electrical.branches import is_out_of_work
from upgrade_planner.electrical.drop_limits import DropLimit, limit_for, limit_while_cranking
from upgrade_planner.electrical.network.unsolvable import NetworkError
from upgrade_planner.electrical.operating_points import OperatingPoint
from upgrade_planner.electrical.pull_in import least_pull_in_v, pull_in_of
from upgrade_planner.electrical.states import CRANKING

CONTROL_REJECT_V = 2.0
"""Drop of the solenoid circuit, at 12 V, that rejects it. [V]
Source: US Army TM 10-3930-671-24, p. F-308."""

FLOWS_A = 1.0
"""Less than this is no current of a solenoid. [A] Source: our assumption."""

NOMINAL_12_V = 12.0

OWN_CIRCUITS = {
    "battery": ("starter cable", "battery cable", "main feed", "charge output", "distribution"),
    "solenoid": ("start signal",),
    "signal": ("start signal",),
    "starter": ("starter cable", "battery cable"),
    "bypass": ("start bypass",),
}
"""Circuits that belong to each starter terminal."""

SWAPPED_CIRCUITS = ("starter cable", "battery cable", "start signal", "start bypass")
"""Circuits whose wires are looked for on the wrong starter terminal."""


def solenoid_circuit_drop(examined: Examined) -> Iterator[Finding]:
    """
    The start signal loses too much on its way to the solenoid, held in.

    The limit was published for both windings; `solenoid_too_weak` judges the moment they draw.
    """
    configuration = examined.configuration
    point = examined.points.get(CRANKING.name)
    if point is None:
        return
    for starter in _signalled(configuration):
        ref = _signal_of(starter)
        path = _signal_path(starter, configuration, point)
        volts = point.live_v(ref)
        if path is None or volts is None:
            continue
        drop = point.battery_v - volts
        limit = limit_for("start signal", 0.0, configuration.vehicle.voltage_v)
        if is_above(volt(drop), volt(limit.limit_v)):
            reject = CONTROL_REJECT_V * configuration.vehicle.voltage_v / NOMINAL_12_V
            yield Finding(
                code="STA-SIGNAL-DROP",
                severity=Severity.WARNING if drop > reject else Severity.CAUTION,
                subjects=(at_terminal(ref), *at_wires(names_on(path))),
                value=volt(drop),
                limit=volt(limit.limit_v),
                facts={"terminal": ref.terminal},
                remedy=Remedy("clean-key-switch-or-use-relay"),
                source=limit.source,
            )


def solenoid_too_weak(examined: Examined) -> Iterator[Finding]:
    """Both windings drawing, so little is left at the solenoid that it need not pull in."""
    configuration = examined.configuration
    point = examined.points.get(CRANKING.name)
    for starter in configuration.parts_of(Family.STARTER) if point is not None else ():
        if point is None or is_out_of_work(starter, configuration):
            continue
        least = volt(least_pull_in_v(configuration.vehicle.voltage_v))
        try:
            moment = pull_in_of(starter, point)
        except NetworkError:
            continue
        if moment is None or moment.current_a < FLOWS_A:
            continue  # nothing reaches it: other rules say why
        if is_above(least, volt(moment.solenoid_v)):
            yield Finding(
                code="STA-PULL-IN",
                severity=Severity.WARNING,
                subjects=(
                    at_terminal(_signal_of(starter)),
                    *at_wires(names_on(_signal_path(starter, configuration, point) or ())),
                ),
                value=volt(moment.solenoid_v),
                limit=least,
                facts={
                    "current": ampere(moment.current_a),
                    "battery": volt(moment.battery_v),
                    "terminal": _signal_of(starter).terminal,
                },
                remedy=Remedy("clean-key-switch-or-use-relay"),
                source="workshop manual of a compact car, 2001, starting specification, 12 V; US "
                "Army TM 5-3895-382-24, illustration 61, 24 V",
            )


def _signalled(configuration: Configuration) -> list[Component]:
    """Solenoids and starter relays that are in use."""
    found = configuration.parts_with(TerminalUse.START_SIGNAL)
    return [part for part, _ in found if not is_out_of_work(part, configuration)]


def _signal_of(part: Component) -> TerminalRef:
    return TerminalRef(part.role, str(part.terminal_as(TerminalUse.START_SIGNAL)))


def _signal_path(
    starter: Component, configuration: Configuration, point: OperatingPoint
) -> Path | None:
    links = links_of(configuration, point.state)
    return paths_from(links, str(_signal_of(starter))).get(live_node(configuration))


def no_start_signal(examined: Examined) -> Iterator[Finding]:
    """Nothing reaches the solenoid with the key in start and the interlock closed."""
    configuration = examined.configuration
    links = links_of(configuration, CRANKING)
    for starter in _signalled(configuration):
        ref = str(_signal_of(starter))
        if _is_live(ref, examined.points.get(CRANKING.name)):
            continue  # through a relay, which paths do not cross
        if live_node(configuration) not in paths_from(links, ref):
            yield Finding(
                code="STA-NO-SIGNAL",
                severity=Severity.WARNING,
                subjects=(at_node(ref),),
                remedy=Remedy("join-start-signal"),
                source="position map of the key switch in the profile",
            )


def _is_live(node: str, point: OperatingPoint | None) -> bool:
    volts = None if point is None else point.node_v(node)
    return point is not None and volts is not None and volts > point.battery_v / 2


def interlock_missing(examined: Examined) -> Iterator[Finding]:
    """
    The starter turns whatever clutch and gear lever do: the vehicle may lurch off.

    Many were built without an interlock; one that is there and bridged is worse.
    """
    configuration = examined.configuration
    links = links_of(configuration, RESTING_START)
    switches = [part.role for part in configuration.parts_of(Family.SWITCH) if _is_interlock(part)]
    relays = {part.role for part in configuration.parts_of(Family.STARTER_RELAY)}
    for ref in map(str, _judged_signals(configuration)):
        path = paths_from(links, ref).get(live_node(configuration))
        if path is None or _is_fed_in_run(ref, configuration):
            continue  # fed without the start position: a rule of back-feeding says so
        if any(link.name in relays for link in path):
            continue  # fed by a starter relay, whose own signal is judged
        bridges = _bridges(switches, configuration)
        names = [*bridges, *(name for name in names_on(path) if name not in bridges)]
        yield Finding(
            code="STA-INTERLOCK",
            severity=Severity.DANGER if switches else Severity.CAUTION,
            subjects=(*at_wires(names), *at_parts(switches)),
            cause="bridged" if switches else "missing",
            facts={"switches": at_parts(switches)},
            remedy=_through_interlock(bridges),
            source="common practice",
        )


def _bridges(switches: Iterable[str], configuration: Configuration) -> tuple[str, ...]:
    """Wires that join two terminals of an interlock."""
    return tuple(
        wire.id
        for wire in configuration.wires
        for role in switches
        if {ref.role for ref in wire.ends} == {role}
    )


def _through_interlock(bridges: tuple[str, ...]) -> Remedy:
    if not bridges:
        return Remedy("lead-start-wire-through-interlock")
    facts: Facts = {"wires": at_wires(bridges)}
    return Remedy("take-bridge-off-interlock", facts, edits=taken_out(bridges))


def _judged_signals(configuration: Configuration) -> Iterator[TerminalRef]:
    """Terminals of solenoids and relays; of one behind a relay, the coil of that relay."""
    wires = wires_of(configuration)
    relays = configuration.parts_of(Family.RELAY)
    for part in _signalled(configuration):
        joined = paths_from(wires, str(_signal_of(part)))
        before = [relay for relay in relays if f"{relay.role}.normally_open" in joined]
        yield _signal_of(part)
        yield from (TerminalRef(relay.role, "coil_in") for relay in before)


def _is_fed_in_run(ref: str, configuration: Configuration) -> bool:
    reached = paths_from(links_of(configuration, RESTING_RUN), ref)
    return live_node(configuration) in reached


def _is_interlock(part: Component) -> bool:
    """A switch that the profile names as an interlock by its role."""
    return "interlock" in part.role


def cable_drop(examined: Examined) -> Iterator[Finding]:
    """The live side loses too much on its way from the battery; the ground side is for grounds."""
    point, configuration = examined.points.get(CRANKING.name), examined.configuration
    for starter in configuration.parts_of(Family.STARTER) if point is not None else ():
        amps = abs(point.element_current_a(starter.role)) if point else 0.0
        live = point.live_v(TerminalRef(starter.role, "battery")) if point else None
        if amps < starter.ratings["cranking_current"] / 2 or live is None or point is None:
            continue  # it does not turn: another rule says why
        limit = limit_while_cranking("battery to solenoid", amps, configuration.vehicle.voltage_v)
        drop_v = point.battery_v - live
        if is_above(volt(drop_v), volt(limit.limit_v)):
            yield _lossy(drop_v, amps, limit, _live_wires(starter, point))


def _live_wires(starter: Component, point: OperatingPoint) -> tuple[str, ...]:
    """Wires from the starter to the battery, the greatest loss first."""
    configuration = point.configuration
    reached = paths_from(links_of(configuration, CRANKING), f"{starter.role}.battery")
    names = names_on(reached.get(live_node(configuration), ()))
    wires = [configuration.wire_by_id[name] for name in names]
    return tuple(wire.id for wire in sorted(wires, key=lambda wire: -point.wire_drop_v(wire)))


def _lossy(drop_v: float, amps: float, limit: DropLimit, wires: tuple[str, ...]) -> Finding:
    return Finding(
        code="STA-DROP-LIVE",
        severity=Severity.CAUTION,
        subjects=at_wires(wires),
        cause="by-wires" if wires else "by-contacts",
        value=volt(drop_v),
        limit=volt(limit.limit_v),
        facts={"current": ampere(amps), "worst": at_wires(wires[:1])},
        remedy=Remedy("clean-joints-then-heavier-cable"),
        source=limit.source,
    )


def starter_not_grounded(examined: Examined) -> Iterator[Finding]:
    """No heavy path leads from the starter back to the battery."""
    configuration = examined.configuration
    links = links_of(configuration, CRANKING)
    for starter in configuration.parts_of(Family.STARTER, Family.STARTER_RELAY):
        if not is_grounded(starter, configuration, links):
            yield Finding(
                code="STA-GROUND",
                severity=Severity.WARNING,
                subjects=(at_part(starter.role),),
                remedy=Remedy("fit-ground-cable-to-engine"),
                source="US Army TM 5-3820-256-24-4, p. 8; common practice",
            )


def terminals_swapped(examined: Examined) -> Iterator[Finding]:
    """A wire sits on a starter terminal of another job."""
    configuration = examined.configuration
    for starter in configuration.parts_of(Family.STARTER, Family.STARTER_RELAY):
        for terminal, circuits in OWN_CIRCUITS.items():
            for wire in configuration.wires_at.get(TerminalRef(starter.role, terminal), ()):
                if wire.circuit in circuits or wire.circuit not in SWAPPED_CIRCUITS:
                    continue
                is_live = terminal in ("solenoid", "signal") and wire.circuit.endswith("cable")
                ref = TerminalRef(starter.role, terminal)
                yield Finding(
                    code="STA-SWAPPED",
                    severity=Severity.DANGER if is_live else Severity.WARNING,
                    subjects=(at_wire(wire.id), at_terminal(ref)),
                    cause="turns-at-once" if is_live else "misplaced",
                    facts={"circuit": wire.circuit, "terminal": terminal},
                    remedy=Remedy(
                        "move-to-terminal-for",
                        {"wire": at_wire(wire.id), "circuit": wire.circuit},
                        edits=to_own_terminal(wire, ref, OWN_CIRCUITS, configuration),
                    ),
                    source="terminal functions of the profile",
                )
