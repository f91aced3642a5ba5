"""What is lost on the way from the output of alternator or dynamo to the battery."""

from upgrade_planner.configuration.kinds import TerminalUse
from upgrade_planner.configuration.model import Component, Configuration, TerminalRef, Wire
from upgrade_planner.electrical.circuit import wire_ohms
from upgrade_planner.electrical.operating_points import OperatingPoint

WORKING_C = 60.0
"""Temperature of wires for a drop at rated output. [°C] Source: our assumption."""


def output_of(machine: Component) -> TerminalRef:
    """The terminal at which a machine delivers its output."""
    return TerminalRef(machine.role, machine.terminal_as(TerminalUse.OUTPUT) or TerminalUse.OUTPUT)


def rated_drop_v(wire: Wire, machine: Component, configuration: Configuration) -> float:
    """Drop of a wire with its joints at the rated output of a machine. [V]"""
    amps = float(machine.ratings["rated_output"])
    return amps * wire_ohms(wire, configuration, WORKING_C)


def drop_in(point: OperatingPoint, machine: Component) -> float | None:
    """
    From a machine's output to the battery's live post in one state. [V]

    None if nothing joins the output to the battery.
    """
    output_v = point.live_v(output_of(machine))
    return None if output_v is None else output_v - point.battery_v
