"""
The blocks of a network: which elements a current between two nodes can reach.

Elements belong to one block if a round trip leads through both that passes no node twice. A current
that enters at one node and leaves at another flows in the blocks between the two and in no other,
as long as nothing drives a current elsewhere: what hangs on by a single node carries none.

Source: biconnected components by depth-first search, J. Hopcroft and R. Tarjan (1973): common
practice.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence

from upgrade_planner.electrical.network.laws import Element, Node

Way = tuple[Node, int]
"""The node on the other side of an element, and the element's number."""


class Blocks:
    """
    Blocks of some elements.

    Args:
        elements: The elements; they need not all be joined to each other.
    """

    def __init__(self, elements: Iterable[Element]) -> None:
        self._elements = tuple(elements)
        self._ways: dict[Node, list[Way]] = {}
        for number, element in enumerate(self._elements):
            one, other = element.ends
            self._ways.setdefault(one, []).append((other, number))
            self._ways.setdefault(other, []).append((one, number))
        self._came: dict[Node, Way | None] = {}
        self._root: dict[Node, Node] = {}
        self._members = [
            members for node in self._ways if node not in self._came for members in self._part(node)
        ]
        self._block = {n: block for block, members in enumerate(self._members) for n in members}

    def between(self, one: Node, other: Node, added: Sequence[Element] = ()) -> tuple[Element, ...]:
        """
        Elements in which a current flows that enters at one node and leaves at the other.

        Args:
            one: A node.
            other: Another.
            added: Elements besides those of the blocks: they join what is apart, or blocks to one.

        Returns:
            The elements; none if nothing joins the two nodes.
        """
        trees, chords = _Trees(self._steps_to_root), list[tuple[set[int], int]]()
        for number, element in enumerate(added, start=1):
            steps = trees.join(*element.ends, -number)
            if steps is not None:
                chords.append((self._blocks_on(steps), -number))
        blocks = self._blocks_on(trees.steps(one, other) or ())
        while True:
            touching = [chord for chord in chords if not blocks.isdisjoint(chord[0])]
            if not touching:
                break
            chords = [chord for chord in chords if blocks.isdisjoint(chord[0])]
            for passed, number in touching:
                blocks |= {*passed, number}
        numbers = (n for block in sorted(blocks) if block >= 0 for n in self._members[block])
        joined = (element for n, element in enumerate(added, start=1) if -n in blocks)
        return (*(self._elements[number] for number in numbers), *joined)

    def _blocks_on(self, steps: Iterable[int]) -> set[int]:
        """The blocks that elements are in; an added one is a block of its own."""
        return {self._block[number] if number >= 0 else number for number in steps}

    def _part(self, root: Node) -> list[Sequence[int]]:
        """The blocks of what is joined to a node; a shortest way from there to each other one."""
        self._came[root] = None
        queue = [root]
        for node in queue:
            self._root[node] = root
            for other, number in self._ways[node]:
                if other not in self._came:
                    self._came[other] = (node, number)
                    queue.append(other)
        return list(self._found(root))

    def _steps_to_root(self, node: Node) -> tuple[Node, set[int]]:
        """The root of what a node is joined to, and the elements between."""
        steps = set[int]()
        step = self._came.get(node)
        while step is not None:
            steps.add(step[1])
            step = self._came[step[0]]
        return self._root.get(node, node), steps

    def _found(self, root: Node) -> Iterator[Sequence[int]]:
        """The elements of each block, by their numbers."""
        order, low = {root: 0}, {root: 0}
        walk = [(root, -1, iter(self._ways[root]))]
        passed: list[int] = []
        while walk:
            node, came, ways = walk[-1]
            for other, number in ways:
                if number == came:
                    continue
                if other not in order:
                    order[other] = low[other] = len(order)
                    passed.append(number)
                    walk.append((other, number, iter(self._ways[other])))
                    break
                if order[other] < order[node]:
                    low[node] = min(low[node], order[other])
                    passed.append(number)
            else:
                walk.pop()
                if not walk:
                    return
                before = walk[-1][0]
                low[before] = min(low[before], low[node])
                if low[node] >= order[before]:
                    yield _taken(passed, came)


class _Trees:
    """
    Trees of nodes, joined to larger ones.

    A set of elements is a way, and the ways from two nodes to one third, less what both share, are
    the way between the two.

    Args:
        steps_to_root: The root of a tree that a node is in, and the way there.
    """

    def __init__(self, steps_to_root: Callable[[Node], tuple[Node, set[int]]]) -> None:
        self._steps_to_root = steps_to_root
        self._joined: dict[Node, tuple[Node, set[int]]] = {}

    def join(self, one: Node, other: Node, number: int) -> set[int] | None:
        """Joins two trees by an element; the way between two nodes that are joined already."""
        (root, steps), (other_root, other_steps) = self._top(one), self._top(other)
        if root == other_root:
            return steps ^ other_steps
        self._joined[root] = (other_root, steps ^ other_steps ^ {number})
        return None

    def steps(self, one: Node, other: Node) -> set[int] | None:
        """The way between two nodes; None if they are not joined."""
        (root, steps), (other_root, other_steps) = self._top(one), self._top(other)
        return steps ^ other_steps if root == other_root else None

    def _top(self, node: Node) -> tuple[Node, set[int]]:
        root, steps = self._steps_to_root(node)
        while root in self._joined:
            root, more = self._joined[root]
            steps = steps ^ more
        return root, steps


def _taken(passed: list[int], last: int) -> list[int]:
    """Takes the end of a list off, back to one number."""
    taken = [passed.pop()]
    while taken[-1] != last:
        taken.append(passed.pop())
    return taken
