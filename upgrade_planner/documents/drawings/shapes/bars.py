"""Studs, joints and ground points: each conductor lands on them at the side that it comes from."""

from collections.abc import Iterator

from upgrade_planner.configuration.kinds import Capability
from upgrade_planner.documents.drawings.lattice import LANDING, Facing
from upgrade_planner.documents.drawings.lettering import NAME, nearest_grid, on_grid, wrapped
from upgrade_planner.documents.drawings.marks import INK, Box, Disc, Mark, Text, ground_sign
from upgrade_planner.documents.drawings.shapes.figure import Figure

PITCH = 3.1
"""From one line of a name to the next. [mm]"""
_NAME_ROOM = 30.0


class Bar(Figure):
    """A stud or a joint, its name at the right."""

    @property
    def _lines(self) -> tuple[str, ...]:
        lines = wrapped(self.name, _NAME_ROOM, NAME, bold=True)
        label = self.label(self.part.terminals[0].name) if self.part.terminals else ""
        if self._is_joint:
            count = label.rpartition("&")[1] + label.rpartition("&")[2] if "&" in label else ""
            label = count or self.note(self.part.terminals[0].name)
        return (*lines[:-1], f"{lines[-1]}  {label}".rstrip())

    @property
    def _is_joint(self) -> bool:
        return self.part.can(Capability.MADE_OF_WIRE)

    @property
    def _bar(self) -> float:
        most = max(1, *(len(pins) for pins in self.node.pins.values()))
        return (most - 1) * LANDING + 4

    def measure(self) -> None:
        """The bar is as long as its fuller side needs."""
        node, lines = self.node, self._lines
        node.width = on_grid(self._bar + 2 + self.words_width(lines, NAME))
        node.height = node.reach = max(2.4, self.words_height(lines, PITCH))
        for pins in node.pins.values():
            node.spread(pins, self._bar / 2)
            for pin in pins:
                pin.drop = node.height / 2

    def marks(self) -> Iterator[Mark]:
        """A thick bar; a joint of two or three wires is a dot."""
        node = self.node
        middle = node.top + node.height / 2
        width, dashes = self.pen
        if self._is_joint and self._bar < 5:
            x = nearest_grid(node.left + self._bar / 2)
            yield Disc(x=x, y=middle, radius=1.1, line=0.3, fill=INK, sort="ring")
        else:
            yield Box(
                x=node.left + 0.4,
                y=middle - 1,
                width=self._bar - 0.8,
                height=2,
                line=min(width, 0.6),
                fill=INK,
                dashes=dashes,
                radius=0.8 if self._is_joint else 0.4,
                sort="ring",
            )
        lines = self._lines
        top = middle - self.words_height(lines, PITCH) / 2
        yield from self.words(node.left + self._bar + 1, top + 2.6, lines, NAME, PITCH)


class Ground(Figure):
    """A ground point, its name below."""

    @property
    def _lines(self) -> tuple[str, ...]:
        return wrapped(self.name, _NAME_ROOM, NAME, bold=True)

    @property
    def _bar(self) -> float:
        most = max(1, *(len(pins) for pins in self.node.pins.values()))
        return (most - 1) * LANDING + 4

    def measure(self) -> None:
        """As wide as its bar or its name."""
        node, lines = self.node, self._lines
        node.width = on_grid(max(self._bar, self.words_width(lines, NAME) + 2))
        node.height = 7 + self.words_height(lines, PITCH + 0.1)
        node.reach = 2.0
        node.spread(node.pins[Facing.TOP], node.width / 2)
        for pin in node.pins[Facing.TOP]:
            pin.drop = 1.2

    def marks(self) -> Iterator[Mark]:
        """Bar, sign, name."""
        node = self.node
        middle = nearest_grid(node.left + node.width / 2)
        yield Box(
            x=middle - self._bar / 2 + 0.4,
            y=node.top + 0.4,
            width=self._bar - 0.8,
            height=1.8,
            line=0.3,
            fill=INK,
            radius=0.6,
            sort="ring",
        )
        yield from ground_sign(middle, node.top + 2)
        y = node.top + 9.2
        if self.tag:
            yield from self.words(middle - self.words_width((), NAME) / 2, y, (), NAME, PITCH)
            y += 3.4
        for number, text in enumerate(self._lines):
            yield Text(
                x=middle, y=y + number * PITCH, text=text, points=NAME, bold=True, anchor="middle"
            )
