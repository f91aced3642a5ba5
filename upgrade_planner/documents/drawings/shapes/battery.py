"""The battery at the head of a picture: its live side is a bar across the top."""

from collections.abc import Iterator

from upgrade_planner.documents.drawings.lattice import LANDING, Facing, Pin
from upgrade_planner.documents.drawings.lettering import (
    LARGE,
    nearest_grid,
    on_grid,
    width_of,
    wrapped,
)
from upgrade_planner.documents.drawings.marks import INK, Box, Disc, Mark, Text, line
from upgrade_planner.documents.drawings.shapes.figure import RING, Figure
from upgrade_planner.documents.drawings.union import GROUNDED, LIVE

HEIGHT = 20.0
_LEAST_GROUND = 10.0
_NAME_ROOM = 24.0
_PITCH = 3.4


class Battery(Figure):
    """The symbol hangs at the left, conductors leave the bar at the right of the name."""

    @property
    def _lines(self) -> tuple[str, ...]:
        return wrapped(self.name, _NAME_ROOM, LARGE, bold=True)

    @property
    def _grounds(self) -> list[Pin]:
        return self.node.pins_of(Facing.BOTTOM, GROUNDED)

    @property
    def _lives(self) -> list[Pin]:
        return self.node.pins_of(Facing.BOTTOM, LIVE)

    @property
    def _middle(self) -> float:
        """Of the symbol, from the left border."""
        return max(_LEAST_GROUND, len(self._grounds) * LANDING + 4) / 2

    @property
    def _words_left(self) -> float:
        posts = max(width_of(self.label(post), LARGE, bold=True) for post in (LIVE, GROUNDED))
        return self._middle + max(1.6 + posts + 3, 7)

    def measure(self) -> None:
        """Grounded conductors below the symbol, live ones at the right."""
        node, lives = self.node, self._lives
        first = on_grid(self._words_left + self.words_width(self._lines, LARGE) + 3)
        node.pins[Facing.BOTTOM] = [*self._grounds, *lives]
        node.width = first + max(1, len(lives)) * LANDING - 2
        node.height = node.reach = HEIGHT
        node.spread(self._grounds, self._middle)
        for pin in self._grounds:
            pin.drop = HEIGHT - 1
        for number, pin in enumerate(lives):
            pin.offset, pin.drop = first + number * LANDING, 1.0

    def marks(self) -> Iterator[Mark]:
        """Bar, symbol, both posts, name."""
        node = self.node
        x, top = nearest_grid(node.left + self._middle), node.top
        right = max([x, *(pin.x for pin in self._lives)])
        width, _ = self.pen
        yield Box(
            x=x - 2, y=top, width=right - x + 4, height=1.8, fill=INK, radius=0.6, sort="ring"
        )
        yield line(((x, top + 1), (x, top + 6)), 0.5)
        for number, half in enumerate((4, 2, 4, 2)):
            y = top + 6 + number * 1.6
            yield line(((x - half, y), (x + half, y)), 0.5 if half == 4 else max(1.2, width))
        yield line(((x, top + 10.8), (x, top + 18)), 0.5)
        yield from self._grounded_post(x)
        yield self._post(x, top + 5, LIVE)
        yield self._post(x, top + 16, GROUNDED)
        yield from self.words(node.left + self._words_left, top + 5.5, self._lines, LARGE, _PITCH)

    def _post(self, x: float, y: float, post: str) -> Mark:
        return Text(x=x + 1.6, y=y, text=self.label(post), points=LARGE, bold=True)

    def _grounded_post(self, x: float) -> Iterator[Mark]:
        pins, y = self._grounds, self.node.top + HEIGHT - 1
        if len(pins) < 2:
            yield Disc(x=x, y=y, radius=RING, sort="ring")
            return
        left, right = pins[0].x - 1.5, pins[-1].x + 1.5
        yield Box(
            x=left, y=y - 1, width=right - left, height=1.8, fill=INK, radius=0.6, sort="ring"
        )
