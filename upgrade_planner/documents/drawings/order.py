"""
Who stands left of whom, in every row and at every terminal.

Minimises crossings, then sideways length. Several starts (the first follows the conductors from
the top, others are shuffled, each in a way of its own): sweeps down and up, in which a node goes to
the mean place of what it is joined to, then exchanges of neighbours while they save crossings.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from itertools import product
from random import Random

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.drawings.crossings import crossings_in, ends_in, positions_in
from upgrade_planner.documents.drawings.lattice import Facing, Lattice, Node, NodeSort, Pin, Stretch

SWEEPS = 10
_EXCHANGE_ROUNDS = 6


@frozen(kw_only=True, eq=False)
class Arrangement:
    """
    One order of everything.

    Attributes:
        crossings: How many it needs.
        length: Sideways length, in shares of the rows.
    """

    crossings: int
    length: float
    rows: dict[int, list[Node]]
    pins: dict[Node, dict[Facing, list[Pin]]]
    terminals: dict[Node, dict[Facing, list[str]]]

    def apply(self, lattice: Lattice) -> None:
        """Puts nodes, terminals and landings into this order."""
        lattice.rows = {row: list(nodes) for row, nodes in self.rows.items()}
        for node in lattice.nodes.values():
            node.pins = {side: list(pins) for side, pins in self.pins[node].items()}
            node.terminals = {side: list(names) for side, names in self.terminals[node].items()}


def orders(lattice: Lattice, starts: range) -> list[Arrangement]:
    """The orders that some starts lead to, the best first, each once."""
    sorting = Sorting(lattice)
    found: dict[tuple[int, float], Arrangement] = {}
    for order in sorted(_tried(sorting, starts), key=lambda one: (one.crossings, one.length)):
        found.setdefault((order.crossings, round(order.length, 3)), order)
    return list(found.values())


def _tried(sorting: "Sorting", starts: range) -> Iterator[Arrangement]:
    for start in starts:
        sorting.begin(start)
        sorting.sweep()
        sorting.exchange()
        yield sorting.order()


class Sorting:
    """The rows of a lattice while they are brought into order."""

    def __init__(self, lattice: Lattice) -> None:
        self._lattice = lattice
        self._rows = dict(sorted(lattice.rows.items()))
        self._by_name = {row: sorted(nodes, key=_name) for row, nodes in self._rows.items()}
        self._ends = {c: ends_in(pieces) for c, pieces in lattice.by_channel().items()}
        self._at: dict[Pin, float] = {}

    def begin(self, start: int) -> None:
        """A start: 0 follows the conductors, others are shuffled."""
        chance = Random(start)
        if start == 0:
            place = _followed(self._lattice)
        for row, nodes in self._by_name.items():
            self._rows[row] = list(nodes)
            if start == 0:
                self._rows[row].sort(key=lambda node: place[node.id])
            else:
                chance.shuffle(self._rows[row])
        self._lattice.rows = self._rows
        self._number_all()
        self._sort_landings()

    def sweep(self) -> None:
        """Rows down and up, each node to the mean of what it is joined to on the one side."""
        for number in range(SWEEPS):
            down = number % 2 == 0
            for row in self._rows if down else reversed(self._rows):
                self._to_means(row, Facing.TOP if down else Facing.BOTTOM)
            self._sort_landings()

    def exchange(self) -> None:
        """Neighbours change places while that saves crossings."""
        for _ in range(_EXCHANGE_ROUNDS):
            if not sum(self._exchange_in(row) for row in self._rows):
                return
            self._sort_landings()

    def order(self) -> Arrangement:
        """What it has come to."""
        nodes = self._lattice.nodes.values()
        return Arrangement(
            crossings=self.crossings(),
            length=sum(self._length(piece) for piece in self._lattice.pieces),
            rows={row: list(nodes) for row, nodes in self._rows.items()},
            pins={node: {side: list(pins) for side, pins in node.pins.items()} for node in nodes},
            terminals={
                node: {side: list(names) for side, names in node.terminals.items()}
                for node in nodes
            },
        )

    def settle(self) -> None:
        """Takes over the rows as they stand in the lattice, and sorts all landings."""
        self._rows = dict(sorted(self._lattice.rows.items()))
        self._lattice.rows = self._rows
        self._number_all()
        for _ in range(3):
            self._sort_landings()

    def crossings(self) -> int:
        """Crossings of all channels."""
        return sum(crossings_in(ends, self._at) for ends in self._ends.values())

    # Steps ----------------------------------------------------------------------------------

    def _number_all(self) -> None:
        for row in self._rows:
            self._number(row)

    def _number(self, row: int) -> None:
        self._at.update(positions_in(self._rows[row]))

    def _length(self, piece: Stretch) -> float:
        return abs(self._share(piece.first) - self._share(piece.second))

    def _share(self, pin: Pin) -> float:
        """Where a pin stands as a share of its row."""
        return (self._at[pin] + 0.5) / len(self._rows[pin.node.row])

    def _to_means(self, row: int, side: Facing) -> None:
        nodes = self._rows[row]
        means: dict[Node, float] = {}
        for place, node in enumerate(nodes):
            shares = self._leading(node, side) or self._leading(node, side.other)
            own = (place + 0.5) / len(nodes)
            means[node] = sum(shares) / len(shares) if shares else own
        before = list(nodes)
        nodes.sort(key=means.__getitem__)
        if nodes != before:
            self._number(row)

    def _leading(self, node: Node, side: Facing) -> list[float]:
        """Where conductors of one side of a node lead to in other rows."""
        return [self._share(pin.far) for pin in node.pins[side] if pin.far.node.row != node.row]

    def _exchange_in(self, row: int) -> bool:
        nodes, better = self._rows[row], False
        now = self._crossings_round(row)
        for left in range(len(nodes) - 1):
            if not now:
                return better
            self._swap(row, left)
            then = self._crossings_round(row)
            if then < now:
                now, better = then, True
            else:
                self._swap(row, left)
        return better

    def _swap(self, row: int, left: int) -> None:
        nodes = self._rows[row]
        nodes[left : left + 2] = nodes[left + 1], nodes[left]
        self._at.update(positions_in(nodes[left : left + 2], left))

    def _crossings_round(self, row: int) -> int:
        return sum(
            crossings_in(self._ends[channel], self._at)
            for channel in (row, row + 1)
            if channel in self._ends
        )

    def _sort_landings(self) -> None:
        """Terminals of a part, and landings of a terminal, by where they lead."""
        changed = set()
        for node in self._lattice.nodes.values():
            for side, pins in node.pins.items():
                if len(pins) > 1 and node.sort is not NodeSort.PASSING:
                    self._sort_side(node, side, pins)
                    if node.pins[side] != pins:
                        changed.add(node.row)
        for row in changed:
            self._number(row)

    def _sort_side(self, node: Node, side: Facing, pins: list[Pin]) -> None:
        by_terminal: dict[str, list[Pin]] = defaultdict(list)
        round_to = {pin: self._round(pin) for pin in pins}
        for pin in sorted(pins, key=round_to.__getitem__):
            by_terminal[pin.terminal].append(pin)
        leading = {name: [round_to[pin] for pin in found] for name, found in by_terminal.items()}
        if node.keeps_order:
            used = [name for name in node.terminals[side] if name in by_terminal]
        else:
            used = sorted(leading, key=lambda name: (sum(leading[name]) / len(leading[name]), name))
            _exchange_terminals(used, leading)
        node.pins[side] = [pin for name in used for pin in by_terminal[name]]
        if node.sort is NodeSort.PART:
            free = [name for name in node.terminals[side] if name not in by_terminal]
            node.terminals[side] = [*used, *free]

    def _round(self, pin: Pin) -> float:
        """
        Where a conductor leads, going round its channel from the left of its node to the right.

        Of those that turn back to the row they come from, the nearest on the left is the first one
        and the nearest on the right the last one, so that they lie inside each other.
        """
        far = self._share(pin.far)
        if pin.side is not pin.far.side:
            return far
        return -far if far < self._share(pin) else 2 - far


def _exchange_terminals(names: list[str], leading: Mapping[str, list[float]]) -> None:
    """Neighbours among the terminals of a side change places while that saves crossings."""
    for _ in names:
        before = list(names)
        for left in range(len(names) - 1):
            one, other = names[left : left + 2]
            if _turned(leading, one, other):
                names[left : left + 2] = other, one
        if names == before:
            return


def _turned(leading: Mapping[str, list[float]], left: str, right: str) -> bool:
    """True if two terminals cross less the other way round."""
    pairs = list(product(leading[left], leading[right]))
    return sum(a > b for a, b in pairs) > sum(a < b for a, b in pairs)


def _name(node: Node) -> str:
    return node.id


def _followed(lattice: Lattice) -> dict[str, int]:
    """Places of nodes in the order in which one meets them from the top, along the conductors."""
    joined: dict[str, set[str]] = defaultdict(set)
    for piece in lattice.pieces:
        first, second = (pin.node.id for pin in piece.pins)
        joined[first].add(second)
        joined[second].add(first)
    places: dict[str, int] = {}
    for node in sorted(lattice.nodes.values(), key=lambda one: (one.row, one.id)):
        open_ = [node.id]
        while open_:
            name = open_.pop()
            if name not in places:
                places[name] = len(places)
                open_.extend(sorted(joined[name], reverse=True))
    return places
