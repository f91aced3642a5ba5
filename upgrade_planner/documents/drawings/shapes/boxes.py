"""Parts of several terminals: a box with rows of rings above and below."""

from collections.abc import Iterator

from upgrade_planner.documents.drawings.lattice import Facing
from upgrade_planner.documents.drawings.lettering import (
    LARGE,
    SMALL,
    nearest_grid,
    on_grid,
    widest,
    wrapped,
)
from upgrade_planner.documents.drawings.marks import (
    PAPER,
    Box,
    Mark,
    Text,
    ground_sign,
    line,
)
from upgrade_planner.documents.drawings.shapes.figure import Figure
from upgrade_planner.documents.drawings.shapes.signs import Spot, small_sign
from upgrade_planner.documents.drawings.shapes.tables import inner_table

STRIP = 4.2
"""Height of a row of labels. [mm]"""
_SIGN_ROOM = 10.0
_PITCH = 3.4
_TABLE_PITCH = 2.9
_LEAST_NAME = 24.0
_CASE_ROOM = 6.0


class BoxedPart(Figure):
    """A box with its sign, its name and its terminals."""

    @property
    def _sign_room(self) -> float:
        return _SIGN_ROOM if small_sign(self.part) else 0.5

    @property
    def _lines(self) -> tuple[str, ...]:
        room = max(self._strip(side) for side in Facing) - self._sign_room - 6
        return wrapped(self.name, max(_LEAST_NAME, room), LARGE, bold=True)

    def _strip(self, side: Facing) -> float:
        return sum(self.slot(side, name) for name in self._shown(side))

    def _shown(self, side: Facing) -> list[str]:
        return self.node.terminals[side]

    @property
    def body(self) -> float:
        """Height between the rows of labels. [mm]"""
        least = 10.0 if self._sign_room > 1 else 5.0
        return max(least, self._words_height) + 1

    @property
    def _table(self) -> tuple[str, ...]:
        return inner_table(self.change, is_whole=self.scene.is_whole)

    @property
    def _words_height(self) -> float:
        return self.words_height(self._lines, _PITCH) + len(self._table) * _TABLE_PITCH

    @property
    def _words_width(self) -> float:
        return max(self.words_width(self._lines, LARGE), widest(self._table, SMALL))

    def _strip_height(self, side: Facing) -> float:
        return STRIP if self._shown(side) else 0.0

    def measure(self) -> None:
        """As wide as its fuller row, or its sign and name."""
        node = self.node
        words = self._sign_room + self._words_width + 5
        strips = {side: self._strip(side) for side in Facing}
        node.width = on_grid(max(*strips.values(), words) + 1)
        node.reach = self.body + sum(self._strip_height(side) for side in Facing)
        has_case = any(
            self.is_case(name) and not node.pins_of(Facing.BOTTOM, name)
            for name in self._shown(Facing.BOTTOM)
        )
        node.height = node.reach + (_CASE_ROOM if has_case else 0.0)
        for side in Facing:
            for name in self._shown(side):
                pins = node.pins_of(side, name)
                node.spread(pins, self._offset(side, name))
                for pin in pins:
                    pin.drop = 0.0 if side is Facing.TOP else node.reach

    def _offset(self, side: Facing, terminal: str) -> float:
        """Middle of a terminal from the left border; the row stands in the middle of the box."""
        at = (self.node.width - self._strip(side)) / 2
        for name in self._shown(side):
            room = self.slot(side, name)
            if name == terminal:
                return nearest_grid(at + room / 2)
            at += room
        return at

    def terminal_x(self, side: Facing, terminal: str) -> float:
        """Where a terminal lies. [mm]"""
        return self.node.left + self._offset(side, terminal)

    def marks(self) -> Iterator[Mark]:
        """Box, sign, name, rings, labels."""
        node = self.node
        width, dashes = self.pen
        yield Box(
            x=node.left,
            y=node.top,
            width=node.width,
            height=node.reach,
            line=width,
            dashes=dashes,
            sort="part",
        )
        middle = node.top + self._strip_height(Facing.TOP) + self.body / 2
        if self.goes:
            bottom = node.top + node.reach
            yield line(((node.left, bottom), (node.left + node.width, node.top)), 0.3)
        sign = small_sign(self.part)
        if sign is not None:
            yield from sign(Spot(node.left + 6.5, middle, width, dashes))
        yield from self._name(middle)
        for side in Facing:
            for name in filter(self.has, self._shown(side)):
                yield from self._terminal(side, name)

    def _name(self, middle: float) -> Iterator[Mark]:
        """On white, where a diagonal runs behind it."""
        x = self.node.left + self._sign_room + 2.5
        top = middle - self._words_height / 2
        if self.goes:
            yield Box(
                x=x - 0.4,
                y=top - 0.4,
                width=self._words_width + 0.8,
                height=self._words_height + 0.8,
                fill=PAPER,
            )
        yield from self.words(x, top + 2.7, self._lines, LARGE, _PITCH)
        below = top + self.words_height(self._lines, _PITCH)
        for number, text in enumerate(self._table, start=1):
            yield Text(x=x, y=below + number * _TABLE_PITCH - 0.5, text=text)

    def _terminal(self, side: Facing, name: str) -> Iterator[Mark]:
        x = self.terminal_x(side, name)
        y = self.node.top if side is Facing.TOP else self.node.top + self.node.reach
        if self.is_case(name) and not self.node.pins_of(side, name):
            yield from ground_sign(x, y)
        else:
            yield from self.ring(side, name, y)
        base = y + 3.6 if side is Facing.TOP else y - 1.5
        text = Text(x=x, y=base, text=self.label(name), bold=self.is_new(name), anchor="middle")
        yield from self.lettered(text, name)
