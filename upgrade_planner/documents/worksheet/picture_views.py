"""What the pictures of a job show on paper, and what stands on the first pages beside them."""

from upgrade_planner.attributes import frozen


@frozen(kw_only=True)
class DrawingView:
    """One picture."""

    title: str
    svg: str
    """The picture as an SVG element, its sentence for those who cannot see it inside."""


@frozen(kw_only=True)
class ShelfView:
    """Pictures side by side, some below one another: no page may end in them."""

    columns: tuple[tuple[DrawingView, ...], ...]
    height: float
    """With their headings and the room below. [mm]"""


@frozen(kw_only=True)
class DrawingPageView:
    """A page of pictures."""

    heading: str
    is_wide: bool
    """True if the page lies on its long side."""
    shelves: tuple[ShelfView, ...]
    key: str
    """Key to the lines, as an SVG element; "" if it needs none."""


@frozen(kw_only=True)
class WhereRow:
    """A loom that is opened, or a place with work that the picture does not name."""

    mark: str
    """Letter of the loom or number of the place, as in the picture."""
    where: str
    between: str
    """Places at both ends of a loom; "" for a place."""
    what: str


@frozen(kw_only=True)
class WhereView:
    """Where the job is."""

    svg: str
    """The view from above; "" if the profile does not say where its places lie."""
    rows: tuple[WhereRow, ...]
    height: float = 0.0
    """Of the view. [mm]"""
    is_brief: bool = False
    """True if the list names the parts, and the view only counts them."""


@frozen(kw_only=True)
class FrontPart:
    """What stands on the first pages: a section of text, or pictures."""

    section: str
    """Its template by name; `shelf` or `page` for pictures."""
    rows: tuple[int, int] = (0, 0)
    """Of the wires that change: the first, and the one behind the last."""
    shelf: ShelfView | None = None
    key: str = ""
    """Key to the lines, with the first shelf."""
    page: DrawingPageView | None = None


CHANGED = "changed"
FRONT_SECTIONS = (CHANGED, "findings", "job", "prepare", "safety")
"""Sections between the title and the first phase, by their templates."""
