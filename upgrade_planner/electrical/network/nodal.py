"""
The nodal equations of a network: indices for nodes, currents that leave them, conductances.

The unknowns are the voltages of all connected nodes but the reference, whose index is the last.
Remote-sensing regulators stand apart: they put a current in at one place for a voltage at another,
so that the conductance matrix stays symmetric.
"""

from collections.abc import Mapping, Sequence
from copy import copy
from typing import NamedTuple

from upgrade_planner.electrical.network.elements import (
    MeanSwitch,
    Regulated,
    Resistor,
    WireResistor,
)
from upgrade_planner.electrical.network.elimination import LinearSolver, solver_for
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
    slot: int  # of its conductance
    element: Element


class Remote(NamedTuple):
    """One remote-sensing regulator between indices."""

    plus: int
    minus: int
    sense_plus: int
    sense_minus: int
    element: Regulated

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


class NodalEquations:
    """
    The equations of one network.

    Attributes:
        network: The network; what is unconnected in it takes no part.
        index: Index of each connected node.
        size: Number of unknowns, and index of the reference.
        solver: Solves the equations made linear.
        resistors: Indices and conductance of each resistor. [S]
        curved: Branches other than resistors.
        remote: Regulators that sense elsewhere.
    """

    def __init__(self, network: Network) -> None:
        self.network = network
        nodes = [node for node in network.nodes[1:] if node not in network.unconnected]
        self.size = len(nodes)
        self.index: dict[Node, int] = {node: number for number, node in enumerate(nodes)}
        self.index[network.reference] = self.size
        self._edges: dict[tuple[int, int], int] = {}
        self._places: dict[str, tuple[int, int, int]] = {}
        self._islands: Joined | None = None
        self._admit_all()
        self.solver: LinearSolver = solver_for(self.size, tuple(self._edges))

    def altered(self, changed: Mapping[str, Element | None]) -> "NodalEquations":
        """
        The equations of this network `altered`, and `severed` where elements are taken out.

        Indices and solver stay. What is no longer connected rests at zero volts.
        """
        made = copy(self)
        made.network = self.network.altered(changed)
        if None in changed.values():
            made.network = made.network.severed()
            made._admit_all()
        else:
            made._islands = self.islands
            made.resistors, made._ohmic = [*self.resistors], [*self._ohmic]
            made.curved, made.remote = [*self.curved], [*self.remote]
            for name in changed.keys() & self._order.keys():
                made._replace(self._order[name], changed[name])
        return made

    def shorted(self, node: Node, resistance_ohm: float) -> "NodalEquations":
        """The equations with one more resistance, from a connected node to the reference."""
        made = copy(self)
        index, conductance_s = self.index[node], 1.0 / resistance_ohm
        made._islands = None
        made.resistors = [*self.resistors, (index, self.size, conductance_s)]
        made._ohmic = [*self._ohmic, (index, conductance_s)]
        return made

    def _replace(self, place: int, element: Element | None) -> None:
        """Takes an element at the same nodes instead of the one that was admitted there."""
        if isinstance(element, Resistor) and type(element) in PLAIN:
            conductance_s = 1.0 / element.resistance_ohm
            self.resistors[place] = (*self.resistors[place][:2], conductance_s)
            self._ohmic[place] = (self._ohmic[place][0], conductance_s)
        elif isinstance(element, Regulated) and element.is_remote:
            self.remote[place] = self.remote[place]._replace(element=element)
        elif element is not None:
            self.curved[place] = self.curved[place]._replace(element=element)

    @property
    def islands(self) -> Joined:
        """Indices that resistors join; kept for networks that are this one altered."""
        if self._islands is None:
            self._islands = Joined(self.size, ((a, b) for a, b, _ in self.resistors))
        return self._islands

    def _admit_all(self) -> None:
        self._islands = None
        self.resistors: list[tuple[int, int, float]] = []
        self.curved: list[IndexedElement] = []
        self.remote: list[Remote] = []
        self._ohmic: list[tuple[int, float]] = []
        self._order: dict[str, int] = {}
        unconnected = self.network.unconnected
        for element in self.network.elements:
            if not unconnected or self.network.is_connected(element):
                self._admit(element)

    def _admit(self, element: Element) -> None:
        # the commonest, and slower to tell by isinstance
        if isinstance(element, Resistor) and type(element) in PLAIN:
            a, b, slot = self._places.get(element.name) or self._placed(element)
            conductance_s = 1.0 / element.resistance_ohm
            self._order[element.name] = len(self.resistors)
            self.resistors.append((a, b, conductance_s))
            self._ohmic.append((slot, conductance_s))
        elif isinstance(element, Regulated) and element.is_remote:
            plus, minus = (self.index[node] for node in element.ends)
            self._order[element.name] = len(self.remote)
            self.remote.append(Remote(plus, minus, *self._sensing(element), element))
        else:
            place = self._places.get(element.name) or self._placed(element)
            self._order[element.name] = len(self.curved)
            self.curved.append(IndexedElement(*place, element))

    def _placed(self, element: Element) -> tuple[int, int, int]:
        """Indices and slot of a branch, kept for networks that are this one altered."""
        a, b = (self.index[node] for node in element.ends)
        place = self._places[element.name] = (a, b, self._slot(a, b))
        return place

    def _slot(self, a: int, b: int) -> int:
        """Of the conductance between two indices; to the reference it is the other's index."""
        low, high = (a, b) if a < b else (b, a)
        if high == self.size:
            return low
        return self._edges.setdefault((low, high), self.size + len(self._edges))

    def _sensing(self, element: Regulated) -> tuple[int, int]:
        leads = (element.sense_plus, element.sense_minus)
        if self.network.unconnected.intersection(leads):
            return self.size, self.size  # an open lead reads zero volts
        return self.index[leads[0]], self.index[leads[1]]

    def at(self, voltages: list[float]) -> WorkingPoint:
        """The point on all laws at given voltages."""
        leaving = self.leaving_resistors(voltages)
        slopes = []
        for a, b, _, element in self.curved:
            current_a, slope_s = element.law(voltages[a] - voltages[b])
            leaving[a] += current_a
            leaving[b] -= current_a
            slopes.append(slope_s)
        return WorkingPoint(voltages, slopes, leaving)

    def slopes(self, voltages: Sequence[float]) -> list[float]:
        """Slopes of the branches that are no resistors. [S]"""
        return [element.law(voltages[a] - voltages[b])[1] for a, b, _, element in self.curved]

    def at_start(self) -> WorkingPoint:
        """The lines a search begins with, seen from zero volts everywhere."""
        leaving = [0.0] * (self.size + 1)
        slopes = []
        for a, b, _, element in self.curved:
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
        values = [PULL_S] * self.size + [0.0] * len(self._edges)
        for slot, conductance_s in self._ohmic:
            values[slot] += conductance_s
        for branch, slope_s in zip(self.curved, slopes, strict=True):
            values[branch.slot] += slope_s
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
        for a, b, _, element in self.curved:
            size_a = abs(element.law(voltages[a] - voltages[b])[0])
            total[a] += size_a
            total[b] += size_a
        for remote, current_a in zip(self.remote, self.delivered(voltages), strict=True):
            total[remote.plus] += current_a
            total[remote.minus] += current_a
        return total
