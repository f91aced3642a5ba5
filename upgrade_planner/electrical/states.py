"""
Operating states: key, engine and loads, in which the wiring is computed.

A vehicle profile may set switches per state (`[states.loaded]`); a switch that no state names is in
its first position, which is its position of rest.
"""

from collections.abc import Mapping
from enum import StrEnum

from attrs import frozen

from upgrade_planner.configuration.kinds import Capability
from upgrade_planner.configuration.model import Component, Configuration


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
    """

    name: str
    title: str
    key: str
    engine: Engine


OFF = State("off", "key off, engine stopped", "off", Engine.STOPPED)
KEY_ON = State("key_on", "key on, engine stopped", "run", Engine.STOPPED)
CRANKING = State("cranking", "cranking", "start", Engine.CRANKING)
IDLING = State("idling", "idling, loads off", "run", Engine.IDLING)
LOADED = State("loaded", "running, loads on", "run", Engine.RUNNING)
COASTING = State("coasting", "key off, engine still turning", "off", Engine.COASTING)

STATES = (OFF, KEY_ON, CRANKING, IDLING, LOADED, COASTING)


def position_of(switch: Component, state: State, configuration: Configuration) -> str:
    """
    The position of a switch or key switch in a state.

    Named by the vehicle's `[states]`, else the key position for a key switch, else the first.
    """
    positions: Mapping[str, object] = switch.ratings["positions"]
    named: str | None = configuration.switch_positions.get(state.name, {}).get(switch.role)
    if named is not None:
        return named
    if switch.can(Capability.KEY):
        # without a start position the key stays in run while another switch cranks
        key = "run" if state.key == "start" and "start" not in positions else state.key
        if key in positions:
            return key
    return next(iter(positions))
