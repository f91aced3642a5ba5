"""What can be wrong with a network, or keep it from having a solution."""

from collections.abc import Hashable, Iterable

from upgrade_planner.errors import PlannerError


def names_in_line(names: Iterable[Hashable]) -> str:
    """Names in one line, in the order given."""
    return ", ".join(str(name) for name in names)


class NetworkError(PlannerError):
    """Root of all errors about networks."""


class UnusableElement(NetworkError):
    """
    An element, or the way it is joined, makes no electrical sense.

    Attributes:
        subject: Name of the element, or of the network's part that is meant.
        found: What was given.
        expected: What would be right.
    """

    def __init__(self, subject: str, found: str, expected: str) -> None:
        self.subject = subject
        self.found = found
        self.expected = expected
        super().__init__(f"{subject}: found {found}; expected {expected}")


class FloatingSource(NetworkError):
    """
    A source acts in a part of the network that nothing joins to the reference node.

    Attributes:
        names: The sources, sorted.
        nodes: The nodes of those parts, in the order of the network.
    """

    def __init__(self, names: Iterable[str], nodes: Iterable[Hashable]) -> None:
        self.names = tuple(sorted(names))
        self.nodes = tuple(nodes)
        super().__init__(
            f"{names_in_line(self.names)}: found no path to the reference "
            f"from {names_in_line(self.nodes)}; "
            "expected every source to be joined to the reference"
        )


class NotSolved(NetworkError):
    """
    No voltages were found that satisfy all elements.

    Either none exist (a current that is forced into nodes without a way out) or the search does
    not find them (regulators that act against each other).

    Attributes:
        names: Elements at the nodes that are out of balance, and those that kept changing between
            the pieces of their law; sorted.
        nodes: Nodes that are out of balance, the worst first.
        residual_a: Current that does not balance at the worst node. [A]
    """

    def __init__(self, names: Iterable[str], nodes: Iterable[Hashable], residual_a: float) -> None:
        self.names = tuple(sorted(names))
        self.nodes = tuple(nodes)
        self.residual_a = residual_a
        super().__init__(
            f"{names_in_line(self.nodes)}: found {residual_a:.3g} A out of balance, between "
            f"{names_in_line(self.names)}; expected currents that balance at every node"
        )
