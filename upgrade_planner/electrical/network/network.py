"""
A network: elements between nodes, one of which is the reference; what is joined to it and what not.

Nodes that no chain of elements joins to the reference are unconnected. An open switch leaves such
parts behind; they are reported, and an error only if a source acts in them.
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from copy import copy
from functools import cached_property
from operator import attrgetter

from attrs import field

from upgrade_planner.attributes import frozen
from upgrade_planner.electrical.network.elements import Regulated
from upgrade_planner.electrical.network.joined import apart
from upgrade_planner.electrical.network.laws import Element, Node
from upgrade_planner.electrical.network.unsolvable import FloatingSource, UnusableElement


def _by_name(elements: Iterable[Element]) -> tuple[Element, ...]:
    # Sorted, so that equal networks give equal results to the last bit.
    return tuple(sorted(elements, key=_NAME))


_NAME = attrgetter("name")


@frozen
class Network:
    """
    Elements between nodes, checked when made.

    Attributes:
        reference: Node of zero volts.
        elements: Sorted by name.
        nodes: All nodes, the reference first, then in order of the elements.
        unconnected: Nodes without a path to the reference.

    Raises:
        UnusableElement: Two elements have one name, or both ends of one are at one node.
        FloatingSource: A source acts in an unconnected part.
    """

    reference: Node
    elements: tuple[Element, ...] = field(converter=_by_name)
    nodes: tuple[Node, ...] = field(init=False, repr=False, eq=False)
    unconnected: frozenset[Node] = field(init=False, repr=False, eq=False)

    @nodes.default
    def _all_nodes(self) -> tuple[Node, ...]:
        found: dict[Node, None] = {self.reference: None}
        for element in self.elements:
            one, other = element.ends
            found[one] = found[other] = None
            if isinstance(element, Regulated):
                found[element.sense_plus] = found[element.sense_minus] = None
        return tuple(found)

    @unconnected.default
    def _nodes_without_path(self) -> frozenset[Node]:
        number = {node: place for place, node in enumerate(self.nodes)}
        ends = (element.ends for element in self.elements)
        pairs = ((number[one], number[other]) for one, other in ends)
        return frozenset(self.nodes[place] for place in apart(len(number), pairs, 0))

    def __attrs_post_init__(self) -> None:
        self._refuse_repeated_names()
        self._refuse_loops()
        self._refuse_floating_sources()

    def altered(self, changed: Mapping[str, Element | None]) -> "Network":
        """
        The same network with some elements of other values; nothing is checked again.

        Args:
            changed: Elements by name, at the same nodes as those they replace; None takes one out
                without which all nodes stay joined.
        """
        altered, places = copy(self), self._places
        elements: list[Element | None] = [*self.elements]
        for name in changed.keys() & places.keys():
            elements[places[name]] = changed[name]
        if None in changed.values():
            elements = [element for element in elements if element is not None]
        object.__setattr__(altered, "elements", tuple(elements))
        return altered

    @cached_property
    def _places(self) -> Mapping[str, int]:
        """Where the elements stand, by their names."""
        return {element.name: place for place, element in enumerate(self.elements)}

    def severed(self) -> "Network":
        """
        What is left of a network from which `altered` took elements that joined nodes to it.

        Nodes that lost their path to the reference are unconnected; sources there are taken out.
        """
        severed = copy(self)
        object.__setattr__(severed, "unconnected", self._nodes_without_path())
        lost = (element for element in self.elements if not severed.is_connected(element))
        adrift = {element.name: None for element in lost if element.is_active}
        return severed.altered(adrift) if adrift else severed

    def is_connected(self, element: Element) -> bool:
        """Whether the ends of an element have a path to the reference."""
        return element.ends[0] not in self.unconnected

    def _refuse_repeated_names(self) -> None:
        names = [element.name for element in self.elements]
        if len(set(names)) < len(names):
            name, count = next(found for found in Counter(names).items() if found[1] > 1)
            raise UnusableElement(name, f"{count} elements of this name", "one")

    def _refuse_loops(self) -> None:
        for element in self.elements:
            first, second = element.ends
            if first == second:
                raise UnusableElement(element.name, f"both ends at {first}", "two nodes")

    def _refuse_floating_sources(self) -> None:
        names = [
            element.name
            for element in self.elements
            if element.is_active and not self.is_connected(element)
        ]
        if names:
            adrift = [node for node in self.nodes if node in self.unconnected]
            raise FloatingSource(names, adrift)
