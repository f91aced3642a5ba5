"""
Layout that is told once what comes out the same.

The PDF engine resolves the lengths of each box, measures each piece of text, the height of each
line and looks for each background as often as it meets them. Boxes of one style have the same
lengths and lines, most have no background, and a third of all pieces of text have been measured
before. Nothing on paper differs.
"""

import sys
from collections.abc import Callable
from functools import cache
from typing import Any

LENGTHS = (
    *(f"margin_{side}" for side in ("left", "right", "top", "bottom")),
    *(f"padding_{side}" for side in ("left", "right", "top", "bottom")),
    *(f"{bound}{axis}" for axis in ("width", "height") for bound in ("", "min_", "max_")),
)
CORNERS = tuple(
    f"border_{corner}_radius" for corner in ("top_left", "top_right", "bottom_right", "bottom_left")
)
BARE = {**dict.fromkeys(CORNERS, (0, 0)), "background": None}
OF_TEXT = (
    *("font_family", "font_size", "font_style", "font_stretch", "font_weight", "font_kerning"),
    *(f"font_variant_{kind}" for kind in ("ligatures", "position", "caps", "numeric")),
    *("font_variant_alternates", "font_variant_east_asian", "font_feature_settings"),
    *("font_variation_settings", "font_language_override", "lang", "direction", "tab_size"),
    *("white_space", "word_spacing", "letter_spacing", "word_break", "overflow_wrap", "hyphens"),
    *("hyphenate_character", "hyphenate_limit_chars", "hyphenate_limit_zone"),
    "text_decoration_line",
)
"""Properties that a line of text depends on."""


@cache
def lay_out_quickly() -> None:
    """Puts the quick ways in place of the engine's, once; the engine has been imported before."""
    from weasyprint.layout import background, percent, preferred
    from weasyprint.text import line_break

    line_break.Layout = _kept_lines(line_break.Layout)
    line_break.font_features = cache(line_break.font_features)
    line_break.get_font_description = _described(line_break.get_font_description)
    line_break._font_style_cache_key = _font_key(line_break._font_style_cache_key)
    background.layout_box_backgrounds = _backgrounds(background.layout_box_backgrounds)
    _everywhere("resolve_percentages", _lengths(percent.resolve_percentages))
    _everywhere("split_first_line", _measured(line_break.split_first_line))
    _everywhere("strut", _of_style(line_break.strut))
    _everywhere("shrink_to_fit", _fitting(preferred.shrink_to_fit, preferred.max_content_width))


def _everywhere(name: str, quick: Callable[..., Any]) -> None:
    """A way under its name in each module of the engine, for they take it from one another."""
    for module in [m for place, m in sys.modules.items() if place.startswith("weasyprint.")]:
        if name in vars(module):
            setattr(module, name, quick)


def _of_style(way: Callable[[Any], Any]) -> Callable[[Any], Any]:
    """Height and base line of a line without text, made once for each style."""

    def strut(style: Any) -> Any:
        kept = vars(style)
        if "strut" not in kept:
            kept["strut"] = way(style)
        return kept["strut"]

    return strut


def _fitting(way: Callable[..., float], widest: Callable[..., float]) -> Callable[..., float]:
    """A box that has room for all of its words in one line is that wide; else the engine looks."""

    def shrink_to_fit(context: Any, box: Any, available: float) -> float:
        wanted = widest(context, box, outer=False)
        return wanted if wanted <= available else way(context, box, available)

    return shrink_to_fit


def _kept_lines(base: Any) -> Any:
    """Lines of text that are drawn as they were laid out; the engine forgets and sets them anew."""

    class KeptLine(base):  # type: ignore[misc]
        def deactivate(self) -> None:
            """Nothing is forgotten: a sheet has a few thousand lines."""

        def reactivate(self, style: Any) -> None:
            if self.justification_spacing or _of_text(style) != _of_text(self.style):
                super().reactivate(style)

    return KeptLine


def _of_text(style: Any) -> tuple[Any, ...]:
    """What of a style a line of text depends on."""
    kept = vars(style)
    if "of_text" not in kept:
        values = (style[name] for name in OF_TEXT)
        kept["of_text"] = tuple(tuple(v) if type(v) in (list, set) else v for v in values)
    found: tuple[Any, ...] = kept["of_text"]
    return found


