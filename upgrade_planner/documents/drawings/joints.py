"""
Small pictures of joints: the order of rings on a stud, and the face of a connector.

As tall as a few rows of text; new ends are thick, what stays is thin.
"""

from collections.abc import Iterator, Sequence

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.drawings.lettering import LARGE, SMALL, widest, wrapped
from upgrade_planner.documents.drawings.marks import INK, PAPER, Box, Disc, Mark, Text, line

_RING_PITCH, _CELL_PITCH, _ROW_PITCH = 5.0, 6.0, 4.2
_HEAD, _FOOT = 7.0, 4.5
_BESIDE = 25.0
"""Where the words of rings begin. [mm]"""
_STUD = 8.0
_CELL = 84.0
_LIST_TOP, _MARK_ROOM = 9.5, 9.5
_CAVITY_WIDTH, _CAVITY_HEIGHT = 9.0, 7.0
_WIDEST_FACE = 170.0
"""A wider face is not drawn. [mm]"""
_NOTE_ROOM = 84.0
_NOTE_PITCH = 2.9


@frozen(kw_only=True)
class Face:
    """
    The cavities of a connector.

    Attributes:
        cavities: How many there are; 0 if nobody knows.
        rows: In how many rows; 0 if nobody knows.
    """

    cavities: int = 0
    rows: int = 0

    @property
    def columns(self) -> int:
        """Cavities of a full row."""
        return -(-self.cavities // self.rows) if self.rows else 0

    @property
    def width(self) -> float:
        """Room that the face takes; 0 if it cannot be drawn. [mm]"""
        width = self.columns * _CAVITY_WIDTH
        return width if width <= _WIDEST_FACE else 0.0

    @property
    def height(self) -> float:
        """Room that the face takes, with the air below it; 0 if it cannot be drawn. [mm]"""
        return self.rows * _CAVITY_HEIGHT + 2.5 if self.width else 0.0

    @property
    def note(self) -> str:
        """What to write where."""
        if self.width:
            return "Seen from the wire side: write the number of each wire into its cavity."
        told = "Seen from the wire side: write the cavity of each wire into its box"
        return f"{told}, one of {self.cavities}." if self.cavities else f"{told}."

    def marks(self, x: float, y: float) -> Iterator[Mark]:
        """An empty box for each cavity; the last row may have fewer."""
        for number in range(self.cavities if self.width else 0):
            row, column = divmod(number, self.columns)
            yield Box(
                x=x + column * _CAVITY_WIDTH,
                y=y + row * _CAVITY_HEIGHT,
                width=_CAVITY_WIDTH,
                height=_CAVITY_HEIGHT,
                line=0.35,
                sort="cavity",
            )


@frozen(kw_only=True)
class JointRow:
    """What lies on a stud, or passes a connector: its words, and whether it is new there."""

    text: str
    is_new: bool


@frozen(kw_only=True)
class JointPicture:
    """
    A finished picture of a joint.

    Attributes:
        told: The same in words.
    """

    title: str
    marks: tuple[Mark, ...]
    width: float
    height: float
    told: str


def stack_picture(title: str, rings: Sequence[JointRow], notes: Sequence[str]) -> JointPicture:
    """
    Rings on a stud or post.

    Args:
        title: Where it is.
        rings: From the bottom.
        notes: What else is to be known, such as the torque.
    """
    words = tuple(f"{number}  {ring.text}" for number, ring in enumerate(rings, start=1))
    below = tuple(row for note in notes for row in wrapped(note, _NOTE_ROOM))
    bottom = _HEAD + len(rings) * _RING_PITCH + 3.0
    marks = [*_title(title), *_stud(bottom)]
    for number, (ring, text) in enumerate(zip(rings, words, strict=True)):
        y = bottom - 3.0 - number * _RING_PITCH
        marks.extend(_ring(y, ring.is_new))
        marks.append(Text(x=_BESIDE, y=y + 1.0, text=text, bold=ring.is_new))
    for number, text in enumerate(below):
        marks.append(Text(x=1.0, y=bottom + _FOOT + number * _NOTE_PITCH, text=text))
    width = max(_BESIDE + widest(words, SMALL, bold=True), widest((title,), LARGE, bold=True))
    return JointPicture(
        title=title,
        marks=tuple(marks),
        width=max(width, widest(below, SMALL)) + 2.0,
        height=bottom + _FOOT + max(0, len(below) - 1) * _NOTE_PITCH + 1.5,
        told=f"From the bottom: {'; '.join(words)}. {' '.join(notes)}".strip(),
    )


def _title(title: str) -> Iterator[Mark]:
    yield Text(x=1.0, y=3.5, text=title, points=LARGE, bold=True)


def _stud(bottom: float) -> Iterator[Mark]:
    """From its foot to the nut."""
    top = _HEAD - 1.5
    yield line(((_STUD, top - 0.8), (_STUD, bottom)), 2.2)
    yield Box(x=_STUD - 4.0, y=top, width=8.0, height=2.0, line=0.4)
    yield line(((_STUD - 6.0, bottom), (_STUD + 6.0, bottom)), 0.8)


def _ring(y: float, is_new: bool) -> Iterator[Mark]:
    """A ring from its side, its barrel and wire to the right."""
    pen = 1.0 if is_new else 0.35
    yield line(((_STUD + 6.0, y), (_BESIDE - 1.5, y)), 1.4 if is_new else 0.4)
    yield Box(x=_STUD - 4.5, y=y - 0.8, width=9.0, height=1.6, line=pen, sort="ring")
    yield Box(x=_STUD + 4.5, y=y - 1.3, width=4.5, height=2.6, line=pen, fill=INK)


def connector_picture(title: str, face: Face, passing: Sequence[JointRow]) -> JointPicture:
    """
    Wires through a connector, seen from the wire side.

    With rows its face is drawn, to write wires into; else each wire has a box for its cavity.

    Args:
        title: Which connector.
        face: Its cavities.
        passing: The wires.
    """
    marks, note = list(_title(title)), face.note
    marks.append(Text(x=1.0, y=7.2, text=note))
    marks.extend(face.marks(1.0, _LIST_TOP))
    columns = 2 if len(passing) > 4 else 1
    each = -(-len(passing) // columns)
    top, room, pitch = _LIST_TOP + face.height, 0.0, _ROW_PITCH
    if not face.height:
        room, pitch = _MARK_ROOM, _CELL_PITCH
    for number, row in enumerate(passing):
        x, y = 1.0 + number // each * _CELL, top + number % each * pitch
        if not face.height:
            marks.append(Box(x=x, y=y, width=8.0, height=5.0, line=1.0 if row.is_new else 0.35))
        dot = INK if row.is_new else PAPER
        marks.append(Disc(x=x + room + 1.5, y=y + 2.5, radius=1.0, fill=dot))
        marks.append(Text(x=x + room + 4.0, y=y + 3.4, text=row.text, bold=row.is_new))
    words = widest((title,), LARGE, bold=True), widest((note,))
    return JointPicture(
        title=title,
        marks=tuple(marks),
        width=max(columns * _CELL, face.width, *words) + 2.0,
        height=top + each * pitch + 1.0,
        told=f"{note} {'; '.join(row.text for row in passing)}",
    )
