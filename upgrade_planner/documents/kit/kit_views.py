"""What the pages of a kit show, as plain words; the templates only lay it out."""

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.kit.scanned import Code


@frozen(kw_only=True)
class KitJobRow:
    """One job of the order."""

    number: str
    vehicle: str
    before: str
    after: str
    times: str
    sheets: str
    """Numbers of its work sheets, one a stage."""


@frozen(kw_only=True)
class PickLine:
    """One article to take from the shelf."""

    article: str
    number: str
    """The shop's own; "" if the list has none."""
    code: Code | None
    """The number as a scanner reads it; None if it was not asked for or there is none."""
    shelf_place: str
    """"" if the list has none."""
    unit: str
    needed: str
    to_pack: str
    in_stock: str
    """How much of that the shelf gives."""
    on_shelf: str
    """All that lies there; "" if it gives nothing."""
    missing: str
    """"" if nothing is missing."""
    left_over: str
    amount: str
    """What all of it costs; "" if it is open."""
    sold_as: str
    notes: tuple[str, ...]
    is_open: bool


@frozen(kw_only=True)
class PickShelf:
    """The articles of one shelf."""

    heading: str
    lines: tuple[PickLine, ...]


@frozen(kw_only=True)
class ReelRow:
    """What is cut from one reel."""

    reel: str
    cuts: tuple[str, ...]
    rest: str


@frozen(kw_only=True)
class CutGroup:
    """The reels of one cable."""

    article: str
    number: str
    reels: tuple[ReelRow, ...]
    note: str


@frozen(kw_only=True)
class WireRow:
    """One wire to cut, and what goes on its ends."""

    id: str
    conductor: str
    length: str
    start: str
    end: str
    notes: tuple[str, ...]


@frozen(kw_only=True)
class BagItem:
    """One article in a bag."""

    quantity: str
    article: str
    number: str
    used_for: str
    missing: str
    note: str
    """What is different if it stands in for what was asked for."""


@frozen(kw_only=True)
class BagView:
    """One bag."""

    number: int
    title: str
    vehicle: str
    whereto: str
    sheet: str
    wires: tuple[WireRow, ...]
    items: tuple[BagItem, ...]


@frozen(kw_only=True)
class BackRow:
    """Exchange parts that come back."""

    quantity: str
    article: str
    used_for: str


@frozen(kw_only=True)
class OpenRow:
    """A line without a price."""

    what: str
    """`no article` or `no price`."""
    article: str
    quantity: str
    why: str


@frozen(kw_only=True)
class KitView:
    """The whole pick list."""

    title: str
    number: str
    code: str
    whose: str
    """Customer and order; "" if not given."""
    date: str
    prices: str
    is_demo: bool
    spare: str
    program: str
    dangers: tuple[str, ...]
    jobs: tuple[KitJobRow, ...]
    shelves: tuple[PickShelf, ...]
    open_rows: tuple[OpenRow, ...]
    missing_count: int
    cuts: tuple[CutGroup, ...]
    bags: tuple[BagView, ...]
    back: tuple[BackRow, ...]
    needs_heading: str
    needs: tuple[str, ...]
    """What such jobs commonly need and nobody computed."""
    pieces: str
    shows_amounts: bool
    shows_codes: bool
    """Whether each line says what it costs."""
    total: str
    excluding: str
    """`excluding 2 open lines`, or ""."""

    @property
    def has_places(self) -> bool:
        """Whether the shop says where its articles lie."""
        return any(line.shelf_place for shelf in self.shelves for line in shelf.lines)
