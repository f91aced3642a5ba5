"""
Lines of text in pictures, drawn whole.

The PDF engine sets each letter of a picture for itself, and each line that is centred as a picture
of its own: two thirds of what pictures took to print, and readers of the file found single letters.
Our lines need nothing of what that is for.
"""

from math import inf
from typing import Any

HEARD = frozenset(("x", "y", "font-size", "font-weight", "text-anchor", "fill"))
"""Attributes of a line of text that are heeded; family and size come from further out, too."""

BEFORE_X = {"start": 0.0, "middle": 0.5, "end": 1.0}
"""Share of a line that lies before its x, by its anchor."""


def draw_line_of_text(svg: Any, node: Any, font_size: float) -> None:
    """
    Draws an element `text` that is one line; the engine calls it.

    Args:
        svg: The picture, with the stream that is drawn to.
        node: The element.
        font_size: That it has or inherits, in lengths of the picture.
    """
    from weasyprint.draw.text import draw_first_line
    from weasyprint.matrix import Matrix
    from weasyprint.svg.text import TextBox
    from weasyprint.text.line_break import split_first_line

    weight = int(node.get("font-weight", 400))
    style = _style(svg.font_config, node.get("font-family", ""), weight, font_size)
    layout, _, _, width, _, baseline = split_first_line(node.text, style, svg.context, inf, 0)
    left = float(node.get("x", 0)) - BEFORE_X[node.get("text-anchor", "start")] * width
    layout.reactivate(style)
    box = TextBox(layout, style)
    box.baseline = baseline
    fill, stroke = svg.set_graphical_state(node, font_size)
    svg.stream.begin_text()
    svg.fill_stroke(fill, stroke, text=True)
    draw_first_line(
        svg.stream, box, "none", "none", Matrix(d=-1, e=left, f=float(node.get("y", 0)))
    )
    svg.stream.end_text()


def _style(font_config: Any, family: str, weight: int, font_size: float) -> Any:
    """A style of text, made once for the fonts of a page: pictures have few."""
    from weasyprint.css.properties import INITIAL_VALUES
    from weasyprint.svg.text import Style

    kept = vars(font_config).setdefault("kept_text_styles", {})
    key = family, weight, font_size
    if key not in kept:
        style = kept[key] = Style(INITIAL_VALUES)
        style.font_config = font_config
        style["font_family"] = [face.strip("\"' ") for face in family.split(",")]
        style["font_weight"], style["font_size"] = weight, font_size
    return kept[key]