def _font_key(way: Callable[..., str]) -> Callable[..., str]:
    """The engine's key of a face, made once for each style."""

    def key(style: Any, include_size: bool = False) -> str:
        kept = vars(style).setdefault("font_keys", {})
        if include_size not in kept:
            kept[include_size] = way(style, include_size)
        found: str = kept[include_size]
        return found

    return key


def _described(way: Callable[[Any], Any]) -> Callable[[Any], Any]:
    """Faces as the library of text knows them, each described once for the fonts of a page."""

    def describe(style: Any) -> Any:
        kept = vars(style.font_config).setdefault("kept_descriptions", {})
        key = _of_text(style)
        if key not in kept:
            kept[key] = way(style)
        return kept[key]

    return describe


def _measured(way: Callable[..., Any]) -> Callable[..., Any]:
    """
    A piece of text is broken into a line once for each width, or once if it fits.

    Pages say where lines are kept: `kept_lines` of their fonts (see `own_page`).
    """

    def split(
        text: str,
        style: Any,
        context: Any,
        max_width: float | None,
        justification_spacing: float,
        is_line_start: bool = True,
        minimum: bool = False,
    ) -> Any:
        asked = (text, style, context, max_width, justification_spacing, is_line_start, minimum)
        kept = getattr(style.font_config, "kept_lines", None)
        if kept is None or justification_spacing:
            return way(*asked)
        whole = (text, _of_text(style))
        if whole in kept and _fits(kept[whole], max_width):
            return kept[whole]
        key = (*whole, max_width, is_line_start, minimum)
        if key not in kept:
            kept[key] = way(*asked)
            if _fits(kept[key], max_width):
                kept[whole] = kept[key]
        return kept[key]

    return split


def _fits(line: Any, max_width: float | None) -> bool:
    """True if all of the text is in the line, and the line in the width: the same in any wider."""
    _, _, resume_at, width, _, _ = line
    return resume_at is None and (max_width is None or width <= max_width)


def _lengths(way: Callable[..., None]) -> Callable[..., None]:
    """Lengths that depend on nothing but the style are resolved once for each."""

    def resolve(box: Any, containing_block: Any) -> None:
        kept = vars(box.style)
        if "lengths" not in kept:
            kept["lengths"] = _own_lengths(way, box) if _depends_on_style(box.style) else None
        if kept["lengths"] is None:
            way(box, containing_block)
        else:
            _of_box(box).update(kept["lengths"])

    return resolve


def _of_box(box: Any) -> dict[str, Any]:
    """Attributes of a box; of the one behind it, if it holds the place of an absolute one."""
    own: dict[str, Any] = vars(box)
    return vars(own["_box"]) if "_box" in own else own


def _depends_on_style(style: Any) -> bool:
    values = (style[name] for name in LENGTHS)
    return style["border_collapse"] != "collapse" and all(
        value == "auto" or getattr(value, "unit", "") == "px" for value in values
    )


def _own_lengths(way: Callable[..., None], box: Any) -> dict[str, Any]:
    way(box, (0, 0))
    widths = [f"border_{side}_width" for side in ("top", "right", "bottom", "left")]
    return {name: getattr(box, name) for name in (*LENGTHS, *widths)}


def _backgrounds(way: Callable[..., None]) -> Callable[..., None]:
    """Boxes without background and round corners are known by their style."""

    def lay_out(
        page: Any, box: Any, images: Any, layout_children: bool = True, style: Any = None
    ) -> None:
        if style is not None or box is page or not _is_bare(box.style):
            way(page, box, images, layout_children, style)
            return
        _of_box(box).update(BARE)
        if layout_children:
            for child in box.all_children():
                lay_out(page, child, images)

    return lay_out


def _is_bare(style: Any) -> bool:
    kept = vars(style)
    if "is_bare" not in kept:
        kept["is_bare"] = _looks_bare(style)
    found: bool = kept["is_bare"]
    return found


def _looks_bare(style: Any) -> bool:
    from weasyprint.draw.color import get_color

    return (
        all((0, "px") in style[corner] for corner in CORNERS)
        and style["border_image_source"][0] == style["mask_border_source"][0] == "none"
        and style["visibility"] == "visible"
        and get_color(style, "background_color").alpha == 0
        and all(kind == "none" for kind, _ in style["background_image"])
        and not style["box_shadow"]
    )
