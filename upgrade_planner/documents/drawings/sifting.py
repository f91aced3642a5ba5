"""
One order from left to right for whole conductors and parts, across all rows.

Minimises crossings where the sweeps of `order` stick: a part, or a conductor with its label and all
that passes, is a block; all blocks stand in one order, and each is tried at every place of it.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence

from upgrade_planner.documents.drawings.crossings import alternating
from upgrade_planner.documents.drawings.lattice import Facing, Lattice, Node, NodeSort, Pin
from upgrade_planner.documents.drawings.order import Arrangement, Sorting

_ROUNDS = 4
_APART = 4
"""Places from one block to the next, so that terminals in a fixed order stand between them."""

_End = tuple[Node, bool, int]
"""A node, whether it stands above the channel, and the place of a terminal in a fixed order."""


def sifted(lattice: Lattice, order: Arrangement) -> Arrangement:
    """The order that sifting makes of another one."""
    order.apply(lattice)
    _Sifting(lattice).sift()
    sorting = Sorting(lattice)
    sorting.settle()
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
        self._ends: dict[int, list[tuple[_End, _End]]] = defaultdict(list)
        self._channels: dict[Node, set[int]] = defaultdict(set)
        for piece in lattice.pieces:
            first, second = piece.pins
            self._ends[piece.channel].append((_end(first), _end(second)))
            for pin in piece.pins:
                self._channels[pin.node].add(piece.channel)
        self._at: dict[Node, int] = {}

    def sift(self) -> None:
        self._number(self._blocks)
        for _ in range(_ROUNDS):
            if not sum(self._sift_one(block) for block in sorted(self._blocks, key=_first_name)):
                break
        for row in self._lattice.rows.values():
            row.sort(key=self._at.__getitem__)

    def _number(self, blocks: Sequence[tuple[Node, ...]]) -> None:
        for place, block in enumerate(blocks):
            for node in block:
                self._at[node] = place

    def _sift_one(self, block: tuple[Node, ...]) -> bool:
        """Puts a block where it crosses least; true if that is elsewhere."""
        channels = sorted(set().union(*(self._channels[node] for node in block)))
        now = self._crossings(channels)
        if not now:
            return False
        here = self._blocks.index(block)
        rest = self._blocks[:here] + self._blocks[here + 1 :]
        tried = (
            (self._crossings_with(rest, block, place, channels), abs(place - here), place)
            for place in self._places(rest, block)
        )
        best = min(tried, default=(now, 0, here))
        is_better = best[0] < now
        if is_better:
            self._blocks = [*rest[: best[2]], block, *rest[best[2] :]]
        self._number(self._blocks)
        return is_better

    def _places(self, rest: Sequence[tuple[Node, ...]], block: tuple[Node, ...]) -> Iterator[int]:
        """Places that differ: right of a block that shares a row with it, or the first."""
        rows = {node.row for node in block}
        yield 0
        for place, other in enumerate(rest, start=1):
            if any(node.row in rows for node in other):
                yield place

    def _crossings_with(
        self,
        rest: Sequence[tuple[Node, ...]],
        block: tuple[Node, ...],
        place: int,
        channels: Sequence[int],
    ) -> int:
        self._number([*rest[:place], block, *rest[place:]])
        return self._crossings(channels)

    def _crossings(self, channels: Sequence[int]) -> int:
        return sum(self._crossings_in(channel) for channel in channels)

    def _crossings_in(self, channel: int) -> int:
        """As `crossings_in`; ends at one side of a node count as tied."""
        far = _APART * 4 * len(self._blocks)

        def place(end: _End) -> int:
            node, is_upper, shift = end
            at = self._at[node] * _APART + shift
            return at if is_upper else far - at

        spans = []
        for first, second in self._ends[channel]:
            one, two = place(first), place(second)
            spans.append((one, two) if one < two else (two, one))
        spans.sort()
        return alternating(spans)


def _end(pin: Pin) -> _End:
    node = pin.node
    shift = node.terminals[pin.side].index(pin.terminal) if node.keeps_order else 0
    return node, pin.side is Facing.BOTTOM, min(shift, _APART - 1)


def _blocks(lattice: Lattice) -> Iterator[tuple[Node, ...]]:
    """Each part, and each conductor or flag with its label and all that passes."""
    for node in lattice.nodes.values():
        if node.sort is NodeSort.PART:
            yield (node,)
    for owner in sorted(lattice.chains):
        found = (pin.node for piece in lattice.chains[owner] for pin in piece.pins)
        yield tuple(dict.fromkeys(node for node in found if node.sort is not NodeSort.PART))


def _first_name(block: tuple[Node, ...]) -> str:
    return block[0].id
