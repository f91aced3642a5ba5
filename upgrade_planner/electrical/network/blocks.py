"""
The blocks of a network: which elements a current between two nodes can reach.

Elements belong to one block if a round trip leads through both that passes no node twice. A current
that enters at one node and leaves at another flows in the blocks between the two and in no other,
as long as nothing drives a current elsewhere: what hangs on by a single node carries none.

Source: biconnected components by depth-first search, J. Hopcroft and R. Tarjan (1973): common
practice.
"""

from collections.abc import Iterable, Iterator, Sequence

from upgrade_planner.electrical.network.laws import Element, Node

Way = tuple[Node, int]
"""The node on the other side of an element, and the element's number."""


class Blocks:
    """
    Blocks of some elements.

    Args:
        elements: The elements.
        root: A node; what no chain of elements joins to it is left out.
    """

    def __init__(self, elements: Iterable[Element], root: Node) -> None:
        self._elements = tuple(elements)
        self._ways: dict[Node, list[Way]] = {root: []}
        for number, element in enumerate(self._elements):
            one, other = element.ends
            self._ways.setdefault(one, []).append((other, number))
            self._ways.setdefault(other, []).append((one, number))
        self._came = self._breadth_first(root)
        self._block: dict[int, int] = {}
        self._members = list(self._found(root))

    def between(
        self, one: Node, other: Node, added: Sequence[Element] = ()
    ) -> tuple[Element, ...] | None:
        """
        Elements in which a current flows that enters at one node and leaves at the other.

        Args:
            one: A node that is joined to the root.
            other: Another.
            added: Elements besides those of the blocks: they join blocks to one.

        Returns:
            The elements; None if an end of an added one is not joined to the root, so that the
            blocks would have to be found anew with it.
        """
        ends = [(one, other), *(element.ends for element in added)]
        if any(node not in self._came for pair in ends for node in pair):
            return None
        chords = [
            (set(self._passed(*pair)), element)
            for pair, element in zip(ends[1:], added, strict=True)
        ]
        blocks, joined = set(self._passed(one, other)), list[Element]()
        while True:
            touching = [chord for chord in chords if not blocks.isdisjoint(chord[0])]
            if not touching:
                break
            chords = [chord for chord in chords if blocks.isdisjoint(chord[0])]
            for passed, element in touching:
                blocks |= passed
                joined.append(element)
        numbers = (number for block in sorted(blocks) for number in self._members[block])
        return (*(self._elements[number] for number in numbers), *joined)

    def _passed(self, one: Node, other: Node) -> Iterator[int]:
        """The blocks between two nodes."""
        steps = set(self._steps_to_root(one)) ^ set(self._steps_to_root(other))
        return (self._block[number] for number in steps)  # what both share leads away from both

    def _breadth_first(self, root: Node) -> dict[Node, Way | None]:
        """The node and element before each node, on a shortest way from the root."""
        came: dict[Node, Way | None] = {root: None}
        queue = [root]
        for node in queue:
            for other, number in self._ways[node]:
                if other not in came:
                    came[other] = (node, number)
                    queue.append(other)
        return came

    def _steps_to_root(self, node: Node) -> list[int]:
        steps = []
        step = self._came[node]
        while step is not None:
            steps.append(step[1])
            step = self._came[step[0]]
        return steps

    def _found(self, root: Node) -> Iterator[Sequence[int]]:
        """The elements of each block, by their numbers; `_block` is filled on the way."""
        order, low = {root: 0}, {root: 0}
        walk = [(root, -1, iter(self._ways[root]))]
        passed: list[int] = []
        blocks = 0
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
                    members = _taken(passed, came)
                    self._block.update(dict.fromkeys(members, blocks))
                    blocks += 1
                    yield members


def _taken(passed: list[int], last: int) -> list[int]:
    """Takes the end of a list off, back to one number."""
    taken = [passed.pop()]
    while taken[-1] != last:
        taken.append(passed.pop())
    return taken
