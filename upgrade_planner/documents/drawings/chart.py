"""The whole vehicle on one sheet: every wire in use, in the colour of its insulation."""

from collections.abc import Iterator

from attrs import frozen

from upgrade_planner.comparison.comparing import compare
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.documents.drawings.labels import Lettering
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

_BY_ITSELF = ("A3", "A2")
"""Papers of which the smallest that holds the chart is taken, if none is asked for."""
_MARGINS, _HEAD = 16.0, 32.0


@frozen(kw_only=True, eq=False)
class Chart:
    """
    A chart and the sheet that it is printed on.

    Attributes:
        is_wide: True if the sheet lies on its long side.
        scale: How much smaller than drawn it is printed, 1 at most.
    """

    picture: Picture
    paper: str
    is_wide: bool
    scale: float


def chart_of(configuration: Configuration, units: str, paper: str = "") -> Chart:
    """
    The chart of a configuration.

    Args:
        configuration: What is drawn.
        units: `metric`, `us` or `both`.
        paper: One of `PAPERS`; "" for the smaller of A3 and A2 that holds it at full size.
    """
    union = union_of(compare(configuration, configuration))
    scene = whole_scene(union, configuration.vehicle.title)
    picture = picture_of(
        scene,
        lettering=Lettering(units=units),
        effort=EFFORT if len(scene.lines) <= MANY_WIRES else LITTLE_EFFORT,
        pen=in_own_colour,
    )
    return printed(picture, paper)


def printed(picture: Picture, paper: str = "") -> Chart:
    """A picture on a sheet; `paper` as at `chart_of`."""
    tried = [_printed(picture, one) for one in ((paper,) if paper else _BY_ITSELF)]
    return next((chart for chart in tried if chart.scale == 1.0), tried[-1])


def in_own_colour(route: Route, wire: DrawnWire, _: tuple[bool, bool]) -> Iterator[Mark]:
    """The pen of a chart."""
    return in_colour(route, wire.wire)


def _printed(picture: Picture, paper: str) -> Chart:
    """On the sheet laid the way that holds it larger."""
    short, long = PAPERS[paper]
    scales = [
        min(1.0, (width - _MARGINS) / picture.width, (height - _MARGINS - _HEAD) / picture.height)
        for width, height in ((short, long), (long, short))
    ]
    return Chart(picture=picture, paper=paper, is_wide=scales[1] > scales[0], scale=max(scales))
