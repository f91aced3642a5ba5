"""
A state solved again with something changed: what a remedy would do, before anybody cuts a wire.

The changed network keeps the wire temperatures of the operating point it starts from.
"""

from collections.abc import Callable, Iterable

from attrs import evolve

from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.electrical.circuit import wire_name
from upgrade_planner.electrical.models.context import node_of
from upgrade_planner.electrical.network.elements import Diode, Regulated, Resistor
from upgrade_planner.electrical.network.laws import Element
from upgrade_planner.electrical.network.loads import CurrentSink
from upgrade_planner.electrical.network.network import Network
from upgrade_planner.electrical.network.solving import Solution, solve
from upgrade_planner.electrical.network.unsolvable import NetworkError
from upgrade_planner.electrical.operating_points import OperatingPoint

DIODE_V = 0.7
"""Forward drop of a silicon diode. [V] Source: common practice."""

DIODE_OHM = 0.05
"""Slope of its conducting piece. [Ω] Source: our assumption."""


def solved_with(
    point: OperatingPoint,
    change: Callable[[Element], Iterable[Element]],
    *added: Element,
) -> Solution | None:
    """The network of a point with elements replaced and added; None if it has no solution."""
    network = point.solution.network
    elements = [new for element in network.elements for new in change(element)]
    try:
        tried = Network(network.reference, (*elements, *added))
        return solve(tried, point.solution.voltage_v)
    except NetworkError:
        return None


def live_in(solution: Solution, ref: TerminalRef, point: OperatingPoint) -> float | None:
    """Voltage of a terminal in such a solution, counted towards the live post. [V]"""
    volts = solution.voltage_v.get(node_of(ref))
    return None if volts is None else point.sign * volts


def with_diode_at(ref: TerminalRef, point: OperatingPoint) -> Solution | None:
    """A diode between a terminal and all wires at it, conducting towards the terminal."""
    node, feed = node_of(ref), f"{ref} behind the diode"
    wires = {wire_name(wire.id) for wire in point.configuration.wires_at.get(ref, ())}
    anode, cathode = (feed, node) if point.sign > 0 else (node, feed)
    diode = Diode("trial diode", anode, cathode, DIODE_V, DIODE_OHM)

    def change(element: Element) -> Iterable[Element]:
        if not isinstance(element, Resistor) or element.name not in wires:
            return (element,)
        return (evolve(element, a=feed) if element.a == node else evolve(element, b=feed),)

    return solved_with(point, change, diode) if wires else None


def with_unit_at_rest(role: str, resting_a: float, point: OperatingPoint) -> Solution | None:
    """An electronic unit that has stopped firing and draws its resting current only."""

    def change(element: Element) -> Iterable[Element]:
        if element.name == role and isinstance(element, CurrentSink):
            return (evolve(element, current_a=min(resting_a, element.current_a)),)
        return (element,)

    return solved_with(point, change)


def without(names: frozenset[str], point: OperatingPoint) -> Solution | None:
    """Some elements taken out."""
    return solved_with(point, lambda element: () if element.name in names else (element,))


def with_sensing_at(machine: str, node: str, point: OperatingPoint) -> Solution | None:
    """A regulated machine that senses at another node of its live side."""

    def change(element: Element) -> Iterable[Element]:
        if element.name != machine or not isinstance(element, Regulated):
            return (element,)
        if point.sign > 0:
            return (evolve(element, sense_plus=node),)
        return (evolve(element, sense_minus=node),)

    return solved_with(point, change)
