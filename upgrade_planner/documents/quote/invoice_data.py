"""An invoice as data, and its lines for the accounts."""

from collections.abc import Iterator
from decimal import Decimal
from typing import TypedDict

from upgrade_planner.configuration.tables.cells import Cell
from upgrade_planner.configuration.tables.csv_files import csv_text
from upgrade_planner.documents.quote.invoice_views import Billing, InvoiceView
from upgrade_planner.documents.quote.quote_shape import (
    BookedData,
    OfferData,
    QuotationData,
    RowData,
    ShopData,
)
from upgrade_planner.documents.shared.data_text import DataForm, data_text

ACCOUNT_COLUMNS = (
    "number",
    "date",
    "delivered",
    "customer",
    "offer",
    "kind",
    "tax class",
    "percent",
    "net",
    "tax",
    "gross",
    "currency",
)
"""One row for each kind of charge and tax class; rows of several invoices can stand together."""


class InvoiceData(TypedDict):
    """
    An invoice; rows and sums are those of the offer.

    Attributes:
        number: Of the invoice.
        date: Of the invoice.
        delivered: When the work was done.
        offer: Number of the offer that was accepted.
        offer_digest: Of the offer as it is kept.
        check_code: Of the plan that was offered.
        language: Of all words in it, with the country whose figures it has.
        currency: Three letters.
        customer: Name, address and contact, a line each.
        vehicle_papers: Registration and odometer, in words; "" if not given.
        order: Number under which the customer ordered; "" for none.
        price: Adds up to `net`; with `tax` to `to_pay`.
        booked: The same for the accounts.
        paid: Before this invoice.
        due: What is left of `to_pay`.
        payment: How and until when to pay, a sentence each.
        without_a_price: What the offer had no price for.
        invented: What is invented in it; "" if nothing.
    """

    number: str
    date: str
    delivered: str
    offer: str
    offer_digest: str
    check_code: str
    language: str
    currency: str
    shop: ShopData
    customer: list[str]
    vehicle: str
    vehicle_papers: str
    order: str
    after: str
    price: list[RowData]
    net: str
    tax: list[RowData]
    to_pay: str
    booked: list[BookedData]
    paid: str
    due: str
    payment: list[str]
    without_a_price: list[str]
    invented: str


INVOICE = DataForm("invoice", 1, InvoiceData)


def invoice_json(view: InvoiceView, data: QuotationData, offer: OfferData, billing: Billing) -> str:
    """The invoice as JSON text; money is text."""
    made: InvoiceData = {
        "number": billing.number,
        "date": billing.given.isoformat(),
        "delivered": billing.delivered.isoformat(),
        "offer": offer["number"],
        "offer_digest": data["digest"],
        "check_code": offer["check_code"],
        "language": data["language"],
        "currency": data["currency"],
        "shop": data["shop"],
        "customer": data["customer"],
        "vehicle": data["vehicle"],
        "vehicle_papers": data["vehicle_papers"],
        "order": data["order"],
        "after": offer["after"],
        "price": offer["price"],
        "net": offer["net"],
        "tax": offer["tax"],
        "to_pay": offer["to_pay"],
        "booked": offer["booked"],
        "paid": str(view.paid),
        "due": str(view.due),
        "payment": list(view.payment),
        "without_a_price": offer["without_a_price"],
        "invented": data["invented"],
    }
    return data_text(INVOICE, made)


def accounts_csv(view: InvoiceView, data: QuotationData, offer: OfferData, billing: Billing) -> str:
    """The lines for the accounts as CSV text, with the decimal mark of the offer's language."""
    rows = _account_rows(data, offer, billing)
    return csv_text([ACCOUNT_COLUMNS, *rows], mark=view.speech.figures.decimal_mark)


def _account_rows(
    data: QuotationData, offer: OfferData, billing: Billing
) -> Iterator[tuple[Cell, ...]]:
    for row in offer["booked"]:
        yield (
            billing.number,
            billing.given.isoformat(),
            billing.delivered.isoformat(),
            data["customer"][0] if data["customer"] else "",
            offer["number"],
            row["kind"],
            row["tax_class"],
            Decimal(row["percent"]),
            Decimal(row["net"]),
            Decimal(row["tax"]),
            Decimal(row["gross"]),
            data["currency"],
        )
