"""
Solves a network: voltages of its nodes, currents of its elements, the piece each law is on.
"""

from collections.abc import Mapping, Sequence

from attrs import frozen

from upgrade_planner.electrical.network.bracketing import enclosed
from upgrade_planner.electrical.network.elements import Regulated
from upgrade_planner.electrical.network.errors import NotSolved
from upgrade_planner.electrical.network.laws import Element, Node, Piece
from upgrade_planner.electrical.network.loads import PowerSink
from upgrade_planner.electrical.network.loose import Settled, settled
from upgrade_planner.electrical.network.network import Network
from upgrade_planner.electrical.network.nodal import NodalEquations
from upgrade_planner.electrical.network.search import BALANCE_A, BALANCE_RATIO

# A load of constant power with less voltage than this counts as dead, not as starved. [V]
DEAD_V = 0.01


@frozen
class Solution:
    """
    What a network does.

    Attributes:
        network: The network.
        voltage_v: Of each connected node against the reference, in the network's order. [V]
        current_a: Of each element, from its first end to its second; 0 where unconnected. [A]
        piece: Piece of the law each element is on; for a regulator, what it does.
        loose: Nodes that only blocking elements hold; their voltage is what a meter of very high
            resistance would read against the reference.
        residual_a: Largest current that does not balance at a node. [A]
        steps: Number of steps of the search that succeeded.
    """

    network: Network
    voltage_v: Mapping[Node, float]
    current_a: Mapping[str, float]
    piece: Mapping[str, Piece]
    loose: tuple[Node, ...]
    residual_a: float
    steps: int

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
    equations = NodalEquations(network)
    outcome = _from_guess(equations, guess) if guess else None
    if outcome is None:
        outcome = settled(equations)
    if not outcome.found.is_balanced and equations.remote:
        outcome = _by_enclosing(equations) or outcome
    if not outcome.found.is_balanced:
        raise _failure(network, equations, outcome)
    return _solution(network, equations, outcome)


def _from_guess(equations: NodalEquations, guess: Mapping[Node, float]) -> Settled | None:
    """What a guess leads to; None unless it is sure that no other start leads elsewhere."""
    if len(equations.remote) > 1:
        return None
    voltages = [0.0] * (equations.size + 1)
    for node, index in equations.index.items():
        voltages[index] = guess.get(node, 0.0) - guess.get(equations.reference, 0.0)
    outcome = settled(equations, voltages)
    is_sure = outcome.found.is_balanced and outcome.found.is_stable
    return outcome if is_sure and not _has_starved(equations, outcome.found.voltages) else None


def _has_starved(equations: NodalEquations, voltages: Sequence[float]) -> bool:
    return any(
        element.piece(voltages[a] - voltages[b]) is not Piece.CONSTANT
        and abs(voltages[a] - voltages[b]) > DEAD_V
        for a, b, _, element in equations.curved
        if isinstance(element, PowerSink)
    )


def _by_enclosing(equations: NodalEquations) -> Settled | None:
    near = enclosed(equations)
    if near is None:
        return None
    return settled(equations, near.found.voltages)


def _solution(network: Network, equations: NodalEquations, outcome: Settled) -> Solution:
    found = outcome.found
    voltage_v = {node: found.voltages[i] for node, i in equations.index.items()}
    governing = {e.name: _governing_v(e, voltage_v) for e in network.elements}
    current_a = {e.name: _current_a(e, governing[e.name], network) for e in network.elements}
    piece = {e.name: e.piece(governing[e.name]) for e in network.elements}
    node_at = {index: node for node, index in equations.index.items()}
    loose = tuple(node_at[index] for index in outcome.loose)
    excess_a = _excess_a(network, current_a)
    residual_a = max(map(abs, excess_a.values()))
    return Solution(network, voltage_v, current_a, piece, loose, residual_a, found.steps)


def _governing_v(element: Element, voltage_v: Mapping[Node, float]) -> float:
    """The voltage an element's law depends on; 0 if a node of it has none. [V]"""
    if isinstance(element, Regulated):
        a, b = element.sense_plus, element.sense_minus
    else:
        a, b = element.ends
    return voltage_v[a] - voltage_v[b] if a in voltage_v and b in voltage_v else 0.0


def _current_a(element: Element, governing_v: float, network: Network) -> float:
    if not network.is_connected(element):
        return 0.0
    return element.law(governing_v)[0]


def _excess_a(network: Network, current_a: Mapping[str, float]) -> dict[Node, float]:
    """Current that leaves each node more than enters it. [A]"""
    excess: dict[Node, float] = dict.fromkeys(network.nodes, 0.0)
    for element in network.elements:
        first, second = element.ends
        excess[first] += current_a[element.name]
        excess[second] -= current_a[element.name]
    return excess


def _failure(network: Network, equations: NodalEquations, outcome: Settled) -> NotSolved:
    trail = [
        {node: voltages[index] for node, index in equations.index.items()}
        for voltages in outcome.found.trail
    ]
    current_a = {
        e.name: _current_a(e, _governing_v(e, trail[-1]), network) for e in network.elements
    }
    excess_a = _excess_a(network, current_a)
    del excess_a[network.reference]
    worst = sorted(excess_a, key=lambda node: -abs(excess_a[node]))
    nodes = [node for node in worst if abs(excess_a[node]) > BALANCE_A] or worst[:1]
    unsettled = _unsettled(network, trail) if outcome.found.is_held else []
    names = unsettled or _touching(network, nodes)
    return NotSolved(names, nodes, abs(excess_a[nodes[0]]))


def _unsettled(network: Network, trail: Sequence[Mapping[Node, float]]) -> list[str]:
    """Elements that were on more than one piece of their law in the last steps."""
    return [
        element.name
        for element in network.elements
        if len({element.piece(_governing_v(element, voltages)) for voltages in trail}) > 1
    ]


def _touching(network: Network, nodes: Sequence[Node]) -> list[str]:
    return [
        element.name
        for element in network.elements
        if network.is_connected(element) and set(element.ends) & set(nodes)
    ]
