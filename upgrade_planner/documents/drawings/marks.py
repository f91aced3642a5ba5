"""What a pen leaves on the paper, as values, and the same as SVG; lengths in mm."""

from collections.abc import Iterable, Iterator, Sequence
from html import escape

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.drawings.lettering import (
    MM_PER_POINT,
    SMALL,
    height_of,
    tag_width,
    width_of,
)

Point = tuple[float, float]
Rectangle = tuple[float, float, float, float]
"""Left, top, right, bottom."""

INK, PAPER = "#000", "#fff"

DASHED = "2.6 1.5"
CHAIN = "3 1 .7 1"
FINE_DASHES = "1 .8"


@frozen(kw_only=True)
class Stroke:
    """A line through points; `closed` and filled it is a shape."""

    points: tuple[Point, ...]
    width: float
    dashes: str = ""
    colour: str = INK
    fill: str = "none"
    closed: bool = False
    sort: str = ""
    """Class of the element, for style sheets and tests."""


@frozen(kw_only=True)
class Box:
    """A rectangle."""

    x: float
    y: float
    width: float
    height: float
    line: float = 0.0
    fill: str = PAPER
    dashes: str = ""
    radius: float = 0.0
    sort: str = ""

    @property
    def rectangle(self) -> Rectangle:
        """Where it lies."""
        return self.x, self.y, self.x + self.width, self.y + self.height


@frozen(kw_only=True)
class Disc:
    """A circle."""

    x: float
    y: float
    radius: float
    line: float = 0.4
    fill: str = PAPER
    dashes: str = ""
    sort: str = ""


@frozen(kw_only=True)
class Text:
    """One line of text; x is its start, middle or end."""

    x: float
    y: float
    text: str
    points: float = SMALL
    bold: bool = False
    anchor: str = "start"
    colour: str = INK

    @property
    def rectangle(self) -> Rectangle:
        """Where its capitals lie."""
        width = width_of(self.text, self.points, bold=self.bold)
        left = self.x - {"start": 0.0, "middle": width / 2, "end": width}[self.anchor]
        return left, self.y - height_of(self.points), left + width, self.y


Mark = Stroke | Box | Disc | Text


def line(
    points: Sequence[Point], width: float, *, dashes: str = "", colour: str = INK, sort: str = ""
) -> Stroke:
    """An open line."""
    return Stroke(points=tuple(points), width=width, dashes=dashes, colour=colour, sort=sort)


def tag(x: float, y: float, word: str) -> Iterator[Mark]:
    """A word in capitals, white on black; y is its base line."""
    yield Box(x=x, y=y - 2.5, width=tag_width(word), height=3.1, fill=INK)
    yield Text(x=x + 0.7, y=y, text=word, bold=True, colour=PAPER)


def cross(x: float, y: float, reach: float = 1.3) -> Iterator[Mark]:
    """What marks the end of a wire that comes off."""
    yield line(((x - reach, y - reach), (x + reach, y + reach)), 0.6, sort="cross")
    yield line(((x - reach, y + reach), (x + reach, y - reach)), 0.6)


def ground_sign(x: float, y: float) -> Iterator[Mark]:
    """The ground sign below a point."""
    yield line(((x, y), (x, y + 2)), 0.35)
    for number, half in enumerate((2.6, 1.7, 0.8)):
        yield line(((x - half, y + 2 + number), (x + half, y + 2 + number)), 0.5)


def struck(text: Text) -> Iterator[Mark]:
    """A text that is no longer true."""
    left, top, right, bottom = text.rectangle
    middle = (top + bottom) / 2
    yield text
    yield line(((left - 0.4, middle), (right + 0.4, middle)), 0.4)


def shifted(mark: Mark, x: float, y: float) -> Mark:
    """The same mark at another place."""
    if isinstance(mark, Stroke):
        return evolve(mark, points=tuple((px + x, py + y) for px, py in mark.points))
    return evolve(mark, x=mark.x + x, y=mark.y + y)


def svg_marks(marks: Iterable[Mark]) -> str:
    """The marks as SVG elements, in the order in which they are drawn."""
    return "".join(_svg(mark) for mark in marks)


def number(value: float) -> str:
    """A length as SVG has it: hundredths of a millimetre, no idle zeros."""
    return f"{value:.2f}".rstrip("0").rstrip(".").replace("-0.", "-.") or "0"


def _svg(mark: Mark) -> str:
    if isinstance(mark, Text):
        return _text(mark)
    if isinstance(mark, Stroke):
        way = "L".join(f"{number(x)} {number(y)}" for x, y in mark.points)
        shape = f'<path d="M{way}{"Z" if mark.closed else ""}"'
        return f"{shape}{_pen(mark.width, mark.colour, mark.dashes, mark.fill, mark.sort)}/>"
    if isinstance(mark, Disc):
        shape = f'<circle cx="{number(mark.x)}" cy="{number(mark.y)}" r="{number(mark.radius)}"'
        return f"{shape}{_pen(mark.line, INK, mark.dashes, mark.fill, mark.sort)}/>"
    shape = f'<rect x="{number(mark.x)}" y="{number(mark.y)}"'
    shape += f' width="{number(mark.width)}" height="{number(mark.height)}"'
    if mark.radius:
        shape += f' rx="{number(mark.radius)}"'
    return f"{shape}{_pen(mark.line, INK, mark.dashes, mark.fill, mark.sort)}/>"


def _pen(width: float, colour: str, dashes: str, fill: str, sort: str) -> str:
    pen = f' fill="{fill}"'
    if width:
        pen += f' stroke="{colour}" stroke-width="{number(width)}"'
    if dashes:
        pen += f' stroke-dasharray="{dashes}"'
    return f'{pen} class="{sort}"' if sort else pen


def _text(mark: Text) -> str:
    size = number(mark.points * MM_PER_POINT)
    weight = ' font-weight="700"' if mark.bold else ""
    anchor = "" if mark.anchor == "start" else f' text-anchor="{mark.anchor}"'
    fill = "" if mark.colour == INK else f' fill="{mark.colour}"'
    place = f'<text x="{number(mark.x)}" y="{number(mark.y)}" font-size="{size}"'
    return f"{place}{weight}{anchor}{fill}>{escape(mark.text, quote=False)}</text>"
