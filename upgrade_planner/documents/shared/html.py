"""
Lays out view models as HTML: text in, text out.

The same text becomes the PDF (see `pdf`) and, with fonts inside, the file for a telephone.
"""

from __future__ import annotations

import re
from base64 import b64encode
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.documents.words.english import page_in
from upgrade_planner.errors import PlannerError

if TYPE_CHECKING:
    from jinja2 import Environment

    from upgrade_planner.documents.worksheet.views import SheetView

PAPERS = ("A4", "Letter")
FONT_SCHEME = "sheet"
NO_BREAK = "\u00a0"
WORD_JOINER = "\u2060"
UNITS = (
    "mm² mm cm m ft in kV mV V mA Ah A MΩ kΩ mΩ Ω ohm kW W N·m N kg g lb AWG SAE °C °F % r/min s h"
)
NUMBER_AND_UNIT = re.compile(rf"(?<=\d) (?=\d{{3}}(?!\d)|(?:{'|'.join(UNITS.split())})(?!\w))")
FONT_FILES = {"regular": "sheet-regular.ttf", "bold": "sheet-bold.ttf"}


class UnknownPaper(PlannerError):
    """A paper size that the sheet is not laid out for."""


def worksheet_html(view: SheetView, *, paper: str = "A4", embed_fonts: bool = False) -> str:
    """
    The work sheet as HTML.

    Args:
        view: What the sheet shows.
        paper: "A4" or "Letter".
        embed_fonts: True for a file that stands alone in a browser: fonts inside, larger boxes
            and cards on a telephone. False for the PDF, which fetches its fonts itself.

    Returns:
        A complete HTML document. Equal inputs give equal text.

    Raises:
        UnknownPaper: paper is neither of the two.
    """
    return template_html(
        "worksheet/worksheet.html.jinja",
        paper=paper,
        embed_fonts=embed_fonts,
        view=view,
        language=view.language,
    )


def template_html(
    name: str, *, paper: str, embed_fonts: bool, language: str = "en", **content: Any
) -> str:
    """
    Any of our pages as HTML.

    Args:
        name: Template by room and file, such as `kit/kit.html.jinja`.
        paper: "A4" or "Letter".
        embed_fonts: As at `worksheet_html`.
        language: `en` as written, `en-US` or `en-GB` with the words of that English.
        content: What the template shows.

    Raises:
        UnknownPaper: paper is neither of the two.
    """
    if paper not in PAPERS:
        raise UnknownPaper(f"paper: found '{paper}'; expected {' or '.join(PAPERS)}")
    made = _environment().get_template(name)
    written = made.render(
        paper=paper,
        for_browser=embed_fonts,
        fonts={font: _font_address(font, embed_fonts) for font in FONT_FILES},
        language=language,
        **content,
    )
    return page_in(written, language)


def font_file(name: str) -> Path:
    """The shipped font `regular` or `bold`; any other name is a KeyError."""
    return shipped_folder("templates") / "fonts" / FONT_FILES[name]


def _font_address(name: str, embed: bool) -> str:
    if not embed:
        return f"{FONT_SCHEME}:{name}"
    return "data:font/ttf;base64," + b64encode(font_file(name).read_bytes()).decode("ascii")


@cache
def _environment() -> Environment:
    """Compiled templates are kept, for a batch of sheets and for the next command."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    from upgrade_planner.documents.shared.compiled import CompiledTemplates

    folder = shipped_folder("templates")
    return Environment(
        loader=FileSystemLoader(folder),
        bytecode_cache=CompiledTemplates(folder / "__pycache__", Path(__file__)),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        finalize=kept_together,
    )


def kept_together(value: Any) -> Any:
    """No line ends between a number and its unit, inside a number such as 1 350, or in r/min."""
    if type(value) is not str:
        return value
    return NUMBER_AND_UNIT.sub(NO_BREAK, value).replace("r/min", f"r/{WORD_JOINER}min")
