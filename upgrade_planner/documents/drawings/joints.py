"""
Small pictures of joints: the order of rings on a stud, and the face of a connector.

As tall as a few rows of text; new ends are thick, what stays is thin.
"""

from collections.abc import Iterator, Sequence

from attrs import frozen

from upgrade_planner.documents.drawings.lettering import LARGE, SMALL, widest, wrapped
from upgrade_planner.documents.drawings.marks import INK, Box, Disc, Mark, Text, line

_RING_PITCH, _CELL_PITCH = 5.0, 6.0
_HEAD, _FOOT = 7.0, 4.5
_BESIDE = 25.0
"""Where the words of rings begin. [mm]"""
_STUD = 8.0
_CELL = 84.0
_NOTE_ROOM = 84.0
_NOTE_PITCH = 2.9


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


def connector_picture(title: str, cavities: int, passing: Sequence[JointRow]) -> JointPicture:
    """
    Wires through a connector, seen from the wire side, with a box for the mark of each cavity.

    Args:
        title: Which connector.
        cavities: How many it has; 0 if nobody knows.
        passing: The wires.
    """
    marks = list(_title(title))
    note = "Seen from the wire side: write the cavity of each wire into its box"
    note += f", one of {cavities}." if cavities else "."
    marks.append(Text(x=1.0, y=7.2, text=note))
    columns = 2 if len(passing) > 4 else 1
    each = -(-len(passing) // columns)
    for number, row in enumerate(passing):
        x, y = 1.0 + number // each * _CELL, 9.5 + number % each * _CELL_PITCH
        marks.append(Box(x=x, y=y, width=8.0, height=5.0, line=1.0 if row.is_new else 0.35))
        marks.append(Disc(x=x + 11.0, y=y + 2.5, radius=1.0, fill=INK if row.is_new else "#fff"))
        marks.append(Text(x=x + 13.5, y=y + 3.4, text=row.text, bold=row.is_new))
    return JointPicture(
        title=title,
        marks=tuple(marks),
        width=max(columns * _CELL, widest((title,), LARGE, bold=True)) + 2.0,
        height=9.5 + each * _CELL_PITCH + 1.0,
        told=f"{note} {'; '.join(row.text for row in passing)}",
    )
