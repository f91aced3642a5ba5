"""
Parts, labels and the pieces of conductors between them, in rows; what the layout works on.

Parts stand in odd rows, the labels of conductors in even ones; channel n lies above row n and holds
the sideways pieces. A conductor from channel a to channel b passes the rows a to b - 1: in one of
them stands its label, in the others it only passes. So a label lies on its own conductor and
never has to be moved. These objects change while a picture is laid out; nothing else sees them.
"""

from collections.abc import Iterator, Sequence
from enum import StrEnum

from attrs import Factory, define, field

from upgrade_planner.documents.drawings.lettering import nearest_grid

LANDING = 4.0
"""From one conductor to the next at one terminal. [mm]"""


class Facing(StrEnum):
    """Where conductors meet a node."""

    TOP = "top"
    BOTTOM = "bottom"

    @property
    def other(self) -> "Facing":
        """The opposite side."""
        return Facing.BOTTOM if self is Facing.TOP else Facing.TOP


class NodeSort(StrEnum):
    """What a node is."""

    PART = "part"
    LABEL = "label"
    PASSING = "passing"


def _per_side() -> dict[Facing, list[str]]:
    return {Facing.TOP: [], Facing.BOTTOM: []}


def _pins_per_side() -> "dict[Facing, list[Pin]]":
    return {Facing.TOP: [], Facing.BOTTOM: []}


@define(eq=False, kw_only=True)
class Node:
    """
    Something with room of its own in a row.

    Attributes:
        pins: Where conductors meet it, left to right.
        terminals: Terminals of a part, left to right.
        keeps_order: True if its terminals must not change places.
        left, top: Its upper left corner. [mm]
        reach: How far below `top` the pins of its lower side lie. [mm]
        beside: True for the label of a conductor that turns back: it is met at its sides.
        owner: The conductor or flag of a label.
    """

    id: str
    sort: NodeSort
    row: int
    width: float = 0.0
    height: float = 0.0
    pins: "dict[Facing, list[Pin]]" = field(factory=_pins_per_side)
    terminals: dict[Facing, list[str]] = field(factory=_per_side)
    keeps_order: bool = False
    left: float = 0.0
    top: float = 0.0
    reach: float = field(default=Factory(lambda self: self.height, takes_self=True))
    beside: bool = False
    owner: str = ""

    @property
    def right(self) -> float:
        """Its right border. [mm]"""
        return self.left + self.width

    @property
    def bottom(self) -> float:
        """Its lower border. [mm]"""
        return self.top + self.height

    def pins_of(self, side: Facing, terminal: str) -> list["Pin"]:
        """Where conductors meet one of its terminals, left to right."""
        return [pin for pin in self.pins[side] if pin.terminal == terminal]

    def landings(self, side: Facing, terminal: str) -> int:
        """How many places a terminal needs, one at least."""
        return max(1, len(self.pins_of(side, terminal)))

    def spread(self, pins: Sequence["Pin"], middle: float) -> None:
        """Puts landings side by side round a middle."""
        first = middle - (len(pins) - 1) * LANDING / 2
        for number, pin in enumerate(pins):
            pin.offset = nearest_grid(first + number * LANDING)


@define(eq=False)
class Pin:
    """
    Where a conductor meets a node.

    Attributes:
        offset: From the left border of its node. [mm]
        drop: From the upper border of its node. [mm]
    """

    node: Node
    side: Facing
    terminal: str = ""
    offset: float = 0.0
    drop: float = 0.0
    far: "Pin" = field(init=False)

    @property
    def x(self) -> float:
        """Where it lies. [mm]"""
        return self.node.left + self.offset

    @property
    def y(self) -> float:
        """Where it lies. [mm]"""
        return self.node.top + self.drop


@define(eq=False)
class Stretch:
    """
    A conductor in one channel, from node to node.

    Attributes:
        level: Its place among the sideways pieces of the channel, from 0; None if it is straight.
        y: Where its sideways piece lies. [mm]
    """

    first: Pin
    second: Pin
    channel: int
    level: int | None = None
    y: float = 0.0

    @property
    def pins(self) -> tuple[Pin, Pin]:
        """Both ends."""
        return self.first, self.second

    @property
    def span(self) -> tuple[float, float]:
        """From where to where it leads sideways, left first. [mm]"""
        a, b = self.first.x, self.second.x
        return (a, b) if a < b else (b, a)

    @property
    def is_straight(self) -> bool:
        """True if it goes straight down."""
        return self.first.side is not self.second.side and abs(self.first.x - self.second.x) < 1e-6


@define(eq=False)
class Lattice:
    """
    All nodes and pieces of one picture.

    Attributes:
        chains: The pieces of each conductor and flag, from its start to its end.
    """

    nodes: dict[str, Node] = Factory(dict)
    rows: dict[int, list[Node]] = Factory(dict)
    chains: dict[str, list[Stretch]] = Factory(dict)

    def add(self, node: Node) -> Node:
        """Puts a node at the end of its row."""
        self.nodes[node.id] = node
        self.rows.setdefault(node.row, []).append(node)
        return node

    @property
    def pieces(self) -> Iterator[Stretch]:
        """All pieces, conductor by conductor."""
        return (piece for chain in self.chains.values() for piece in chain)

    def by_channel(self) -> dict[int, list[Stretch]]:
        """Pieces by channel, the highest first."""
        found: dict[int, list[Stretch]] = {}
        for piece in self.pieces:
            found.setdefault(piece.channel, []).append(piece)
        return dict(sorted(found.items()))

    def join(self, owner: str, first: Pin, second: Pin, channel: int) -> None:
        """A piece of a conductor between two pins."""
        first.far, second.far = second, first
        self.chains.setdefault(owner, []).append(Stretch(first, second, channel))

    def width(self) -> float:
        """Right border of all that is drawn. [mm]"""
        return max((node.right for node in self.nodes.values()), default=0.0)

    def height(self) -> float:
        """Lower border of all that is drawn. [mm]"""
        drawn = (node for node in self.nodes.values() if node.sort is not NodeSort.PASSING)
        levels = (piece.y for piece in self.pieces if piece.level is not None)
        return max([*(node.bottom for node in drawn), *levels], default=0.0)


def pin_at(node: Node, side: Facing, terminal: str = "") -> Pin:
    """A new pin at the right end of a side."""
    pin = Pin(node, side, terminal)
    node.pins[side].append(pin)
    return pin


def channel_of(node: Node, side: Facing) -> int:
    """The channel that a side of a node looks into."""
    return node.row if side is Facing.TOP else node.row + 1
