"""
Networks for dead shorts: one serves all shorts that the same closed contacts feed.

A short is one resistance more, from a node to what the network counts its voltages from; so the
network is made once, and each short differs in one conductance.
"""

from collections.abc import Iterable, Mapping
from functools import cached_property, lru_cache
from math import fsum, inf

from upgrade_planner.electrical.branches import Guard
from upgrade_planner.electrical.feed_ways import FeedWays
from upgrade_planner.electrical.network.elements import Diode, Resistor, Source
from upgrade_planner.electrical.network.laws import Element
from upgrade_planner.electrical.network.loads import CurrentSink, Lamp
from upgrade_planner.electrical.network.network import Network
from upgrade_planner.electrical.network.nodal import NodalEquations
from upgrade_planner.electrical.network.solving import solution_of, solve
from upgrade_planner.electrical.network.unsolvable import NetworkError

FAULT_OHM = 1e-3
"""Resistance of a dead short. [Ω] Source: our assumption."""

KEPT_NETWORKS = 500
"""Networks that are kept with their shorts: configurations of one job share most of their wires.
Our choice."""


class ShortedNetwork:
    """
    A network in which a node is shorted, now one and now another.

    Args:
        reference: Node that they are shorted to.
        elements: The network.
    """

    def __init__(self, reference: str, elements: tuple[Element, ...]) -> None:
        self._reference = reference
        self._elements = elements
        self._equations = NodalEquations(Network(reference, elements))
        self._known: dict[str, Mapping[str, float]] = {}

    def current_a(self, node: str) -> Mapping[str, float]:
        """
        Current of each element with a node shorted; none of those that get none.

        Raises:
            NetworkError: The network with the short cannot be solved.
        """
        if node not in self._known:
            self._known[node] = self._solved(node) if node in self._equations.index else {}
        return self._known[node]

    def _solved(self, node: str) -> Mapping[str, float]:
        if node != self._reference:
            try:
                solution = solution_of(self._equations.shorted(node, FAULT_OHM))
            except NetworkError:
                pass  # to be told of every element by its name
            else:
                return solution.current_a
        fault = Resistor("fault", node, self._reference, FAULT_OHM)
        return solve(Network(self._reference, (*self._elements, fault))).current_a


network_of_shorts = lru_cache(maxsize=KEPT_NETWORKS)(ShortedNetwork)
"""Equal parts of two wirings are solved once."""


class Shorts:
    """
    Dead shorts that the same closed contacts feed, to the same metal.

    Args:
        ways: The ways that battery current can take.
        closed: The contacts that are closed.
        back: Where the current returns.
    """

    def __init__(self, ways: FeedWays, closed: tuple[Element, ...], back: str) -> None:
        self._ways = ways
        self._closed = closed
        self._back = back
        self._nodes: dict[str, None] = {}

    def include(self, node: str) -> None:
        """Says before the first question that a node will be asked for."""
        self._nodes[node] = None

    def current_a(self, node: str) -> Mapping[str, float]:
        """As at `ShortedNetwork`."""
        return self._network.current_a(node)

    def least_a(self, names: Iterable[str]) -> float:
        """
        What a short gets at the least by a way of conductors, without solving it. [A]

        The loads draw no more than `drawn_a`, and by superposition change no current of the network
        by more. Without them one way there and back is all that a short needs: other conductors
        beside it only add to its current.

        Args:
            names: Elements of the way, the shorted wire among them.

        Returns:
            The current; 0 if nothing is sure.
        """
        sources = [e for e in self._elements.values() if isinstance(e, Source)]
        series = [self._ohms.get(name) for name in (*names, *self._way_back)]
        if len(sources) != 1 or None in series:
            return 0.0
        ohms = fsum((FAULT_OHM, sources[0].resistance_ohm, *filter(None, series)))
        return max(sources[0].emf_v / ohms - self.drawn_a, 0.0)

    @cached_property
    def drawn_a(self) -> float:
        """What all loads together would draw at the whole voltage of the battery. [A]"""
        volts = self._ways.emf_v
        loads = [e for e in self._elements.values() if e.name not in self._ohms]
        drawn = [e for e in loads if not isinstance(e, Source)]
        if not all(isinstance(e, Resistor | Lamp | CurrentSink | Diode) for e in drawn):
            return inf
        return fsum(max(abs(e.law(v)[0]) for v in (volts, -volts)) for e in drawn)

    @cached_property
    def _ohms(self) -> Mapping[str, float]:
        """Resistance of each conductor by its name. [Ω]"""
        loads = {branch.name for branch in self._ways.branches if branch.guard is Guard.LOAD}
        resistors = [e for e in self._elements.values() if isinstance(e, Resistor)]
        return {e.name: e.resistance_ohm for e in resistors if e.name not in loads}

    @cached_property
    def _way_back(self) -> tuple[str, ...]:
        """Elements from the metal to the battery."""
        way = self._ways.way(self._ways.reference, self._back, through_metal=True)
        return ("no way",) if way is None else tuple(branch.name for branch in way)

    @cached_property
    def _network(self) -> ShortedNetwork:
        return network_of_shorts(self._back, tuple(self._elements.values()))

    @cached_property
    def _elements(self) -> Mapping[str, Element]:
        """What the current of one of the shorts can reach."""
        between = self._ways.blocks.between
        passed = (between(node, self._back, self._closed) for node in self._nodes)
        return {element.name: element for elements in passed for element in elements}
