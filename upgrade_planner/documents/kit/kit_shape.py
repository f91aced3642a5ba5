"""What a kit looks like as data; the schema is made from these. Money is text in `currency`."""

from typing import TypedDict

from upgrade_planner.documents.shared.data_text import DataForm
from upgrade_planner.kit.prices.price_list import SoldBy

Number = int | float


class ArticleData(TypedDict):
    """An article."""

    sort: str
    traits: dict[str, str]
    unit: str
    words: str


class PricesData(TypedDict):
    """Where the prices come from."""

    file: str
    invented: bool


class JobData(TypedDict):
    """One upgrade of the order, and for how many vehicles."""

    name: str
    vehicles: int
    has_danger: bool
    sheets: list[str]


class AlternativeData(TypedDict):
    """A line of the price list that may stand in."""

    number: str
    why: str
    is_tagged: bool
    needs_other_terminals: bool


class LineData(TypedDict):
    """
    One line of the order; quantities in `unit`.

    Attributes:
        number: Of the price list; null where it has no such article.
        amount: null where there is no price.
        left_over: What stays of the last selling unit.
        shelf_place: Where it lies; "" if the list does not say.
        in_stock: How much of what is packed the shelf gives.
        on_shelf: All that lies there; null where it has no such article.
        lead_days: Until what is missing is there; null if not known.
    """

    articles: list[ArticleData]
    number: str | None
    unit: str
    needed: Number | None
    to_pack: Number | None
    in_stock: Number | None
    missing: Number | None
    sold_by: SoldBy | None
    selling_units: Number | None
    left_over: Number | None
    amount: str | None
    is_open: bool
    why: str
    alternatives: list[AlternativeData]
    shelf_place: str
    lead_days: int | None
    on_shelf: Number | None


class BagEndData(TypedDict):
    """
    One end of a wire in a bag.

    Attributes:
        in_bag: Number of the bag in which its articles lie; null for this one.
    """

    terminal: str
    articles: list[ArticleData]
    in_bag: int | None


class BagWireData(TypedDict):
    """
    A wire cut for a bag.

    Attributes:
        packed_from: Number of what stands in for its cable and what is different; "" for itself.
    """

    packed_from: str
    id: str
    number: int
    cut_m: Number | None
    ends: list[BagEndData]


class BagLineData(ArticleData):
    """An article in a bag; quantities in `unit`."""

    number: str | None
    to_pack: Number | None
    in_stock: Number | None
    missing: Number | None
    pieces_m: list[Number | None]
    used_for: list[str]


class WhereData(TypedDict):
    """Where the content of a bag goes, each counted from 1; null for spares."""

    job: int | None
    vehicle: int | None
    stage: int | None
    place: str | None


class BagData(WhereData):
    """One bag."""

    number: int
    place_name: str
    sheet: str
    wires: list[BagWireData]
    lines: list[BagLineData]


class PieceData(TypedDict):
    """A piece to cut."""

    length_m: Number | None
    wire: str
    bag: int | None


class ReelData(TypedDict):
    """A reel that is cut from."""

    source: str
    length_m: Number | None
    rest_m: Number | None
    pieces: list[PieceData]


class CuttingData(TypedDict):
    """
    How one sort of cable is cut.

    Attributes:
        is_proven: No other way leaves less over.
    """

    articles: list[ArticleData]
    number: str | None
    is_proven: bool
    reels: list[ReelData]


class GivenBackData(ArticleData):
    """A part that goes back as a core."""

    quantity: Number | None
    parts: list[str]


class TotalData(TypedDict):
    """The sum of the lines that have a price."""

    amount: str
    currency: str
    open_lines: int


class KitData(TypedDict):
    """A kit."""

    date: str
    check_code: str
    prices: PricesData
    spare_percent: Number
    jobs: list[JobData]
    lines: list[LineData]
    bags: list[BagData]
    cutting: list[CuttingData]
    gives_back: list[GivenBackData]
    commonly_needed: list[str]
    currency: str
    total: TotalData


KIT = DataForm("kit", 3, KitData)
