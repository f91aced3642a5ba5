"""
Solves a network: voltages of its nodes, currents of its elements, the piece each law is on.
"""

from collections.abc import Container, Iterable, Mapping, Sequence
from functools import cached_property

from upgrade_planner.attributes import frozen
from upgrade_planner.electrical.network.bracketing import enclosed
from upgrade_planner.electrical.network.elements import Regulated, Resistor
from upgrade_planner.electrical.network.equations import Equations
from upgrade_planner.electrical.network.laws import Element, LawPiece, Node
from upgrade_planner.electrical.network.line_search import BALANCE_A, Found, Search
from upgrade_planner.electrical.network.loads import PowerSink
from upgrade_planner.electrical.network.network import Network
from upgrade_planner.electrical.network.nodal import NodalEquations
from upgrade_planner.electrical.network.row_ends import Rows
from upgrade_planner.electrical.network.unsolvable import NotSolved

# A load of constant power with less voltage than this counts as dead, not as starved. [V]
DEAD_V = 0.01


@frozen
class Solution:
    """
    What a network does.

    Attributes:
        network: The network.
        voltage_v: Of each connected node against the reference, in the network's order. [V]
        loose: Nodes that only blocking elements hold; their voltage is what a meter of very high
            resistance would read against the reference.
        steps: Number of steps of the search that succeeded.
    """

    network: Network
    voltage_v: Mapping[Node, float]
    loose: tuple[Node, ...]
    steps: int

    @cached_property
    def current_a(self) -> Mapping[str, float]:
        """Of each element, from its first end to its second; 0 where unconnected. [A]"""
        return _current_a(self.network, self.network.elements, self.voltage_v)

    @cached_property
    def piece(self) -> Mapping[str, LawPiece]:
        """Piece of the law each element is on; for a regulator, what it does."""
        return {e.name: e.piece(self.governing_v[e.name]) for e in self.network.elements}

    @cached_property
    def residual_a(self) -> float:
        """Largest current that does not balance at a node. [A]"""
        return max(map(abs, _excess_a(self.network, self.current_a).values()))

    def sum_a(self, names: Container[str]) -> float:
        """Sum of the currents of some elements, each from its first end to its second. [A]"""
        named = [element for element in self.network.elements if element.name in names]
        return sum(_current_a(self.network, named, self.voltage_v).values())

    @cached_property
    def governing_v(self) -> Mapping[str, float]:
        """The voltage that each element's law depends on; 0 if a node of it has none. [V]"""
        return _governing_v(self.network.elements, self.voltage_v)

    @property
    def unconnected(self) -> frozenset[Node]:
        """Nodes that nothing joins to the reference; they have no voltage."""
        return self.network.unconnected

    def across_v(self, a: Node, b: Node) -> float | None:
        """Voltage of one node against another; None if one of them is unconnected. [V]"""
        if a in self.unconnected or b in self.unconnected:
            return None
        return self.voltage_v[a] - self.voltage_v[b]


def solve(network: Network, guess: Mapping[Node, float] | None = None) -> Solution:
    """
    Find voltages at which the currents balance at every node.

    The result does not depend on the guess: where an element of constant power might work at two
    voltages, or regulators at each other's cost, it is the one found without a guess.

    Args:
        network: The network.
        guess: Voltages to begin with, such as those of an earlier solution; nodes that it does
            not name begin at zero. [V]

    Returns:
        Voltages, currents and pieces.

    Raises:
        NotSolved: No such voltages were found.
    """
    return solution_of(NodalEquations(network), guess)


def solution_of(equations: NodalEquations, guess: Mapping[Node, float] | None = None) -> Solution:
    """`solve`, for a network whose equations there are already."""
    found = _in_few_nodes(equations, guess) or _searched(equations)
    if not found.is_balanced:
        raise _failure(equations, found)
    return _solution(equations, found)


def _in_few_nodes(equations: NodalEquations, guess: Mapping[Node, float] | None) -> Found | None:
    """What is found where rows of resistors are one; None unless it balances in all nodes."""
    rows = Rows(equations, equations.row_plan)
    few = _from_guess(rows, equations, guess) if guess else None
    few = few or _searched(rows.ends)
    if not few.is_balanced:
        return None
    found, search = rows.in_all(few), Search(equations)
    if not search.balances_at(found.voltages):  # by rounding
        found = search.from_voltages(found.voltages)
    return found if found.is_balanced else None


def _searched(equations: Equations) -> Found:
    """What a search without a guess finds, or what it comes to."""
    found = Search(equations).from_lines()
    if found.is_balanced or not equations.remote:
        return found
    near = enclosed(equations)
    return Search(equations).from_voltages(near.voltages) if near else found


