"""
The nodal equations of a network: indices for nodes, currents that leave them, conductances.

The unknowns are the voltages of all connected nodes but the reference, whose index is the last.
Remote-sensing regulators stand apart: they put a current in at one place for a voltage at another,
so that the conductance matrix stays symmetric.
"""

from collections.abc import Mapping, Sequence
from copy import copy
from functools import cached_property
from itertools import chain
from typing import NamedTuple

from upgrade_planner.electrical.network.elements import (
    MeanSwitch,
    Regulated,
    Resistor,
    WireResistor,
)
from upgrade_planner.electrical.network.elimination import Edge, LinearSolver, solver_for
from upgrade_planner.electrical.network.joined import Joined
from upgrade_planner.electrical.network.laws import Element, Node
from upgrade_planner.electrical.network.network import Network

PLAIN = frozenset((Resistor, WireResistor, MeanSwitch))
"""Elements that are nothing but a resistance."""

# Conductance to the reference that keeps a matrix regular where blocking elements alone hold a
# node. It pulls on such nodes only, with 0.014 nA at 14 V: less than the balance allows.
# Source: our assumption. [S]
PULL_S = 1e-12


class IndexedElement(NamedTuple):
    """One element between two indices."""

    a: int
    b: int
    element: Element


class Remote(NamedTuple):
    """One remote-sensing regulator between indices."""

    plus: int
    minus: int
    sense_plus: int
    sense_minus: int
    element: Regulated

    def at(self, number: Mapping[int, int]) -> "Remote":
        """The same between indices of other numbers."""
        plus, minus, sense_plus, sense_minus, element = self
        ends = number[plus], number[minus], number[sense_plus], number[sense_minus]
        return Remote(*ends, element)

    def sensed_v(self, voltages: Sequence[float]) -> float:
        """Voltage between the sensing leads. [V]"""
        return voltages[self.sense_plus] - voltages[self.sense_minus]


class WorkingPoint(NamedTuple):
    """
    Voltages, and what the elements say to them.

    Attributes:
        voltages: Of all indices, the reference last. [V]
        slopes: Of the branches that are no resistors. [S]
        leaving: Current that leaves each index through branches. [A]
    """

    voltages: list[float]
    slopes: list[float]
    leaving: list[float]


class Equations:
    """
    Equations of nodes known by their indices.

    Attributes:
        size: Number of unknowns, and index of the reference.
        resistors: Indices and conductance of each resistor. [S]
        curved: Branches other than resistors.
        remote: Regulators that sense elsewhere.
    """

    size: int
    resistors: list[tuple[int, int, float]]
    curved: list[IndexedElement]
    remote: list[Remote]

    @cached_property
    def islands(self) -> Joined:
        """Indices that resistors join."""
        return Joined(self.size, ((a, b) for a, b, _ in self.resistors))

    @cached_property
    def solver(self) -> LinearSolver:
        """Solves the equations made linear."""
        return solver_for(self.size, self._slots[1])

    @cached_property
    def _slots(self) -> tuple[list[int], tuple[Edge, ...]]:
        """
        Slot of each conductance, of resistors first, and the pairs of indices that have one.

        To the reference it is the other's index.
        """
        size, slots, edges = self.size, list[int](), dict[Edge, int]()
        for a, b, _ in chain[tuple[int, int, object]](self.resistors, self.curved):
            low, high = (a, b) if a < b else (b, a)
            if high < size:
                low = edges.setdefault((low, high), size + len(edges))
            slots.append(low)
        return slots, tuple(edges)

    def at(self, voltages: list[float]) -> WorkingPoint:
        """The point on all laws at given voltages."""
        leaving = self.leaving_resistors(voltages)
        slopes = []
        for a, b, element in self.curved:
            current_a, slope_s = element.law(voltages[a] - voltages[b])
            leaving[a] += current_a
            leaving[b] -= current_a
            slopes.append(slope_s)
        return WorkingPoint(voltages, slopes, leaving)

    def slopes(self, voltages: Sequence[float]) -> list[float]:
        """Slopes of the branches that are no resistors. [S]"""
        return [element.law(voltages[a] - voltages[b])[1] for a, b, element in self.curved]

    def at_start(self) -> WorkingPoint:
        """The lines a search begins with, seen from zero volts everywhere."""
        leaving = [0.0] * (self.size + 1)
        slopes = []
        for a, b, element in self.curved:
            current_a, slope_s = element.start_line
            leaving[a] += current_a
            leaving[b] -= current_a
            slopes.append(slope_s)
        return WorkingPoint([0.0] * (self.size + 1), slopes, leaving)

    def leaving_resistors(self, voltages: Sequence[float]) -> list[float]:
        """Current that leaves each index through resistors. [A]"""
        leaving = [0.0] * (self.size + 1)
        for a, b, conductance_s in self.resistors:
            current_a = conductance_s * (voltages[a] - voltages[b])
            leaving[a] += current_a
            leaving[b] -= current_a
        return leaving

    def conductances(self, slopes: Sequence[float]) -> list[float]:
        """Conductances of all slots, in the order of the solver. [S]"""
        slots, edges = self._slots
        values = [PULL_S] * self.size + [0.0] * len(edges)
        for slot, (_, _, conductance_s) in zip(slots, self.resistors, strict=False):
            values[slot] += conductance_s
        for slot, slope_s in zip(slots[len(self.resistors) :], slopes, strict=True):
            values[slot] += slope_s
        return values

    def delivered(self, voltages: Sequence[float]) -> list[float]:
        """Current that each remote regulator delivers at given voltages. [A]"""
        return [remote.element.delivered_a(remote.sensed_v(voltages)) for remote in self.remote]

    def ampere_of(self, remote: Remote) -> list[float]:
        """One ampere of a remote regulator, as currents into all indices. [A]"""
        injected = [0.0] * (self.size + 1)
        injected[remote.plus] += 1.0
        injected[remote.minus] -= 1.0
        return injected

    def through(self, voltages: Sequence[float]) -> list[float]:
        """Sum of the sizes of all currents at each index, for judging a balance. [A]"""
        total = [0.0] * (self.size + 1)
        for a, b, conductance_s in self.resistors:
            size_a = abs(conductance_s * (voltages[a] - voltages[b]))
            total[a] += size_a
            total[b] += size_a
        for a, b, element in self.curved:
            size_a = abs(element.law(voltages[a] - voltages[b])[0])
            total[a] += size_a
            total[b] += size_a
        for remote, current_a in zip(self.remote, self.delivered(voltages), strict=True):
            total[remote.plus] += current_a
            total[remote.minus] += current_a
        return total


