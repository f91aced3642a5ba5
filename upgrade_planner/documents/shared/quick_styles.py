"""
Styles that are read once, and take over most of what they are asked for.

The PDF engine reads the style sheet of each page, and asks for each property of each style whether
it is reckoned from others. Pages of ours have few style sheets, and a style says a dozen of its
hundreds of properties itself. Nothing on paper differs.
"""

from collections.abc import Callable
from functools import cache
from typing import Any

NOT_ITS_OWN = "@counter-style"
"""What a style sheet leaves with its page, in place of keeping it."""
NOT_PLAIN = ("display", "float", "page", "position")
"""Properties that depend on others, or on ancestors, where nothing is said of them."""


@cache
def style_quickly() -> None:
    """Puts the quick ways in place of the engine's, once; the engine has been imported before."""
    from weasyprint import css

    css.CSS = _read_once(css.CSS)
    css.ComputedStyle.__missing__ = _taken_over(css.ComputedStyle.__missing__)


def _read_once(way: Callable[..., Any]) -> Callable[..., Any]:
    """
    A style sheet that stands in a page is read once.

    Pages say where style sheets are kept: `kept_styles` of their fonts (see `own_page`).
    """

    def read(*, string: str | None = None, font_config: Any = None, **given: Any) -> Any:
        kept = getattr(font_config, "kept_styles", None)
        if kept is None or string is None or NOT_ITS_OWN in string:
            return way(string=string, font_config=font_config, **given)
        if string not in kept:
            own: dict[str, list[Any]] = {"page_rules": [], "layers": []}
            kept[string] = way(string=string, font_config=font_config, **{**given, **own})
        return kept[string]

    return read


def _taken_over(way: Callable[[Any, str], Any]) -> Callable[[Any, str], Any]:
    """What a style takes over from its parent, or begins with: most of what it is asked for."""
    from weasyprint.css import INHERITED, INITIAL_NOT_COMPUTED, INITIAL_VALUES, PHYSICAL_FUNCTIONS

    plain = {
        name
        for name in INITIAL_VALUES
        if name not in NOT_PLAIN and not name.startswith("text_decoration_")
    }
    inherited = plain & INHERITED
    begun = plain - INHERITED - INITIAL_NOT_COMPUTED
    logical = {
        other(block="ttb", inline=direction)
        for other in PHYSICAL_FUNCTIONS.values()
        for direction in ("ltr", "rtl")
    }

    def missing(style: Any, name: str) -> Any:
        cascaded = style.cascaded
        if name not in cascaded and (
            name not in PHYSICAL_FUNCTIONS or logical.isdisjoint(cascaded)
        ):
            if name in begun:
                style[name] = INITIAL_VALUES[name]
                return style[name]
            if name in inherited and style.parent_style is not None:
                style[name] = style.parent_style[name]
                return style[name]
        return way(style, name)

    return missing
