"""
Operating states: key, engine and loads, in which the wiring is computed.

A vehicle profile may set switches per state (`[states.loaded]`); a switch that no state names is in
its first position, which is its position of rest. What an earlier owner added is on with loads on.
"""

from collections.abc import Mapping
from enum import StrEnum

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.kinds import Capability
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef


class Engine(StrEnum):
    """What the engine does."""

    STOPPED = "stopped"
    CRANKING = "cranking"
    IDLING = "idling"
    RUNNING = "running"
    COASTING = "coasting"


@frozen
class State:
    """
    One operating state.

    Attributes:
        name: Short name, as profiles write it.
        title: As printed.
        key: Position of the key switch.
        engine: What the engine does; a coasting engine still turns the alternator.
        switches: Name of the state whose switch positions it shares; "" for its own.
        has_lamps: True if lamp switches stand as with loads on.
    """

    name: str
    title: str
    key: str
    engine: Engine
    switches: str = ""
    has_lamps: bool = False


OFF = State("off", "key off, engine stopped", "off", Engine.STOPPED)
KEY_ON = State("key_on", "key on, engine stopped", "run", Engine.STOPPED)
CRANKING = State("cranking", "cranking", "start", Engine.CRANKING)
IDLING = State("idling", "idling, loads off", "run", Engine.IDLING)
LOADED = State("loaded", "running, loads on", "run", Engine.RUNNING)
COASTING = State("coasting", "key off, engine still turning", "off", Engine.COASTING)

STATES = (OFF, KEY_ON, CRANKING, IDLING, LOADED, COASTING)

UNLOADED = State("unloaded", "running, loads off", "run", Engine.RUNNING, IDLING.name)
LIT = State("lit", "running, lamps on", "run", Engine.RUNNING, IDLING.name, has_lamps=True)

MEASURED = (*STATES, UNLOADED, LIT)
"""All states, with those in which a regulator is tested: its limit holds while it regulates, not
while loads take all that the machine can deliver."""

REST = "off"
"""First position of a switch that stays where it is put."""

LAMPS = "lamps"
"""Circuit of a wire, by which a lamp switch is known."""


def position_of(switch: Component, state: State, configuration: Configuration) -> str:
    """
    The position of a switch or key switch in a state.

    Named by the vehicle's `[states]`, else the key position for a key switch, else the first; with
    loads on the last, if it turns on what somebody added.
    """
    positions: Mapping[str, object] = switch.ratings["positions"]
    like = LOADED.name if state.has_lamps and _is_for_lamps(switch, configuration) else ""
    like = like or state.switches or state.name
    named: str | None = configuration.switch_positions.get(like, {}).get(switch.role)
    if named is not None:
        return named
    if like == LOADED.name and _turns_on_what_was_added(switch):
        return tuple(positions)[-1]
    if switch.can(Capability.KEY):
        # without a start position the key stays in run while another switch cranks
        key = "run" if state.key == "start" and "start" not in positions else state.key
        if key in positions:
            return key
    return next(iter(positions))


def unnamed_switches(configuration: Configuration) -> tuple[tuple[Component, str], ...]:
    """Switches that no state names, each with the position that they have in all of them."""
    named = {role for of_state in configuration.switch_positions.values() for role in of_state}
    return tuple(
        (part, next(iter(part.ratings["positions"])))
        for part in configuration.components
        if part.ratings.get("positions")
        and part.role not in named
        and not part.can(Capability.KEY)
        and not _turns_on_what_was_added(part)
    )


def _turns_on_what_was_added(switch: Component) -> bool:
    """
    True for a switch of as-found notes that is left on: spot lamps, a radio, a fan.

    Nobody wrote down when it is on, and balance and fuses are judged with all on. A button, whose
    first position is no `off`, is pressed for a moment.
    """
    positions: Mapping[str, object] = switch.ratings["positions"]
    return switch.as_found and next(iter(positions)) == REST and not switch.can(Capability.KEY)


def _is_for_lamps(switch: Component, configuration: Configuration) -> bool:
    refs = (TerminalRef(switch.role, terminal.name) for terminal in switch.terminals)
    wires = (wire for ref in refs for wire in configuration.wires_at.get(ref, ()))
    return any(wire.circuit == LAMPS for wire in wires)
