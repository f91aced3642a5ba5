"""
Networks for dead shorts: one serves all shorts that the same closed contacts feed.

A short is one resistance more, from a node to what the network counts its voltages from; so the
network is made once, and each short differs in one conductance.
"""

from collections.abc import Mapping
from functools import cached_property, lru_cache

from upgrade_planner.electrical.feed_ways import FeedWays
from upgrade_planner.electrical.network.blocks import Blocks
from upgrade_planner.electrical.network.elements import Resistor
from upgrade_planner.electrical.network.laws import Element
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
        nodes: Those that may be shorted.
    """

    def __init__(
        self, reference: str, elements: tuple[Element, ...], nodes: tuple[str, ...]
    ) -> None:
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

    @cached_property
    def _network(self) -> ShortedNetwork:
        passed = {element.name: element for node in self._nodes for element in self._passed(node)}
        return network_of_shorts(self._back, tuple(passed.values()), tuple(self._nodes))

    def _passed(self, node: str) -> tuple[Element, ...]:
        """What the current of a short can reach."""
        passed = self._ways.blocks.between(node, self._back, self._closed)
        return (self._blocks.between(node, self._back) if passed is None else passed) or ()

    @cached_property
    def _blocks(self) -> Blocks:
        """The blocks where a closed contact joins what would not be joined without it."""
        return Blocks((*self._ways.elements, *self._closed), self._ways.reference)