def _from_guess(rows: Rows, equations: NodalEquations, guess: Mapping[Node, float]) -> Found | None:
    """What a guess leads to; None unless it is sure that no other start leads elsewhere."""
    if len(equations.remote) > 1:
        return None
    zero_v = guess.get(equations.network.reference, 0.0)
    voltages = [guess.get(node, zero_v) - zero_v for node in equations.index]
    found = Search(rows.ends).from_voltages(rows.at_ends(voltages))
    is_sure = found.is_balanced and found.is_stable and not _has_starved(rows.ends, found.voltages)
    return found if is_sure else None


def _has_starved(equations: Equations, voltages: Sequence[float]) -> bool:
    return any(
        element.piece(voltages[a] - voltages[b]) is not LawPiece.CONSTANT
        and abs(voltages[a] - voltages[b]) > DEAD_V
        for a, b, element in equations.curved
        if isinstance(element, PowerSink)
    )


def _solution(equations: NodalEquations, found: Found) -> Solution:
    return solution_at(equations, equations.network, found.voltages, found.loose, found.steps)


def solution_at(
    equations: NodalEquations,
    network: Network,
    voltages: Sequence[float],
    loose: Iterable[int],
    steps: int,
) -> Solution:
    """The solution of a network that has the nodes of some equations, from voltages of indices."""
    adrift = frozenset(loose)
    voltage_v = dict(zip(equations.index, voltages, strict=True))
    for node in network.unconnected:
        voltage_v.pop(node, None)
    return Solution(
        network,
        voltage_v,
        tuple(node for node in voltage_v if equations.index[node] in adrift) if adrift else (),
        steps,
    )


def _governing_v(elements: Iterable[Element], voltage_v: Mapping[Node, float]) -> dict[str, float]:
    """The voltage each element's law depends on; 0 if a node of it has none. [V]"""
    governing_v = {}
    for element in elements:
        a, b = element.ends
        if isinstance(element, Regulated):
            a, b = element.sense_plus, element.sense_minus
        has_voltage = a in voltage_v and b in voltage_v
        governing_v[element.name] = voltage_v[a] - voltage_v[b] if has_voltage else 0.0
    return governing_v


def _current_a(
    network: Network, elements: Iterable[Element], voltage_v: Mapping[Node, float]
) -> dict[str, float]:
    """Current of some elements; 0 where unconnected. [A]"""
    current_a, curved = {}, []
    for element in elements:
        current_a[element.name] = 0.0
        if not isinstance(element, Resistor):
            curved.append(element)
        elif element.a in voltage_v:
            across_v = voltage_v[element.a] - voltage_v[element.b]
            current_a[element.name] = across_v / element.resistance_ohm
    governing_v = _governing_v(curved, voltage_v)
    for element in filter(network.is_connected, curved):
        current_a[element.name] = element.law(governing_v[element.name])[0]
    return current_a


def _excess_a(network: Network, current_a: Mapping[str, float]) -> dict[Node, float]:
    """Current that leaves each node more than enters it. [A]"""
    excess: dict[Node, float] = dict.fromkeys(network.nodes, 0.0)
    for element in network.elements:
        first, second = element.ends
        excess[first] += current_a[element.name]
        excess[second] -= current_a[element.name]
    return excess


def _failure(equations: NodalEquations, found: Found) -> NotSolved:
    network = equations.network
    passed = [dict(zip(equations.index, voltages, strict=True)) for voltages in found.trail]
    excess_a = _excess_a(network, _current_a(network, network.elements, passed[-1]))
    del excess_a[network.reference]
    worst = sorted(excess_a, key=lambda node: -abs(excess_a[node]))
    nodes = [node for node in worst if abs(excess_a[node]) > BALANCE_A] or worst[:1]
    trail = [_governing_v(network.elements, voltage_v) for voltage_v in passed]
    names = {*_unsettled(network, trail), *_touching(network, nodes)}
    return NotSolved(names, nodes, abs(excess_a[nodes[0]]))


def _unsettled(network: Network, trail: Sequence[Mapping[str, float]]) -> list[str]:
    """Elements that were on more than one piece of their law in the last steps."""
    return [
        element.name
        for element in network.elements
        if len({element.piece(governing_v[element.name]) for governing_v in trail}) > 1
    ]


def _touching(network: Network, nodes: Sequence[Node]) -> list[str]:
    return [
        element.name
        for element in network.elements
        if network.is_connected(element) and set(element.ends) & set(nodes)
    ]
