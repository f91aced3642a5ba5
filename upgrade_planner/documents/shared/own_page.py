"""
Our own pages as the PDF engine takes them.

The engine's ways with HTML are for any page in the world. Ours are trees already (`well_formed`),
have few kinds of elements, and pictures that know their own styles.
"""

import atexit
from functools import cache
from typing import Any

from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.documents.shared.well_formed import page_tree

FIELDS = "input { appearance: auto }"
"""What makes an input a field that a PDF viewer can fill."""

MOST_LINES = 20_000
"""Lines of text that are kept for the next page of the same process: those of five sheets."""


def own_page(html: str, url_fetcher: Any) -> Any:
    """
    A page for the engine to lay out; `pdf_engine` has been called before.

    Args:
        html: A page from our templates.
        url_fetcher: Gets what the page asks for.

    Returns:
        The engine's `HTML`, with the styles of `elements.css` in place of those of all of HTML;
        read by the engine's own parser only where XML is too strict.
    """
    return _kind_of_page()(html, url_fetcher)


@cache
def _kind_of_page() -> Any:
    from weasyprint import HTML, cssselect2

    class Outside(cssselect2.ElementWrapper):  # type: ignore[misc]
        """An element that gets a style: what a picture is made of is not displayed as HTML."""

        def iter_children(self) -> Any:
            inside = self.parent is not None and self.parent.local_name == "svg"
            return iter(()) if inside else super().iter_children()

    class OwnPage(HTML):  # type: ignore[misc]
        def __init__(self, html: str, url_fetcher: Any) -> None:
            root = page_tree(html)
            if root is None:
                root = HTML(string=html, url_fetcher=url_fetcher).etree_element
            self.base_url, self.url_fetcher, self.media_type = None, url_fetcher, "print"
            self.wrapper_element = Outside.from_html_root(root, content_language=None)
            self.etree_element = root

        def render(self, *given: Any, **named: Any) -> Any:
            return super().render(*given, font_config=_fonts_of_a_page(), **named)

        def _ua_stylesheets(self, forms: bool = False) -> list[Any]:
            return _styles()[0][: 2 if forms else 1]

        def _ua_counter_style(self) -> list[Any]:
            return [_styles()[1]]

    return OwnPage


def forget_styles() -> None:
    """Reads all style sheets anew, for the engine complains of a faulty one while it reads it."""
    _fonts().kept_styles.clear()


def _fonts_of_a_page() -> Any:
    """
    Our fonts, with the style sheets and lines of text of the pages before this one.

    Faces are of one file: it is written before the next page is laid out.
    """
    fonts = _fonts()
    fonts.kept_faces = {}
    if len(fonts.kept_lines) > MOST_LINES:
        fonts.kept_lines.clear()
    return fonts


@cache
def _fonts() -> Any:
    """Fonts of all pages of a process: sheets of one job say much in the same words."""
    from weasyprint.text.fonts import FontConfiguration

    fonts = FontConfiguration()
    fonts.kept_lines, fonts.kept_styles = {}, {}
    atexit.register(fonts.__del__)  # else its files stay: it is called too late by itself
    return fonts


@cache
def _styles() -> tuple[list[Any], Any]:
    """Of elements, then of fields; and how lists and pages are counted."""
    from weasyprint import CSS
    from weasyprint.css.counters import CounterStyle

    elements = (shipped_folder("templates") / "shared" / "elements.css").read_text("utf-8")
    counters = CounterStyle()
    settings = {"counter_style": counters, "url_fetcher": _nothing}
    return [CSS(string=text, **settings) for text in (elements, FIELDS)], counters


def _nothing(url: str) -> Any:
    raise ValueError(f"styles of elements ask for '{url}'")
