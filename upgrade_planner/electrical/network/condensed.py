"""
A network as a few of its nodes see it: resistances in a row are one, and spurs are left out.
"""

from collections.abc import Collection

from upgrade_planner.electrical.network.elements import PLAIN, Resistor
from upgrade_planner.electrical.network.in_series import Changed, SeriesRow, nodes_of, series_rows
from upgrade_planner.electrical.network.laws import Element, Node
from upgrade_planner.electrical.network.network import Network
from upgrade_planner.electrical.network.solving import Solution
from upgrade_planner.electrical.network.varying import Variations

LEFT_OUT = SeriesRow(("", ""), ())
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
        alone = {element.name for element in single}
        connected = filter(base.network.is_connected, base.network.elements)
        others = (e for e in connected if e.name not in alone and isinstance(e, Resistor))
        rows = series_rows(others, {base.network.reference, *nodes, *nodes_of(single)})
        self._row_of: dict[str, SeriesRow | None] = dict.fromkeys(alone)
        self._row_of |= {member.name: row for row in rows for member in row.members}
        resistors = filter(None, (row.resistor() for row in rows))
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


def _restricted(base: Solution, network: Network) -> Solution:
    """A solution as the network condensed from its own has it."""
    nodes = (*network.nodes[1:], network.reference)  # the order of its equations
    voltage_v = {node: base.voltage_v[node] for node in nodes if node in base.voltage_v}
    loose = tuple(node for node in base.loose if node in voltage_v)
    return Solution(network, voltage_v, loose, base.steps)