class NodalEquations(Equations):
    """
    The equations of one network.

    Attributes:
        network: The network; what is unconnected in it takes no part.
        index: Index of each connected node.

    Args:
        network: The network.
        index: Of an earlier network of these nodes; those that are no longer connected rest at
            zero volts.
    """

    def __init__(self, network: Network, index: Mapping[Node, int] | None = None) -> None:
        self.network = network
        if index is None:
            nodes = [node for node in network.nodes[1:] if node not in network.unconnected]
            index = {node: number for number, node in enumerate((*nodes, network.reference))}
        self.index = index
        self.size = len(index) - 1
        self.resistors, self.curved, self.remote = [], [], []
        self._order: dict[str, int] = {}
        for element in network.elements:
            first, second = element.ends
            if first not in network.unconnected:
                self._admit(element, index[first], index[second])

    def altered(self, changed: Mapping[str, Element | None]) -> "NodalEquations":
        """
        The equations of this network `altered`, and `severed` where elements are taken out.

        The indices stay.
        """
        network = self.network.altered(changed)
        if None in changed.values():
            return NodalEquations(network.severed(), self.index)
        made = copy(self)
        made.network = network
        made.resistors, made.curved = [*self.resistors], [*self.curved]
        made.remote = [*self.remote]
        for name in changed.keys() & self._order.keys():
            made._replace(self._order[name], changed[name])
        return made

    def shorted(self, node: Node, resistance_ohm: float) -> "NodalEquations":
        """The equations with one more resistance, from a connected node to the reference."""
        made = copy(self)
        for of_resistors in ("islands", "solver", "_slots"):
            vars(made).pop(of_resistors, None)
        made.resistors = [*self.resistors, (self.index[node], self.size, 1.0 / resistance_ohm)]
        return made

    def _replace(self, place: int, element: Element | None) -> None:
        """Takes an element at the same nodes instead of the one that was admitted there."""
        if isinstance(element, Resistor) and type(element) in PLAIN:
            self.resistors[place] = (*self.resistors[place][:2], 1.0 / element.resistance_ohm)
        elif isinstance(element, Regulated) and element.is_remote:
            self.remote[place] = self.remote[place]._replace(element=element)
        elif element is not None:
            self.curved[place] = self.curved[place]._replace(element=element)

    def _admit(self, element: Element, a: int, b: int) -> None:
        # the commonest, and slower to tell by isinstance
        if isinstance(element, Resistor) and type(element) in PLAIN:
            self._order[element.name] = len(self.resistors)
            self.resistors.append((a, b, 1.0 / element.resistance_ohm))
        elif isinstance(element, Regulated) and element.is_remote:
            self._order[element.name] = len(self.remote)
            self.remote.append(Remote(a, b, *self._sensing(element), element))
        else:
            self._order[element.name] = len(self.curved)
            self.curved.append(IndexedElement(a, b, element))

    def _sensing(self, element: Regulated) -> tuple[int, int]:
        leads = (element.sense_plus, element.sense_minus)
        if self.network.unconnected.intersection(leads):
            return self.size, self.size  # an open lead reads zero volts
        return self.index[leads[0]], self.index[leads[1]]
