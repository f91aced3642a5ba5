"""
Elements in series: one current passes them all, one after the other.

What adds a resistance to one of them, or takes one out, does the same to the rest of the network
whichever it is; only the nodes between them tell them apart.
"""

from collections.abc import Container, Mapping

from upgrade_planner.electrical.network.laws import Node
from upgrade_planner.electrical.network.network import Islands, Network


def series_of(network: Network, watched: Container[Node]) -> Mapping[str, object]:
    """
    The series that each element is in, by the element's name; equal values are one series.

    Args:
        network: The network.
        watched: Nodes whose voltage matters: they part a series. The reference does so too.
    """
    touching: dict[Node, list[str]] = {}
    for element in network.elements:
        for node in element.ends:
            touching.setdefault(node, []).append(element.name)
    series = Islands()
    for node, names in touching.items():
        if len(names) == 2 and node != network.reference and node not in watched:
            series.join(*names)
    return {element.name: series.root(element.name) for element in network.elements}
