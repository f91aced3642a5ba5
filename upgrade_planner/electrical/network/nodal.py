"""The nodal equations of a network: an index for each node, and what it has in the equations."""

from collections.abc import Mapping
from copy import copy
from functools import cached_property

from upgrade_planner.electrical.network.elements import PLAIN, Regulated, Resistor
from upgrade_planner.electrical.network.equations import Equations, IndexedElement, Remote
from upgrade_planner.electrical.network.laws import Element, Node
from upgrade_planner.electrical.network.network import Network
from upgrade_planner.electrical.network.row_ends import RowPlan


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

    @cached_property
    def row_plan(self) -> RowPlan:
        """How its rows of resistors are made one."""
        return RowPlan(self)

    def altered(self, changed: Mapping[str, Element | None]) -> "NodalEquations":
        """
        The equations of this network `altered`, and `severed` where elements are taken out.

        The indices stay.
        """
        network, plan = self.network.altered(changed), self.row_plan
        if None in changed.values():
            return NodalEquations(network.severed(), self.index)
        made = copy(self)
        made.network, made.row_plan = network, plan
        made.resistors, made.curved = [*self.resistors], [*self.curved]
        made.remote = [*self.remote]
        for name in changed.keys() & self._order.keys():
            made._replace(self._order[name], changed[name])
        return made

    def shorted(self, node: Node, resistance_ohm: float) -> "NodalEquations":
        """The equations with one more resistance, from a connected node to the reference."""
        index, (slots, edges) = self.index[node], self.resistor_slots
        plan, made = self.row_plan, copy(self)
        vars(made).pop("islands", None)
        made.resistors = [*self.resistors, (index, self.size, 1.0 / resistance_ohm)]
        made.resistor_slots, made.row_plan = ([*slots, index], edges), plan
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
