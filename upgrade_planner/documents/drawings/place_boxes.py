"""The boxes of places in the view from above: number, name, and what happens there."""

from collections.abc import Iterator

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.part_changes import PartChange, PartRelocated
from upgrade_planner.configuration.ways import Place
from upgrade_planner.documents.drawings.lattice import Node
from upgrade_planner.documents.drawings.lettering import (
    LARGE,
    SMALL,
    on_grid,
    tag_width,
    widest,
    width_of,
    wrapped,
)
from upgrade_planner.documents.drawings.marks import Box, Disc, Mark, Text, tag
from upgrade_planner.documents.drawings.shapes.figure import TAGS
from upgrade_planner.documents.drawings.whereabouts import PlaceOfWork
from upgrade_planner.documents.words.quantities import counted

NAME_ROOM = 34.0
"""Names of places and looms are at most so wide, if their words let them. [mm]"""
_PART_ROOM, _WIDE_PART_ROOM = 38.0, 62.0
_FEW = 4
"""Parts at a place that still stand in a narrow box."""
_NAME_PITCH, _PITCH = 3.5, 3.3
_INDENT = 7.5
_NUMBER_ROOM = 4.8


@frozen(kw_only=True, eq=False)
class PlaceBox:
    """What stands in the box of a place."""

    place: Place
    name: tuple[str, ...]
    rows: tuple[tuple[str, str], ...]
    """Tag or "", and a line of text."""

    @property
    def width(self) -> float:
        """Room that it takes. [mm]"""
        rows = max((_row_width(*row) for row in self.rows), default=0.0)
        return on_grid(max(_INDENT + widest(self.name, LARGE, bold=True), rows) + 3)

    @property
    def height(self) -> float:
        """Room that it takes; below the number, where the name has one line. [mm]"""
        beside_number = max(0.0, _NUMBER_ROOM - len(self.name) * _NAME_PITCH)
        rows = len(self.rows) * _PITCH + beside_number if self.rows else 0.0
        return max(7.0, len(self.name) * _NAME_PITCH + rows + 3)

    def marks(self, node: Node) -> Iterator[Mark]:
        """Number, name, rows."""
        yield Box(
            x=node.left, y=node.top, width=node.width, height=node.height, line=0.7, sort="place"
        )
        yield Disc(x=node.left + 3.8, y=node.top + 3.6, radius=2.7)
        yield Text(
            x=node.left + 3.8,
            y=node.top + 4.7,
            text=str(self.place.walk),
            points=LARGE,
            bold=True,
            anchor="middle",
        )
        y = node.top + 4.4
        for text in self.name:
            yield Text(x=node.left + _INDENT, y=y, text=text, points=LARGE, bold=True)
            y += _NAME_PITCH
        y = max(y, node.top + 9.2)
        for word, text in self.rows:
            yield from _row(node.left + 1.4, y, word, text)
            y += _PITCH


def _row_width(word: str, text: str) -> float:
    return tag_width(word) + 1.0 + width_of(text, SMALL) + 1.4


def _row(x: float, y: float, word: str, text: str) -> Iterator[Mark]:
    if word:
        yield from tag(x, y, word)
    yield Text(x=x + tag_width(word) + 1.0, y=y, text=text)


def place_box(item: PlaceOfWork, *, is_brief: bool) -> PlaceBox:
    """
    The box of a place.

    Args:
        item: The place and its work.
        is_brief: True to count its parts only.
    """
    room = _PART_ROOM if len(item.parts) <= _FEW else _WIDE_PART_ROOM
    rows = [row for part in item.parts for row in _part_rows(part, item.place, room)]
    if is_brief and item.parts:
        rows = [("", counted(len(item.parts), "part changes", "parts change"))]
    if item.wires:
        change = counted(len(item.wires), "wire changes", "wires change")
        rows.append(("", f"{change} at the place itself"))
    return PlaceBox(
        place=item.place,
        name=wrapped(item.place.name, NAME_ROOM, LARGE, bold=True),
        rows=tuple(rows),
    )


def _part_rows(change: PartChange, place: Place, room: float) -> Iterator[tuple[str, str]]:
    word = TAGS[type(change)]
    if isinstance(change, PartRelocated):
        word = "OUT" if change.before.place == place.id else "NEW"
    yield from _tagged(word, change.part.name, room)


def _tagged(word: str, text: str, room: float) -> Iterator[tuple[str, str]]:
    """A tag and a text; what does not go beside the tag goes below it."""
    first, *rest = wrapped(text, room - tag_width(word), SMALL)
    rest = list(wrapped(" ".join(rest), room, SMALL)) if rest else []
    yield word, first
    yield from (("", row) for row in rest)
