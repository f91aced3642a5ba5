"""What a quotation looks like as data, for the customer and for the shop; money is text."""

from typing import NotRequired, TypedDict

from upgrade_planner.documents.shared.data_text import DataForm
from upgrade_planner.quote.gains import Verdict
from upgrade_planner.quote.priced import Section

Number = int | float

# Customer ---------------------------------------------------------------------------------------


class ShopData(TypedDict):
    """
    Who offers.

    Attributes:
        tax_number: As invoices have to show it; "" if the rates name none.
    """

    name: str
    address: list[str]
    contact: str
    tax_number: str


class FigureData(TypedDict):
    """A figure that gets better or worse; `now` and `after` in `unit`."""

    subject: str
    now: float
    after: float
    unit: str
    now_words: str
    after_words: str
    verdict: Verdict


class RowData(TypedDict):
    """A row of the price table."""

    words: str
    hours: NotRequired[Number]
    amount: str


class ChoiceData(TypedDict):
    """Another way, and its total."""

    words: str
    to_pay: str


class OfferPartData(TypedDict):
    """An article with its price; `quantity` in `unit`."""

    words: str
    quantity: Number
    unit: str
    amount: str
    tax: str


class BookedData(TypedDict):
    """
    A row for the accounts: one for each kind of charge and tax class.

    Attributes:
        kind: A section of the offer, or `rounding`.
        tax_class: As the rates name it; "" of the rounding.
        percent: Of tax.
        gross: Net and tax.
    """

    kind: str
    tax_class: str
    percent: str
    net: str
    tax: str
    gross: str


class OfferData(TypedDict):
    """
    One offer.

    Attributes:
        after_file: The configuration, shipped or as seen from this file.
        check_code: Of its plan: another wiring has another code.
        booked: Adds up to `net` and `to_pay`.
        letter: "" if it is the only one.
        price: Adds up to `net`; with `tax` to `to_pay`.
        to_pay_covering_80_percent: Enough in 80 of 100 such jobs; null of a fixed price.
    """

    letter: str
    number: str
    after: str
    after_file: str
    check_code: str
    work: list[str]
    put_right: list[str]
    figures: list[FigureData]
    price: list[RowData]
    net: str
    tax: list[RowData]
    to_pay: str
    booked: list[BookedData]
    to_pay_covering_80_percent: str | None
    hours: Number
    hours_covering_80_percent: Number | None
    without_a_price: list[str]
    options: list[ChoiceData]
    parts: list[OfferPartData]
    assumed: list[str]
    not_included: list[str]
    left_as_found: list[str]
    danger_findings: int


class AcceptedData(TypedDict):
    """What the customer ordered, and when; `letter` is "" if there was one offer only."""

    letter: str
    date: str


class InvoicedData(TypedDict):
    """The invoice that was written, and when."""

    number: str
    date: str


class QuotationData(TypedDict):
    """
    A quotation for the customer.

    Attributes:
        is_draft: Whether it has no number of the shop's.
        before_file: The configuration, shipped or as seen from this file.
        policy: What happens to wires that are no longer used.
        digest: Of all that was offered, so that nothing is changed by hand.
        accepted, invoiced: What became of it; null for nothing yet.
        kind: `fixed price` or `estimate`.
        language: Of all words in it, with the country whose figures it has.
        currency: Three letters.
        customer: Name, address and contact, a line each; none for a draft.
        vehicle_papers: Registration and odometer, in words; "" if not given.
        order: Number under which the customer ordered; "" for none.
        deposit: null for none.
        invented: What is invented in it; "" if nothing.
    """

    number: str
    is_draft: bool
    kind: str
    language: str
    customer: list[str]
    vehicle_papers: str
    order: str
    deposit: str | None
    delivery: str
    notes: list[str]
    date: str
    valid_until: str
    invented: str
    shop: ShopData
    currency: str
    vehicle: str
    serial_number: str
    owner: str
    before: str
    before_file: str
    policy: str
    terms: list[str]
    local_rules: str
    offers: list[OfferData]
    digest: str
    accepted: AcceptedData | None
    invoiced: InvoicedData | None


# The shop's own ---------------------------------------------------------------------------------


class InternalLineData(TypedDict):
    """
    One line.

    Attributes:
        low_min, likely_min, high_min: Minutes; null if it is no labour.
        quantity: In `unit`.
    """

    section: Section
    work: str
    words: str
    phase: str
    place: str
    low_min: Number | None
    likely_min: Number | None
    high_min: Number | None
    quantity: Number
    unit: str
    rate: str
    amount: str
    tax_class: str
    cost: str | None
    margin: str | None


class SumData(TypedDict):
    """A sum, in words."""

    words: str
    amount: str


class InternalOfferData(TypedDict):
    """
    One offer, line by line.

    Attributes:
        about_hours: How setting up once a place, and the common risk, enter the hours.
    """

    letter: str
    number: str
    after: str
    lines: list[InternalLineData]
    sums: list[SumData]
    about_hours: list[str]
    without_a_price: list[str]


class InternalQuotationData(TypedDict):
    """A quotation for the shop alone."""

    date: str
    invented: str
    currency: str
    offers: list[InternalOfferData]


QUOTATION = DataForm("quotation", 3, QuotationData)
INTERNAL_QUOTATION = DataForm("internal-quotation", 3, InternalQuotationData)
