"""What a component model may know of its surroundings: nodes, state, polarity, neighbours."""

from collections.abc import Mapping
from functools import cached_property

from attrs import frozen

from upgrade_planner.configuration.model import (
    Component,
    Configuration,
    Joint,
    TerminalRef,
)
from upgrade_planner.electrical.models import assumptions as assumed
from upgrade_planner.electrical.network.elements import Regulated
from upgrade_planner.electrical.states import Engine, State

REGULATORS = ("regulator_electromechanical", "regulator_transistor")
"""Kinds that drive the field of a machine from outside."""

GENERATING = (Engine.IDLING, Engine.RUNNING, Engine.COASTING)
"""States of the engine in which alternator or dynamo turns fast enough to deliver."""


def node_of(ref: TerminalRef) -> str:
    """Name of the node of a terminal."""
    return str(ref)


def metal_node(metal: str) -> str:
    """Name of the node of a lump of metal: engine, body, frame."""
    return f"metal.{metal}"


@frozen(kw_only=True, eq=False)
class Context:
    """
    One configuration in one state.

    Attributes:
        operated: Roles of relays that are pulled in and of machines that are excited; see
            `electrical.operated`.
    """

    configuration: Configuration
    state: State
    operated: frozenset[str] = frozenset()

    @property
    def is_negative_ground(self) -> bool:
        """True if the negative battery post is joined to the metal."""
        return self.configuration.vehicle.ground == "negative"

    @property
    def is_generating(self) -> bool:
        """True if alternator or dynamo turns."""
        return self.state.engine in GENERATING

    def node(self, part: Component, terminal: str) -> str:
        """Node of a terminal of a part."""
        return node_of(TerminalRef(part.role, terminal))

    def return_node(self, part: Component) -> str | None:
        """Node through which a part returns its current: its return, ground or case terminal."""
        for name in ("return", "ground", "case"):
            if part.terminal(name) is not None:
                return self.node(part, name)
        return None

    def live_and_return(self, live: str, back: str) -> tuple[str, str]:
        """The two nodes as (plus, minus): the live side is plus on negative ground only."""
        return (live, back) if self.is_negative_ground else (back, live)

    def is_wired(self, ref: TerminalRef) -> bool:
        """True if any wire is joined to that terminal."""
        return bool(self.configuration.wires_at.get(ref))

    def are_joined(self, one: TerminalRef, other: TerminalRef) -> bool:
        """True if wires alone, over splices and studs, lead from one terminal to the other."""
        return other in self._reach(one)

    def is_joined_to_ground(self, ref: TerminalRef) -> bool:
        """True if wires alone, over splices and studs, lead from a terminal to a ground point."""
        return any(self._part_kind[other.role] == "ground_point" for other in self._reach(ref))

    def regulator_of(self, machine: Component) -> Component | None:
        """The external regulator whose field terminal is wired to this machine's."""
        field = TerminalRef(machine.role, "field")
        for regulator in self.of_kind(*REGULATORS):
            if self.are_joined(TerminalRef(regulator.role, "field"), field):
                return regulator
        return None

    def feed_of(self, regulator: Component) -> str:
        """Terminal through which a regulator gets the field's current and sees the voltage."""
        has_relay = regulator.terminal("field_relay") is not None
        key_fed = regulator.terminal("ignition") is not None and not has_relay
        wired = self.is_wired(TerminalRef(regulator.role, "ignition"))
        return "ignition" if key_fed and wired else "supply"

    def of_kind(self, *kinds: str) -> list[Component]:
        """Components of these kinds, by role."""
        return [part for part in self.configuration.components if part.kind in kinds]

    def _reach(self, start: TerminalRef) -> set[TerminalRef]:
        found, queue = {start}, [start]
        while queue:
            ref = queue.pop()
            for wire in self.configuration.wires_at.get(ref, ()):
                other = wire.other_end(ref)
                if other not in found:
                    found.add(other)
                    if self._part_kind[other.role] in ("junction", "splice"):
                        queue.append(other)
        return found

    @cached_property
    def _part_kind(self) -> Mapping[str, str]:
        return {part.role: part.kind for part in self.configuration.components}


def case_terminals(part: Component) -> list[str]:
    """Terminals that are joined to metal by the mounting."""
    return [t.name for t in part.terminals if t.connection.joint is Joint.CASE]


def output_limit_a(part: Component, engine: Engine) -> float:
    """Most that a machine delivers at the speed of a state. [A]"""
    rated = float(part.ratings["rated_output"])
    if engine is Engine.RUNNING:
        return rated
    return float(part.ratings.get("idle_output", rated * assumed.IDLE_RATIO))


def regulated(
    name: str,
    context: Context,
    live: str,
    back: str,
    watched: tuple[str, str],
    set_point_v: float,
    limit_a: float,
    droop_ohm: float = assumed.DROOP_OHM,
) -> Regulated:
    """A regulated machine between its live and its return node, whatever the ground polarity."""
    plus, minus = context.live_and_return(live, back)
    sense_plus, sense_minus = context.live_and_return(*watched)
    return Regulated(name, plus, minus, sense_plus, sense_minus, set_point_v, droop_ohm, limit_a)
