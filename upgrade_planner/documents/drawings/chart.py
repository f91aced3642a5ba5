"""The whole vehicle on one sheet: every wire in use, in the colour of its insulation."""

from collections.abc import Iterator

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.comparing import compare
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.documents.drawings.labels import Lettering
from upgrade_planner.documents.drawings.lettering import MM_PER_POINT, wrapped
from upgrade_planner.documents.drawings.lines import Route, in_colour
from upgrade_planner.documents.drawings.marks import Mark
from upgrade_planner.documents.drawings.picture import Effort, Picture, picture_of
from upgrade_planner.documents.drawings.selection import whole_scene
from upgrade_planner.documents.drawings.union import DrawnWire, union_of

PAPERS = {"A4": (210.0, 297.0), "A3": (297.0, 420.0), "A2": (420.0, 594.0), "A1": (594.0, 841.0)}
"""Width and height of a sheet. [mm]"""
EFFORT = Effort(starts=20, sifted=20, finished=5, further=0)
LITTLE_EFFORT = Effort(starts=2, sifted=0, finished=1, further=0)
MANY_WIRES = 100
"""Beyond so many a chart is drawn with little effort, or it would take half a minute."""

_BY_ITSELF = ("A3", "A2", "A1")
"""Papers of which the smallest that holds the chart is taken, if none is asked for."""
MARGINS = 16.0
"""Left and right together, as above and below together. [mm]"""
_HEADING, _NOTE = 13.0, 10.5
"""Type over a chart. [pt]"""
_LEADING = 1.25 * MM_PER_POINT
_AIR = 5.0
"""Below heading and note, and for a line that breaks earlier than reckoned. [mm]"""


@frozen(kw_only=True, eq=False)
class Chart:
    """
    A chart and the sheet that it is printed on.

    Attributes:
        is_wide: True if the sheet lies on its long side.
        scale: How much smaller than drawn it is printed, 1 at most.
        head: Height that heading and note take, as a share of the sheet.
    """

    picture: Picture
    paper: str
    is_wide: bool
    scale: float
    head: float


def chart_of(configuration: Configuration, units: str) -> Picture:
    """
    The chart of a configuration, in full size.

    Args:
        configuration: What is drawn.
        units: `metric`, `us` or `both`.
    """
    union = union_of(compare(configuration, configuration))
    scene = whole_scene(union, configuration.vehicle.title)
    return picture_of(
        scene,
        lettering=Lettering(units=units),
        effort=EFFORT if len(scene.lines) <= MANY_WIRES else LITTLE_EFFORT,
        pen=in_own_colour,
    )


def printed(picture: Picture, paper: str, *, heading: str, note: str) -> Chart:
    """
    A picture on a sheet.

    Args:
        picture: What is printed.
        paper: One of `PAPERS`; "" for the smallest of A3, A2, A1 that holds it in full size.
        heading: What stands over it; takes its room.
        note: What stands below the heading; takes its room.
    """
    papers = (paper,) if paper else _BY_ITSELF
    tried = [_printed(picture, one, heading, note) for one in papers]
    return next((chart for chart in tried if chart.scale == 1.0), tried[-1])


def head_height(heading: str, note: str, width_mm: float) -> float:
    """Height that heading and note take over a picture on a sheet. [mm]"""
    return _AIR + sum(
        len(wrapped(text, width_mm, points, bold=points == _HEADING)) * points * _LEADING
        for text, points in ((heading, _HEADING), (note, _NOTE))
    )


def in_own_colour(route: Route, wire: DrawnWire, _: tuple[bool, bool]) -> Iterator[Mark]:
    """The pen of a chart."""
    return in_colour(route, wire.wire)


def _printed(picture: Picture, paper: str, heading: str, note: str) -> Chart:
    """On the sheet laid the way that holds it larger."""
    short, long = PAPERS[paper]
    tried = []
    for across, down in ((short, long), (long, short)):
        width, height = across - MARGINS, down - MARGINS
        head = head_height(heading, note, width)
        scale = min(1.0, width / picture.width, max(0.0, height - head) / picture.height)
        tried.append(
            Chart(
                picture=picture,
                paper=paper,
                is_wide=across > down,
                scale=scale,
                head=head / height,
            )
        )
    return max(tried, key=lambda chart: chart.scale)
