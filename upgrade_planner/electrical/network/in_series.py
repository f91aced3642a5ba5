"""
Resistances in a row, as one; and which elements no current passes.

One current passes all that is in a row, and none what hangs on by a single node: the nodes that are
left have the same voltages, whatever the resistances are. Wiring is nearly all rows, so that less
than half of the nodes are left.
"""

from collections.abc import Container, Iterable, Iterator, Mapping

from upgrade_planner.electrical.network.elements import Regulated, Resistor
from upgrade_planner.electrical.network.laws import Element, Node

Changed = Mapping[str, Element | None]
"""Elements by name that take the place of those of that name, at the same nodes; None: removed."""

UNCHANGED: Changed = {}


class SeriesRow:
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

    def resistor(self, changed: Changed = UNCHANGED) -> Resistor | None:
        """The row as one resistor, with some elements changed; None if one is taken out."""
        ohms = 0.0
        for member in self.members:
            element = changed.get(member.name, member)
            if not isinstance(element, Resistor):
                return None
            ohms += element.resistance_ohm
        return Resistor(self.name, *self.ends, ohms)


def series_rows(resistors: Iterable[Resistor], held: Container[Node]) -> list[SeriesRow]:
    """
    The rows that resistors make; those that no current passes are in none.

    Args:
        resistors: Each between two different nodes.
        held: Nodes that matter, or at which there is something else.
    """
    touching: dict[Node, list[SeriesRow]] = {}
    for resistor in resistors:
        row = SeriesRow(resistor.ends, (resistor,))
        for node in row.ends:
            touching.setdefault(node, []).append(row)
    waiting = [node for node in touching if node not in held]
    while waiting:
        node = waiting.pop()
        if len(touching.get(node, ())) in (1, 2):
            waiting += [end for end in _taken_out(node, touching) if end not in held]
    return list(dict.fromkeys(row for rows in touching.values() for row in rows))


def nodes_of(elements: Iterable[Element]) -> Iterator[Node]:
    """Every node that an element is joined to, or senses at."""
    for element in elements:
        yield from element.ends
        if isinstance(element, Regulated):
            yield from (element.sense_plus, element.sense_minus)


def _taken_out(node: Node, touching: dict[Node, list[SeriesRow]]) -> tuple[Node, ...]:
    """Takes out a node at which one row ends, or two; the nodes that have fewer rows for it."""
    rows = touching.pop(node)
    ends = tuple(row.far(node) for row in rows)
    for row, end in zip(rows, ends, strict=True):
        touching[end].remove(row)
    if len(set(ends)) < 2:  # a spur, or a loop that hangs on by one node
        return ends
    joined = SeriesRow((ends[0], ends[1]), rows[0].members + rows[1].members)
    for end in ends:
        touching[end].append(joined)
    return ()
