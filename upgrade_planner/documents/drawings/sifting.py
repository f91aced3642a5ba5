"""
One order from left to right for whole conductors and parts, across all rows.

Minimises crossings where the sweeps of `order` stick: a part, or a conductor with its label and all
that passes, is a block; all blocks stand in one order, and each is tried at every place of it.
When a block passes another one, only crossings of the pieces at these two can change, so a try
looks at no others.
"""

from collections.abc import Iterable, Iterator, Mapping
from itertools import product

from upgrade_planner.documents.drawings.lattice import Facing, Lattice, Node, NodeSort, Pin
from upgrade_planner.documents.drawings.order import Arrangement, Sorting

_ROUNDS = 4
_APART = 4
"""Places from one block to the next, so that terminals in a fixed order stand between them."""

_End = tuple[Node, bool, int]
"""A node, whether it stands above the channel, and the place of a terminal in a fixed order."""

_Ends = tuple[_End, _End]
"""Both ends of a piece."""

_Block = tuple[Node, ...]


def sifted(lattice: Lattice, order: Arrangement) -> Arrangement:
    """The order that sifting makes of another one."""
    order.apply(lattice)
    _Sifting(lattice).sift()
    sorting = Sorting(lattice)
    sorting.settle()
    sorting.exchange()
    return sorting.order()


class _Sifting:
    """Blocks in one order."""

    def __init__(self, lattice: Lattice) -> None:
        self._lattice = lattice
        shares = {
            node: (place + 0.5) / len(row)
            for row in lattice.rows.values()
            for place, node in enumerate(row)
        }
        self._blocks = sorted(
            _blocks(lattice),
            key=lambda block: (sum(shares[node] for node in block) / len(block), block[0].id),
        )
        self._pieces: Mapping[_Block, dict[int, list[_Ends]]] = {b: {} for b in self._blocks}
        owners = {node: block for block in self._blocks for node in block}
        for piece in lattice.pieces:
            ends = _end(piece.first), _end(piece.second)
            for block in dict.fromkeys(owners[pin.node] for pin in piece.pins):
                self._pieces[block].setdefault(piece.channel, []).append(ends)
        self._far = 2 * _APART * (2 * len(self._blocks) + 1)
        self._at: dict[Node, int] = {}

    def sift(self) -> None:
        for _ in range(_ROUNDS):
            if not sum(self._sift_one(block) for block in sorted(self._blocks, key=_first_name)):
                break
        for place, block in enumerate(self._blocks):
            self._put(block, place)
        for row in self._lattice.rows.values():
            row.sort(key=self._at.__getitem__)

    def _put(self, block: _Block, place: int) -> None:
        for node in block:
            self._at[node] = place

    def _sift_one(self, block: _Block) -> bool:
        """Puts a block where it crosses least; true if that is elsewhere."""
        here = self._blocks.index(block)
        rest = self._blocks[:here] + self._blocks[here + 1 :]
        for place, other in enumerate(rest):
            self._put(other, 2 * place + 1)
        costs = [0]
        for place, other in enumerate(rest):
            costs.append(costs[-1] + self._more_if_passed(block, other, 2 * place + 1))
        best = min(range(len(costs)), key=lambda place: (costs[place], abs(place - here)))
        if costs[best] == costs[here]:
            return False
        self._blocks = [*rest[:best], block, *rest[best:]]
        return True

    def _more_if_passed(self, block: _Block, other: _Block, place: int) -> int:
        """How many crossings more there are when a block goes from left of another to its right."""
        theirs = self._pieces[other]
        pairs = [
            (mine, its)
            for channel, pieces in self._pieces[block].items()
            if channel in theirs
            for mine, its in product(pieces, theirs[channel])
            if mine is not its
        ]
        if not pairs:
            return 0
        self._put(block, place - 1)
        before = self._crossings(pairs)
        self._put(block, place + 1)
        return self._crossings(pairs) - before

    def _crossings(self, pairs: Iterable[tuple[_Ends, _Ends]]) -> int:
        """As `crossings_in`; ends at one side of a node count as tied."""
        count = 0
        for one, other in pairs:
            left, right = self._span(one)
            start, end = self._span(other)
            count += left < start < right < end or start < left < end < right
        return count

    def _span(self, ends: _Ends) -> tuple[int, int]:
        """Both ends on a circle: the row above from left to right, the one below back again."""
        (node, is_upper, shift), (far_node, is_far_upper, far_shift) = ends
        here = self._at[node] * _APART + shift
        there = self._at[far_node] * _APART + far_shift
        if not is_upper:
            here = self._far - here
        if not is_far_upper:
            there = self._far - there
        return (here, there) if here < there else (there, here)


def _end(pin: Pin) -> _End:
    node = pin.node
    shift = node.terminals[pin.side].index(pin.terminal) if node.keeps_order else 0
    return node, pin.side is Facing.BOTTOM, min(shift, _APART - 1)


def _blocks(lattice: Lattice) -> Iterator[_Block]:
    """Each part, and each conductor or flag with its label and all that passes."""
    for node in lattice.nodes.values():
        if node.sort is NodeSort.PART:
            yield (node,)
    for owner in sorted(lattice.chains):
        found = (pin.node for piece in lattice.chains[owner] for pin in piece.pins)
        yield tuple(dict.fromkeys(node for node in found if node.sort is not NodeSort.PART))


def _first_name(block: _Block) -> str:
    return block[0].id
