"""Single failures on request: the same wiring with one wire open."""

from attrs import evolve

from upgrade_planner.configuration.files.faults import one_of
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.errors import PlannerError


class UnknownWire(PlannerError):
    """A wire was named that the configuration does not have."""


def with_open_wire(configuration: Configuration, wire_id: str) -> Configuration:
    """
    The configuration with one wire open: broken, or off its terminal.

    Raises:
        UnknownWire: no wire of that id; the message gives the nearest.
    """
    if wire_id not in configuration.wire_by_id:
        expected = one_of(wire_id, configuration.wire_by_id)
        raise UnknownWire(f"--open: found no wire '{wire_id}'; expected {expected}")
    wires = tuple(wire for wire in configuration.wires if wire.id != wire_id)
    title = f"{configuration.title}, with {wire_id} open"
    return evolve(configuration, wires=wires, title=title)
