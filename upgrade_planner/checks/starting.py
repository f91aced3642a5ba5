"""Rules on the starter: its cables, the circuit of its solenoid, its interlock."""

from collections.abc import Iterator

from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity, worded
from upgrade_planner.checks.paths import (
    GROUND,
    RESTING_RUN,
    RESTING_START,
    Path,
    grounded_node,
    is_grounded,
    links_of,
    live_node,
    names_on,
    paths_from,
    return_of,
    wires_of,
)
from upgrade_planner.configuration.kinds import Family, Job
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef
from upgrade_planner.electrical.branches import is_out_of_work
from upgrade_planner.electrical.drop_limits import limit_for
from upgrade_planner.electrical.operating_points import OperatingPoint
from upgrade_planner.electrical.states import CRANKING

CONTROL_REJECT_V = 2.0
"""Drop of the solenoid circuit, at 12 V, that rejects it. [V]
Source: US Army TM 10-3930-671-24, p. F-308."""

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
    """The start signal loses too much on its way to the solenoid."""
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
        if drop > limit.limit_v:
            reject = CONTROL_REJECT_V * configuration.vehicle.voltage_v / NOMINAL_12_V
            yield worded(
                code="STA-SIGNAL-DROP",
                title="Weak start signal",
                severity=Severity.WARNING if drop > reject else Severity.CAUTION,
                where=(str(ref), *names_on(path)),
                what=f"{drop:.1f} V are lost between battery and {ref.terminal} while cranking, "
                f"at most {limit.limit_v:.1f} V are right.",
                remedy="Clean the key switch and its joints, or let a relay feed the solenoid.",
                source=limit.source,
            )


def _signalled(configuration: Configuration) -> list[Component]:
    """Solenoids and starter relays that are in use."""
    found = configuration.parts_with(Job.START_SIGNAL)
    return [part for part, _ in found if not is_out_of_work(part, configuration)]


def _signal_of(part: Component) -> TerminalRef:
    return TerminalRef(part.role, str(part.terminal_as(Job.START_SIGNAL)))


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
            yield worded(
                code="STA-NO-SIGNAL",
                title="No start signal",
                severity=Severity.WARNING,
                where=(ref,),
                what="No path leads from the battery to it with the key in start.",
                remedy="Join it, through the interlock, to the start terminal of the key switch.",
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
        bridged = f"{', '.join(switches)} is bridged. " if switches else ""
        yield worded(
            code="STA-INTERLOCK",
            title="Start interlock bridged" if switches else "No start interlock",
            severity=Severity.DANGER if switches else Severity.CAUTION,
            where=(*names_on(path), *switches),
            what=f"{bridged}The starter turns with the gear engaged and the clutch up.",
            remedy="Lead the start wire through a clutch or neutral switch; never bridge it.",
            source="common practice",
        )


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
    """Battery and starter cables lose more than 0.2 V per 100 A; each side by itself."""
    point = examined.points.get(CRANKING.name)
    if point is None:
        return
    for starter in examined.configuration.parts_of(Family.STARTER):
        amps = abs(point.element_current_a(starter.role))
        if amps < starter.ratings["cranking_current"] / 2:
            continue  # it does not turn: another rule says why
        for side in _sides(starter, examined.configuration, point):
            yield from _side_finding(*side, amps, examined.configuration)


def _sides(
    starter: Component, configuration: Configuration, point: OperatingPoint
) -> Iterator[tuple[str, float, tuple[str, ...]]]:
    """Live and ground side: its name, its drop, its wires by falling drop. [V]"""
    live = point.live_v(TerminalRef(starter.role, "battery"))
    back = return_of(starter)
    ground = None if back is None else point.node_v(back)
    links = links_of(configuration, CRANKING)
    if live is not None:
        path = paths_from(links, f"{starter.role}.battery").get(live_node(configuration), ())
        yield "live", point.battery_v - live, _worst_first(path, point)
    if ground is not None and back is not None:
        reached = paths_from(links, back, GROUND)
        yield "ground", ground, _worst_first(reached.get(grounded_node(configuration), ()), point)


def _worst_first(path: Path, point: OperatingPoint) -> tuple[str, ...]:
    wires = [point.configuration.wire_by_id[name] for name in names_on(path)]
    return tuple(wire.id for wire in sorted(wires, key=lambda wire: -point.wire_drop_v(wire)))


def _side_finding(
    side: str, drop: float, wires: tuple[str, ...], amps: float, configuration: Configuration
) -> Iterator[Finding]:
    limit = limit_for("starter cable", amps, configuration.vehicle.voltage_v)
    if drop <= limit.limit_v:
        return
    worst = f"; most of it in {wires[0]}" if wires else ""
    yield worded(
        code=f"STA-DROP-{side.upper()}",
        title=f"Starter loses volts on the {side} side",
        severity=Severity.CAUTION,
        where=wires,
        what=f"{drop:.2f} V at {amps:.0f} A, at most {limit.limit_v:.2f} V are right{worst}.",
        remedy="Clean every joint of that side and measure again; then fit a heavier cable.",
        source=limit.source,
    )


def starter_not_grounded(examined: Examined) -> Iterator[Finding]:
    """No heavy path leads from the starter back to the battery."""
    configuration = examined.configuration
    links = links_of(configuration, CRANKING)
    for starter in configuration.parts_of(Family.STARTER, Family.STARTER_RELAY):
        if not is_grounded(starter, configuration, links):
            yield worded(
                code="STA-GROUND",
                title="Starter without ground",
                severity=Severity.WARNING,
                where=(starter.role,),
                what="No wire or metal leads from the starter to the grounded battery post; "
                "its current looks for a way through control cables and thin wires.",
                remedy="Fit the ground cable between battery and engine.",
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
                yield worded(
                    code="STA-SWAPPED",
                    title="Wire on the wrong starter terminal",
                    severity=Severity.DANGER if is_live else Severity.WARNING,
                    where=(wire.id, f"{starter.role}.{terminal}"),
                    what=f"The {wire.circuit} sits on the {terminal} terminal."
                    + (" The starter turns as soon as the battery is joined." if is_live else ""),
                    remedy=f"Move {wire.id} to the terminal for the {wire.circuit}.",
                    source="terminal functions of the profile",
                )
