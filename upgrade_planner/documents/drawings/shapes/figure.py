"""What all figures of parts share: their words, their outline, the rings of their terminals."""

from abc import ABC, abstractmethod
from collections.abc import Iterator

from attrs import field

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.part_changes import (
    PartAdjusted,
    PartChange,
    PartConverted,
    PartExchanged,
    PartFitted,
    PartRebuilt,
    PartRelocated,
    PartTakenOut,
)
from upgrade_planner.configuration.model import Component
from upgrade_planner.documents.drawings.lattice import LANDING, Facing, Node
from upgrade_planner.documents.drawings.lettering import SMALL, tag_width, widest, width_of
from upgrade_planner.documents.drawings.marks import (
    DASHED,
    Box,
    Disc,
    Mark,
    Text,
    line,
    struck,
    tag,
)
from upgrade_planner.documents.drawings.selection import Scene
from upgrade_planner.documents.drawings.union import End
from upgrade_planner.documents.shared.html import kept_together

TAGS: dict[type[PartChange], str] = {
    PartTakenOut: "OUT",
    PartFitted: "NEW",
    PartExchanged: "EXCHANGE",
    PartRelocated: "RELOCATE",
    PartAdjusted: "ADJUST",
    PartConverted: "CHANGE OVER",
    PartRebuilt: "REBUILD",
}
"""What happens to a part, in capitals; nothing for one that stays as it is."""

RING = 0.95
"""Radius of the ring of a terminal. [mm]"""
TAG_PITCH = 3.4
"""From the base line of a tag to that of the text below. [mm]"""


@frozen(kw_only=True, eq=False)
class Figure(ABC):
    """
    One part in one picture.

    Attributes:
        node: Its room in the layout.
        model: The figure by which the layout was made, if this one is drawn in its place.
    """

    scene: Scene
    node: Node
    model: "Figure | None" = None
    change: PartChange = field(init=False)

    def __attrs_post_init__(self) -> None:
        object.__setattr__(self, "change", self.scene.union.parts[self.node.id])

    @abstractmethod
    def measure(self) -> None:
        """Gives the node its size and its pins their places."""

    @abstractmethod
    def marks(self) -> Iterator[Mark]:
        """What the pen draws, once everything has its place."""

    @property
    def part(self) -> Component:
        """The part as it shall be, or as it is if it goes."""
        return self.change.part

    @property
    def name(self) -> str:
        """What people call it; no number stands apart from its unit."""
        return str(kept_together(self.part.name))

    @property
    def tag(self) -> str:
        """What happens to it, in capitals."""
        return TAGS.get(type(self.change), self.scene.warned.get(self.node.id, ""))

    @property
    def goes(self) -> bool:
        """True if it comes off and nothing takes over its role."""
        return isinstance(self.change, PartTakenOut)

    @property
    def comes(self) -> bool:
        """True if another part comes on."""
        return isinstance(self.change, PartFitted | PartExchanged)

    @property
    def pen(self) -> tuple[float, str]:
        """Width and dashes of its outline."""
        if self.goes:
            return 0.6, DASHED
        return (1.2, "") if self.comes else (0.35, "")

    # Terminals ------------------------------------------------------------------------------

    def label(self, terminal: str) -> str:
        """What stands at a terminal: its mark now and then, and how many wires are not drawn."""
        labels = self.scene.union.labels(self.node.id).get(terminal)
        old, new = (labels.before, labels.after) if labels else (None, None)
        both = old is not None and new is not None
        text = f"{old} → {new}" if both and old != new else (old if new is None else new) or ""
        end = End(self.node.id, terminal)
        text = ": ".join(filter(None, (text, self.note(terminal))))
        count = self.scene.uncounted.get(end, 0)
        if count:
            return f"{text} &{count}".strip()
        is_free = self.comes and new is not None and not self.scene.union.wires_on.get(end)
        return f"{text} free" if is_free and not self.is_case(terminal) else text

    def note(self, terminal: str) -> str:
        """What stands behind its label."""
        return self.scene.notes.get(End(self.node.id, terminal), "")

    def is_new(self, terminal: str) -> bool:
        """True for a terminal that the part before did not have."""
        return self._only_in(terminal, after=True)

    def is_lost(self, terminal: str) -> bool:
        """True for a terminal that the part after does not have."""
        return self._only_in(terminal, after=False)

    def _only_in(self, terminal: str, *, after: bool) -> bool:
        labels = self.scene.union.labels(self.node.id).get(terminal)
        if labels is None or not isinstance(self.change, PartExchanged | PartRebuilt):
            return False
        return (labels.before if after else labels.after) is None

    def is_case(self, terminal: str) -> bool:
        """True for the housing itself."""
        return self.scene.union.is_case(End(self.node.id, terminal))

    def has(self, terminal: str) -> bool:
        """False for a terminal of the layout that the part does not have in this picture."""
        return self.model is None or terminal in self.scene.union.labels(self.node.id)

    def ring(self, side: Facing, terminal: str, y: float) -> Iterator[Mark]:
        """The ring of a terminal, wide enough for all conductors that land on it."""
        pins = self.node.pins_of(side, terminal)
        if len(pins) > 1:
            left = pins[0].x
            yield Box(
                x=left - 1.1,
                y=y - 0.9,
                width=pins[-1].x - left + 2.2,
                height=1.8,
                line=0.4,
                radius=0.9,
                sort="ring",
            )
            return
        x = pins[0].x if pins else self.terminal_x(side, terminal)
        width = 0.9 if self.is_new(terminal) else 0.4
        dashes = "0.7 0.5" if self.is_lost(terminal) else ""
        yield Disc(x=x, y=y, radius=RING, line=width, dashes=dashes, sort="ring")

    def terminal_x(self, side: Facing, terminal: str) -> float:
        """Where a terminal without conductors lies. [mm]"""
        return self.node.left

    def lettered(self, text: Text, terminal: str) -> Iterator[Mark]:
        """The label of a terminal, struck through if it is lost."""
        return struck(text) if self.is_lost(terminal) else iter((text,))

    # Words ----------------------------------------------------------------------------------

    def words_height(self, lines: tuple[str, ...], pitch: float) -> float:
        """Height of tag and name. [mm]"""
        return len(lines) * pitch + (TAG_PITCH if self.tag else 0.0)

    def words_width(self, lines: tuple[str, ...], points: float) -> float:
        """Width of tag and name. [mm]"""
        return max(widest(lines, points, bold=True), tag_width(self.tag))

    def words(
        self, x: float, y: float, lines: tuple[str, ...], points: float, pitch: float
    ) -> Iterator[Mark]:
        """Tag and name; y is the first base line."""
        if self.tag:
            yield from tag(x, y, self.tag)
            y += TAG_PITCH
        for number, text in enumerate(lines):
            yield Text(x=x, y=y + number * pitch, text=text, points=points, bold=True)

    def slot(self, side: Facing, terminal: str) -> float:
        """Room that a terminal needs beside others. [mm]"""
        landings = (self.node.landings(side, terminal) - 1) * LANDING + 4.5
        return max(landings, width_of((self.model or self).label(terminal), SMALL) + 2.2)


def wire_down(x: float, top: float, bottom: float, width: float = 0.4) -> Mark:
    """A straight piece inside a figure."""
    return line(((x, top), (x, bottom)), width)
