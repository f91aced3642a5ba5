"""
What the wiring does in every operating state: voltages, currents, temperatures.

A wire's resistance depends on its temperature and that on its current: both are settled together,
by solving the network, heating the wires, and solving again until nothing moves. Likewise relays:
the voltages say which are pulled in, and those that are change the voltages.
"""

from collections.abc import Mapping
from functools import cached_property, lru_cache

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import Conductor, Configuration, TerminalRef, Wire
from upgrade_planner.electrical.batteries import live_post
from upgrade_planner.electrical.circuit import cold_wires, network_of, wire_name
from upgrade_planner.electrical.conductors import warming_ratio
from upgrade_planner.electrical.heat_balance import conductor_temperature, furthest_temperature
from upgrade_planner.electrical.metals import heating_current
from upgrade_planner.electrical.models.context import node_of
from upgrade_planner.electrical.network.elements import WireResistor
from upgrade_planner.electrical.network.laws import LawPiece
from upgrade_planner.electrical.network.nodal import NodalEquations
from upgrade_planner.electrical.network.solving import Solution, solution_of
from upgrade_planner.electrical.operated import coils_of, first_guess, operated_in
from upgrade_planner.electrical.states import IDLING, STATES, Engine, State

SETTLED_K = 0.05
"""Temperatures have settled when no wire moves by more than this. [K]"""

MOST_ROUNDS = 12
"""Rounds of solving and heating; wires in their range settle in four or five."""

MOST_SWITCHINGS = 30
"""Rounds of solving and pulling in; a chain of relays takes one round for each link."""

MOST_RESETTLINGS = 3
"""Times that warm wires may change what is pulled in before the first answer stands."""

KEPT_AIRS = 8
"""Configurations of which the air around the wires is kept, for every state asks for it."""

KEPT_POINTS = 64
"""Points that are kept, for checks, readings and facts ask for the same ones of few wirings."""

SAME_DIGITS = 6
"""Digits of a current in A in which equal ones agree whatever way they were computed."""

HOTTEST_C = 250.0
"""Temperatures are reckoned up to here; beyond it the insulation has gone. [°C]"""


@frozen(kw_only=True, eq=False)
class OperatingPoint:
    """
    One configuration in one state.

    Attributes:
        temperature_c: Conductor temperature of each wire, by id. [°C]
        settled: False if heating ran away: some wire is far above its range.
        operated: Relays that are pulled in and machines that are excited, by role.
        chattering: Relays that neither stay in nor out: each undoes what pulls it.
    """

    configuration: Configuration
    state: State
    solution: Solution
    temperature_c: Mapping[str, float]
    settled: bool
    operated: frozenset[str] = frozenset()
    chattering: tuple[str, ...] = ()

    @cached_property
    def sign(self) -> float:
        """Plus one on negative ground; minus one on positive ground, where live is below zero."""
        return 1.0 if self.configuration.vehicle.ground == "negative" else -1.0

    def live_v(self, ref: TerminalRef) -> float | None:
        """
        Voltage of a terminal above the grounded battery post, counted towards the live post.

        None if nothing joins it to the battery. [V]
        """
        volts = self.solution.voltage_v.get(node_of(ref))
        return None if volts is None else self.sign * volts

    def node_v(self, node: str) -> float | None:
        """The same for any node, such as `metal.engine`. [V]"""
        volts = self.solution.voltage_v.get(node)
        return None if volts is None else self.sign * volts

    def wire_current_a(self, wire_id: str) -> float:
        """Current in a wire from its start to its end. [A]"""
        return self.solution.current_a.get(wire_name(wire_id), 0.0)

    def wire_drop_v(self, wire: Wire) -> float:
        """Voltage between the ends of a wire, without sign. [V]"""
        start, end = (self.solution.voltage_v.get(node_of(ref)) for ref in wire.ends)
        return 0.0 if start is None or end is None else abs(start - end)

    def element_current_a(self, name: str) -> float:
        """Current of an element of the network, such as a part by its role. [A]"""
        return self.solution.current_a.get(name, 0.0)

    def piece(self, name: str) -> LawPiece | None:
        """What a regulated machine does: idle, regulating, at its limit."""
        return self.solution.piece.get(name)

    @property
    def battery_v(self) -> float:
        """Voltage across the battery posts, of a series pair across both. [V]"""
        post = live_post(self.configuration)
        volts = None if post is None else self.live_v(post)
        return 0.0 if volts is None else volts


def operating_points(
    configuration: Configuration, states: tuple[State, ...] = STATES
) -> Mapping[str, OperatingPoint]:
    """
    The operating point of every state, by the state's name.

    Raises:
        NotSolved: no solution exists, for instance two regulators that contradict each other.
    """
    return {state.name: operating_point(configuration, state) for state in states}


@lru_cache(maxsize=KEPT_POINTS)
def operating_point(
    configuration: Configuration, state: State, before: frozenset[str] | None = None
) -> OperatingPoint:
    """
    The operating point of one state, kept for whoever asks next; see `operating_points`.

    Cranking is too short to heat anything: its wires are at the air's temperature.

    Args:
        configuration: The wiring.
        state: Key, engine and loads.
        before: Relays pulled in and machines excited as the state begins; None is what the state
            before it leaves.

    Raises:
        NotSolved: no solution exists.
    """
    operated = _before(configuration, state) if before is None else before
    for _ in range(MOST_RESETTLINGS):
        equations, solution, operated, chattering = _switched(configuration, state, operated)
        temperatures, settled = _air(configuration), True
        if state.engine is not Engine.CRANKING:
            solution, temperatures, settled = _settled(configuration, equations, solution)
        warm = operated_in(configuration, state, solution, operated)
        if chattering or warm == operated:
            break
        operated = warm
    return OperatingPoint(
        configuration=configuration,
        state=state,
        solution=solution,
        temperature_c=temperatures,
        settled=settled,
        operated=operated,
        chattering=chattering,
    )


