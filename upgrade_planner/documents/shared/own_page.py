"""
Our own pages as the PDF engine takes them.

The engine's ways with HTML are for any page in the world. Ours are trees already (`well_formed`),
have few kinds of elements, and pictures that know their own styles.
"""

from functools import cache
from typing import Any

from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.documents.shared.well_formed import page_tree

FIELDS = "input { appearance: auto }"
"""What makes an input a field that a PDF viewer can fill."""


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
    from weasyprint.text.fonts import FontConfiguration

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
            fonts = FontConfiguration()
            fonts.kept_lines, fonts.kept_faces = {}, {}
            return super().render(*given, font_config=fonts, **named)

        def _ua_stylesheets(self, forms: bool = False) -> list[Any]:
            return _styles()[0][: 2 if forms else 1]

        def _ua_counter_style(self) -> list[Any]:
            return [_styles()[1]]

    return OwnPage


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
