"""A chart in full size on several small sheets, to glue together."""

from collections.abc import Iterator
from math import ceil

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.drawings.chart import MARGINS, head_height
from upgrade_planner.documents.drawings.marks import (
    FINE_DASHES,
    Disc,
    Mark,
    Rectangle,
    Stroke,
    line,
    shifted,
)
from upgrade_planner.documents.drawings.pages import PAPERS
from upgrade_planner.documents.drawings.picture import Picture

OVERLAP = 8.0
"""What a sheet shows of the next one, for the glue. [mm]"""


@frozen(kw_only=True)
class GluedSheet:
    """
    A part of a chart.

    Attributes:
        name: Letter of its row, number of its column.
        marks: What is drawn on it, from (0, 0).
    """

    name: str
    marks: tuple[Mark, ...]


@frozen(kw_only=True)
class Glued:
    """
    All sheets of a chart, row by row.

    Attributes:
        width, height: Of what is drawn on each. [mm]
        is_wide: True if they lie on their long side.
    """

    sheets: tuple[GluedSheet, ...]
    rows: int
    columns: int
    width: float
    height: float
    is_wide: bool


def glued(picture: Picture, paper: str, *, heading: str, note: str) -> Glued:
    """
    The fewest sheets that hold a picture in full size.

    Args:
        picture: What is cut up.
        paper: `A4` or `Letter`.
        heading: What stands over each sheet.
        note: What stands below the heading of the first.
    """
    short, long = PAPERS[paper]
    tried = []
    for across, down in ((short, long), (long, short)):
        width = across - MARGINS
        height = down - MARGINS - head_height(heading, note, width)
        tried.append(_cut(picture, width, height, is_wide=across > down))
    return min(tried, key=lambda one: len(one.sheets))


def _cut(picture: Picture, width: float, height: float, *, is_wide: bool) -> Glued:
    across, down = width - OVERLAP, height - OVERLAP
    columns, rows = ceil(picture.width / across), ceil(picture.height / down)
    sheets = tuple(
        GluedSheet(
            name=f"{chr(ord('A') + row)}{column + 1}",
            marks=(
                *_within(picture, column * across, row * down, width, height),
                *_seams(width, height, is_last=(column + 1 == columns, row + 1 == rows)),
            ),
        )
        for row in range(rows)
        for column in range(columns)
    )
    return Glued(
        sheets=sheets, rows=rows, columns=columns, width=width, height=height, is_wide=is_wide
    )


def _within(picture: Picture, x: float, y: float, width: float, height: float) -> Iterator[Mark]:
    for mark in picture.marks:
        left, top, right, bottom = _room(mark)
        if left < x + width and right > x and top < y + height and bottom > y:
            yield shifted(mark, -x, -y)


def _room(mark: Mark) -> Rectangle:
    if isinstance(mark, Stroke):
        across, down = zip(*mark.points, strict=True)
        half = mark.width / 2
        return min(across) - half, min(down) - half, max(across) + half, max(down) + half
    if isinstance(mark, Disc):
        reach = mark.radius
        return mark.x - reach, mark.y - reach, mark.x + reach, mark.y + reach
    return mark.rectangle


def _seams(width: float, height: float, *, is_last: tuple[bool, bool]) -> Iterator[Mark]:
    """Where the next sheet begins."""
    last_column, last_row = is_last
    if not last_column:
        x = width - OVERLAP
        yield line(((x, 0), (x, height)), 0.15, dashes=FINE_DASHES, sort="seam")
    if not last_row:
        y = height - OVERLAP
        yield line(((0, y), (width, y)), 0.15, dashes=FINE_DASHES, sort="seam")
