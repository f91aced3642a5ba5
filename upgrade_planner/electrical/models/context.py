"""What a component model may know of its surroundings: nodes, state, polarity, neighbours."""

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import (
    Component,
    Configuration,
    Joint,
    TerminalRef,
)
from upgrade_planner.electrical.models import assumptions as assumed
from upgrade_planner.electrical.network.elements import Regulated
from upgrade_planner.electrical.states import Engine, State

GENERATING = (Engine.IDLING, Engine.RUNNING, Engine.COASTING)
"""States of the engine in which alternator or dynamo turns fast enough to deliver."""


def node_of(ref: TerminalRef) -> str:
    """Name of the node of a terminal."""
    return str(ref)


def ref_of(node: str) -> TerminalRef:
    """
    Terminal of a node: the reverse of `node_of`.

    Of a lump of metal, which has none, the role is `METAL` and the terminal its name.
    """
    role, _, terminal = node.partition(".")
    return TerminalRef(role, terminal)


METAL = "metal"


def metal_node(metal: str) -> str:
    """Name of the node of a lump of metal: engine, body, frame."""
    return f"{METAL}.{metal}"


def is_metal(node: object) -> bool:
    """True for the node of a lump of metal."""
    return ref_of(str(node)).role == METAL


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
        name = part.return_terminal
        return None if name is None else self.node(part, name)

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
        return any(self._is_a(other, Family.GROUND_POINT) for other in self._reach(ref))

    def regulator_of(self, machine: Component) -> Component | None:
        """The external regulator whose field terminal is wired to this machine's."""
        field = TerminalRef(machine.role, "field")
        for regulator in self.configuration.parts_of(Family.REGULATOR):
            if self.are_joined(TerminalRef(regulator.role, "field"), field):
                return regulator
        return None

    def feed_of(self, regulator: Component) -> str:
        """Terminal through which a regulator gets the field's current and sees the voltage."""
        has_relay = regulator.terminal("field_relay") is not None
        key_fed = regulator.terminal("ignition") is not None and not has_relay
        wired = self.is_wired(TerminalRef(regulator.role, "ignition"))
        return "ignition" if key_fed and wired else "supply"

    def _is_a(self, ref: TerminalRef, family: Family) -> bool:
        return self.configuration.component(ref.role).family is family

    def _reach(self, start: TerminalRef) -> set[TerminalRef]:
        found, queue = {start}, [start]
        while queue:
            ref = queue.pop()
            for wire in self.configuration.wires_at.get(ref, ()):
                other = wire.other_end(ref)
                if other not in found:
                    found.add(other)
                    if self._is_a(other, Family.JOINT):
                        queue.append(other)
        return found


def case_terminals(part: Component) -> list[str]:
    """Terminals that are joined to metal by the mounting."""
    return [t.name for t in part.terminals if t.connection.joint is Joint.CASE]


def mounting_ohm(part: Component) -> float:
    """Joint between a part and the metal that it sits on: a flange or stud, else a screw. [Ω]"""
    return assumed.BOLTED_OHM if part.can(Capability.BOLTED) else assumed.MOUNTING_OHM


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
