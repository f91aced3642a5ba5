"""
A network as a few of its nodes see it: resistances in a row are one, and spurs are left out.

One current passes all that is in a row, and none what hangs on by a single node: the nodes that are
left have the same voltages, whatever the resistances are. Wiring is nearly all rows, so that less
than half of the nodes are left.
"""

from collections.abc import Collection, Iterable

from upgrade_planner.electrical.network.elements import Regulated, Resistor
from upgrade_planner.electrical.network.laws import Element, Node
from upgrade_planner.electrical.network.network import Network
from upgrade_planner.electrical.network.nodal import PLAIN
from upgrade_planner.electrical.network.solving import Solution
from upgrade_planner.electrical.network.varying import Changed, Variations


class _Row:
    """
    Resistors in a row.

    Attributes:
        ends: The nodes at its ends.
        members: The resistors.
        name: That of the first; "" if there is none.
    """

    def __init__(self, ends: tuple[Node, Node], members: tuple[Resistor, ...]) -> None:
        self.ends = ends
        self.members = members
        self.name = members[0].name if members else ""

    def far(self, node: Node) -> Node:
        """The other end."""
        one, other = self.ends
        return other if node == one else one

    def resistor(self, changed: Changed) -> Resistor | None:
        """The row as one resistor, with some elements changed; None if one is taken out."""
        ohms = 0.0
        for member in self.members:
            element = changed.get(member.name, member)
            if not isinstance(element, Resistor):
                return None
            ohms += element.resistance_ohm
        return Resistor(self.name, *self.ends, ohms)


LEFT_OUT = _Row(("", ""), ())
"""The row of what no current passes."""


class Watched:
    """
    A solved network with elements changed, as some nodes see it.

    Args:
        base: The solved network.
        nodes: Those whose voltage matters; all others may be missing in what is solved.
        names: Of elements whose current matters.
    """

    def __init__(
        self, base: Solution, nodes: Collection[Node], names: Collection[str] = ()
    ) -> None:
        self.base = base
        self.nodes = nodes
        self._elements = {element.name: element for element in base.network.elements}
        single = [e for e in base.network.elements if type(e) not in PLAIN or e.name in names]
        rows = _rows(base.network, nodes, single)
        self._row_of: dict[str, _Row | None] = dict.fromkeys(element.name for element in single)
        self._row_of |= {member.name: row for row in rows for member in row.members}
        resistors = filter(None, (row.resistor({}) for row in rows))
        self.network = Network(base.network.reference, (*single, *resistors))
        self._variations = Variations(_restricted(base, self.network))

    def element(self, name: str) -> Element:
        """The element of that name before any change."""
        return self._elements[name]

    def seen_as(self, name: str) -> str:
        """Element of the condensed network that stands for one; "" if it is left out."""
        row = self._row_of.get(name, LEFT_OUT)
        return name if row is None else row.name

    def solved(self, changed: Changed) -> Solution | None:
        """
        The network with some elements changed.

        Args:
            changed: The elements.

        Returns:
            The condensed network solved; the base itself where none of the changes is felt, and
            None where there is no solution. See `Variations.solved`.
        """
        seen: dict[str, Element | None] = {}
        for name, element in changed.items():
            row = self._row_of.get(name, LEFT_OUT)
            if row is None:
                seen[name] = element
            elif row.name and row.name not in seen:
                seen[row.name] = row.resistor(changed)
        found = self._variations.solved(seen)
        return self.base if found is self._variations.base else found


def _rows(network: Network, nodes: Iterable[Node], single: Iterable[Element]) -> list[_Row]:
    """What is left of the resistors that do not stay single, if only some nodes matter."""
    held = {network.reference, *nodes}
    for element in single:
        held.update(element.ends)
        if isinstance(element, Regulated):
            held.update((element.sense_plus, element.sense_minus))
    touching = _touching(network, {element.name for element in single})
    waiting = [node for node in touching if node not in held]
    while waiting:
        node = waiting.pop()
        if len(touching.get(node, ())) in (1, 2):
            waiting += [end for end in _taken_out(node, touching) if end not in held]
    return list(dict.fromkeys(row for rows in touching.values() for row in rows))


def _touching(network: Network, single: Collection[str]) -> dict[Node, list[_Row]]:
    """Each resistor as a row of its own, at both of its ends."""
    touching: dict[Node, list[_Row]] = {}
    for element in network.elements:
        if element.name in single or not network.is_connected(element):
            continue
        if isinstance(element, Resistor):
            row = _Row(element.ends, (element,))
            for node in element.ends:
                touching.setdefault(node, []).append(row)
    return touching


def _taken_out(node: Node, touching: dict[Node, list[_Row]]) -> tuple[Node, ...]:
    """Takes out a node at which one row ends, or two; the nodes that have fewer rows for it."""
    rows = touching.pop(node)
    ends = tuple(row.far(node) for row in rows)
    for row, end in zip(rows, ends, strict=True):
        touching[end].remove(row)
    if len(set(ends)) < 2:  # a spur, or a loop that hangs on by one node
        return ends
    joined = _Row((ends[0], ends[1]), rows[0].members + rows[1].members)
    for end in ends:
        touching[end].append(joined)
    return ()


def _restricted(base: Solution, network: Network) -> Solution:
    """A solution as the network condensed from its own has it."""
    nodes = (*network.nodes[1:], network.reference)  # the order of its equations
    voltage_v = {node: base.voltage_v[node] for node in nodes if node in base.voltage_v}
    loose = tuple(node for node in base.loose if node in voltage_v)
    return Solution(network, voltage_v, loose, base.steps)
