"""Parts of two terminals: a sign between them, the live one above, the name at the right."""

from collections.abc import Iterator

from upgrade_planner.documents.drawings.lattice import LANDING, Facing
from upgrade_planner.documents.drawings.lettering import (
    NAME,
    SMALL,
    nearest_grid,
    on_grid,
    width_of,
    wrapped,
)
from upgrade_planner.documents.drawings.marks import Mark, Text, ground_sign, line
from upgrade_planner.documents.drawings.shapes.figure import Figure, wire_down
from upgrade_planner.documents.drawings.shapes.signs import HALF, Spot, plain_sign, upright_sign

LEAD = 4.5
"""From a terminal to the sign. [mm]"""
_NAME_ROOM = 22.0
_PITCH = 3.1


class Upright(Figure):
    """A fuse, lamp, coil, meter and the like."""

    @property
    def _lines(self) -> tuple[str, ...]:
        return wrapped(self.name, _NAME_ROOM, NAME, bold=True)

    @property
    def _body(self) -> float:
        return max(2 * HALF, self.words_height(self._lines, _PITCH))

    @property
    def _ends(self) -> list[tuple[Facing, str]]:
        return [(side, name) for side in Facing for name in self.node.terminals[side]]

    @property
    def _middle(self) -> float:
        """Of the sign, from the left border."""
        widest = max(
            (self.slot(*end) / 2 for end in self._ends if self.node.landings(*end) > 1),
            default=0.0,
        )
        return max(5.0, on_grid(widest))

    def measure(self) -> None:
        """Room for the sign, for the name beside it and for the labels of both terminals."""
        node, middle = self.node, self._middle
        beside = [
            width_of(self.label(name), SMALL) + (node.landings(side, name) - 1) * LANDING / 2
            for side, name in self._ends
        ]
        words = middle + 5.5 + self.words_width(self._lines, NAME)
        node.width = on_grid(max(2 * middle, words, middle + 2.5 + max(beside, default=0)) + 0.5)
        node.height = node.reach = self._body + 2 * LEAD
        below = node.terminals[Facing.BOTTOM]
        if not below:
            node.height = node.reach = node.height - 3
        elif self.is_case(below[0]):
            node.height += 3.5
        for side in Facing:
            node.spread(node.pins[side], middle)
            for pin in node.pins[side]:
                pin.drop = 0.0 if side is Facing.TOP else node.reach

    def marks(self) -> Iterator[Mark]:
        """Leads, sign, rings, labels, name."""
        node = self.node
        x = nearest_grid(node.left + self._middle)
        y = node.top + LEAD + self._body / 2
        yield wire_down(x, node.top, y - HALF)
        if node.terminals[Facing.BOTTOM]:
            yield wire_down(x, y + HALF, node.top + node.reach)
        sign = upright_sign(self.part) or plain_sign
        yield from sign(Spot(x, y, *self.pen))
        if self.goes:
            yield line(((x - 4.6, y + 5), (x + 4.6, y - 5)), 0.35)
        for side, name in self._ends:
            if self.has(name):
                yield from self._terminal(side, name, x)
        top = y - self.words_height(self._lines, _PITCH) / 2
        yield from self.words(x + 5.2, top + 2.6, self._lines, NAME, _PITCH)

    def _terminal(self, side: Facing, name: str, x: float) -> Iterator[Mark]:
        node = self.node
        y = node.top if side is Facing.TOP else node.top + node.reach
        if self.is_case(name) and not node.pins_of(side, name):
            yield from ground_sign(x, y - 3)
            yield Text(x=x + 3.2, y=y + 1.2, text=self.label(name))
            return
        yield from self.ring(side, name, y)
        base = y + 3.6 if side is Facing.TOP else y - 1.6
        yield from self.lettered(Text(x=x + 1.4, y=base, text=self.label(name)), name)

    def terminal_x(self, side: Facing, terminal: str) -> float:
        """Both terminals lie on the axis."""
        return nearest_grid(self.node.left + self._middle)
