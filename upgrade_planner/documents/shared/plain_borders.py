"""
Borders that are a bar for each side.

The PDF engine cuts each side of a border out of a box with corners, for sides may differ in colour
and corners be round: half of what a sheet's pages were made of. A bar covers the same area.
"""

from collections.abc import Callable, Iterator
from functools import cache, wraps
from typing import Any

SIDES = ("top", "right", "bottom", "left")


@cache
def draw_plain_borders() -> None:
    """Puts bars in place of the engine's borders, once; the engine has been imported before."""
    from weasyprint import draw

    draw.draw_border = _drawn(draw.draw_border)


def _drawn(way: Callable[[Any, Any], None]) -> Callable[[Any, Any], None]:
    """Sides of one colour are drawn as bars; a whole border, a round or a dashed one as ever."""

    @wraps(way)
    def draw(stream: Any, box: Any) -> None:
        widths = [getattr(box, f"border_{side}_width") for side in SIDES]
        if all(widths) or not _is_plain(box):
            way(stream, box)
        elif any(widths):
            from weasyprint.draw.color import get_color

            with stream.artifact():
                stream.set_color(get_color(box.style, "border_top_color"))
                for bar in _bars(box, *widths):
                    stream.rectangle(*bar)
                stream.fill()

    return draw


def _bars(box: Any, *widths: float) -> Iterator[tuple[float, float, float, float]]:
    """Position and size of each side that is there."""
    top, right, bottom, left = widths
    x, y = box.border_box_x(), box.border_box_y()
    width, height = box.border_width(), box.border_height()
    if top:
        yield x, y, width, top
    if right:
        yield x + width - right, y, right, height
    if bottom:
        yield x, y + height - bottom, width, bottom
    if left:
        yield x, y, left, height


def _is_plain(box: Any) -> bool:
    kept = vars(box.style)
    if "has_plain_border" not in kept:
        kept["has_plain_border"] = _has_plain_border(box.style)
    found: bool = kept["has_plain_border"]
    return found


def _has_plain_border(style: Any) -> bool:
    """One covering colour, solid where there is a side, no picture, nothing round, no columns."""
    from weasyprint.draw.color import get_color

    colours = {get_color(style, f"border_{side}_color") for side in SIDES}
    return (
        style["visibility"] == "visible"
        and style["column_width"] == style["column_count"] == "auto"
        and style["border_image_source"][0] == "none"
        and len(colours) == 1
        and colours.pop().alpha == 1
        and all(style[f"border_{side}_style"] in ("solid", "none") for side in SIDES)
        and not any(0 not in (a.value, b.value) for a, b in _corners(style))
    )


def _corners(style: Any) -> Iterator[Any]:
    for end in ("top", "bottom"):
        for side in ("left", "right"):
            yield style[f"border_{end}_{side}_radius"]