def _before(configuration: Configuration, state: State) -> frozenset[str]:
    """
    What is pulled in or excited as a state begins.

    The engine coasts after the key was on: relays are as they were idling.
    """
    operated = first_guess(configuration)
    if state.engine is Engine.COASTING and coils_of(configuration):
        operated |= operating_point(configuration, IDLING).operated
    return operated


def _switched(
    configuration: Configuration, state: State, operated: frozenset[str]
) -> tuple[NodalEquations, Solution, frozenset[str], tuple[str, ...]]:
    """Solves until relays and voltages agree; a set of relays that comes again chatters."""
    seen = [operated]
    equations = NodalEquations(network_of(configuration, state, operated=operated))
    solution = solution_of(equations)
    for _ in range(MOST_SWITCHINGS):
        after = operated_in(configuration, state, solution, seen[-1])
        if after == seen[-1]:
            return equations, solution, after, ()
        if after in seen:
            break
        seen.append(after)
        equations = NodalEquations(network_of(configuration, state, operated=after))
        solution = solution_of(equations)
    cycle = seen[seen.index(after) :] if after in seen else seen[-2:]
    restless = frozenset.union(*cycle) - frozenset.intersection(*cycle)
    return equations, solution, seen[-1], tuple(sorted(restless))


def _settled(
    configuration: Configuration, equations: NodalEquations, solution: Solution
) -> tuple[Solution, Mapping[str, float], bool]:
    """Heats and solves until no wire moves; only the wires' elements depend on temperatures."""
    before = _air(configuration)
    last_a: Mapping[str, float] = {}
    for _ in range(MOST_ROUNDS):
        heating_a = _heating_a(configuration, solution)
        is_near = _stays(before, _air(configuration), last_a, heating_a)
        after = before if is_near else _warmed(configuration, heating_a)
        if all(abs(after[key] - before[key]) <= SETTLED_K for key in after):
            # the temperatures that this very solution was computed with
            return solution, before, max(before.values(), default=0.0) < HOTTEST_C
        warmed = equations.altered(_warm_wires(after, configuration))
        solution = solution_of(warmed, solution.voltage_v)
        before, last_a = after, heating_a
    return solution, before, False


def _stays(
    temperatures: Mapping[str, float],
    air: Mapping[str, float],
    last_a: Mapping[str, float],
    heating_a: Mapping[str, float],
) -> bool:
    """Whether the wires surely stay as warm as the last currents made them, with those of now."""
    return last_a.keys() == heating_a.keys() and all(
        temperatures[key] < HOTTEST_C
        and abs(
            furthest_temperature(temperatures[key], air[key], amps / last_a[key])
            - temperatures[key]
        )
        <= SETTLED_K
        for key, amps in heating_a.items()
    )


@lru_cache(maxsize=KEPT_AIRS)
def _air(configuration: Configuration) -> Mapping[str, float]:
    """Temperature of the air around each wire, by id. [°C]"""
    return {wire.id: configuration.runs[wire.id].ambient_c for wire in configuration.wires}


def _warm_wires(
    temperatures: Mapping[str, float], configuration: Configuration
) -> Mapping[str, WireResistor]:
    """The elements, by their names, of the wires that are not as cold as the air."""
    air, cold = _air(configuration), cold_wires(configuration)
    return {
        element.name: element.strayed(metal_ratio=warming_ratio(air_c, temperatures[wire_id]))
        for (wire_id, air_c), element in zip(air.items(), cold, strict=True)
        if temperatures[wire_id] != air_c
    }


def _heating_a(configuration: Configuration, solution: Solution) -> Mapping[str, float]:
    """
    Current that heats each wire's copper, by id, where it is worth telling. [A]

    Resistance wire keeps its ohms and is not reckoned.
    """
    current_a = solution.current_a
    return {
        wire.id: heating_current(wire, abs(current_a[name]))
        for name, wire in _heated(configuration).items()
        if abs(current_a.get(name, 0.0)) >= NEGLIGIBLE_A
    }


@lru_cache(maxsize=KEPT_AIRS)
def _heated(configuration: Configuration) -> Mapping[str, Wire]:
    """Wires that a current heats, by the names of their elements."""
    plain = (w for w in configuration.wires if w.conductor is not Conductor.RESISTANCE)
    return {wire_name(wire.id): wire for wire in plain}


def _warmed(configuration: Configuration, heating_a: Mapping[str, float]) -> Mapping[str, float]:
    """Temperature of each wire's copper, by id. [°C]"""
    warm = dict(_air(configuration))
    for wire_id, amps in heating_a.items():
        size = configuration.wire_by_id[wire_id].size
        warm[wire_id] = min(conductor_temperature(size, amps, warm[wire_id]), HOTTEST_C)
    return warm


NEGLIGIBLE_A = 0.05
"""Currents below this heat no vehicle wire measurably. [A]"""
