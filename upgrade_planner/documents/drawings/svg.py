"""Pictures as SVG: inside a page, where its faces are known, or as a file that stands alone."""

from base64 import b64encode
from collections.abc import Iterable
from html import escape

from upgrade_planner.documents.drawings.marks import PAPER, Box, Mark, number, svg_marks
from upgrade_planner.documents.shared.html import FONT_FILES, font_file

_NAMESPACE = "http://www.w3.org/2000/svg"
_FACES = "'Sheet Sans', sans-serif"


def inline_svg(
    marks: Iterable[Mark], width: float, height: float, alternative: str, *, scale: float = 1.0
) -> str:
    """
    A picture as part of a page.

    Args:
        marks: What is drawn.
        width: Of the picture. [mm]
        height: Of the picture. [mm]
        alternative: What it shows, for whoever cannot see it.
        scale: Its size on the page, as a share of its own.
    """
    title = f"<title>{escape(alternative, quote=False)}</title>"
    return _svg(marks, width, height, title, scale=scale)


def svg_file(
    marks: Iterable[Mark], width: float, height: float, *, title: str, alternative: str
) -> str:
    """
    A picture as a file of its own: faces inside, on white, so that dark screens show it, too.

    Args:
        marks: What is drawn.
        width: Of the picture. [mm]
        height: Of the picture. [mm]
        title: Its heading.
        alternative: What it shows, for whoever cannot see it.
    """
    head = f"<title>{escape(title, quote=False)}</title>"
    head += f"<desc>{escape(alternative, quote=False)}</desc><style>{_faces()}</style>"
    ground = Box(x=0, y=0, width=width, height=height, fill=PAPER)
    drawing = _svg((ground, *marks), width, height, head, space=f' xmlns="{_NAMESPACE}"')
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{drawing}'


def _svg(
    marks: Iterable[Mark],
    width: float,
    height: float,
    head: str,
    *,
    scale: float = 1.0,
    space: str = "",
) -> str:
    """The element; a page knows its name space by itself, a file must be told."""
    size = f'width="{number(width * scale)}mm" height="{number(height * scale)}mm"'
    box = f'viewBox="0 0 {number(width)} {number(height)}"'
    family = f'font-family="{_FACES}"'
    return f"<svg{space} {size} {box} {family}>{head}{svg_marks(marks)}</svg>"


def _faces() -> str:
    """Both faces, as addresses that hold them."""
    weights = {"regular": 400, "bold": 700}
    return "".join(
        f"@font-face{{font-family:'Sheet Sans';font-weight:{weights[face]};"
        f"src:url(data:font/ttf;base64,{b64encode(font_file(face).read_bytes()).decode()})}}"
        for face in FONT_FILES
    )
