"""What an invoice shows: the rows and sums of the offer as it was accepted."""

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from decimal import Decimal

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.quote.quote_shape import OfferData, QuotationData, RowData
from upgrade_planner.documents.quote.quote_views import Billed, PriceRow
from upgrade_planner.documents.words.speech import Speech
from upgrade_planner.kit.prices.money import ZERO, Currency
from upgrade_planner.quote.rates import InvoiceTexts, Letterhead


@frozen(kw_only=True)
class InvoiceView(Billed):
    """
    An invoice as its page shows it.

    Attributes:
        title, vehicle, work: In the language of the offer.
        offer: Number and date of the offer, in a sentence.
        price, taxes: As in the offer; they add up to `to_pay`.
        paid: Before this invoice.
        payment: How and until when to pay, a sentence each.
        without_a_price: What the offer had no price for, in a sentence; "" for nothing.
    """

    speech: Speech
    title: str
    number: str
    customer: tuple[str, ...]
    papers: str
    order: str
    letterhead: Letterhead
    logo: str
    currency: Currency
    vehicle: str
    serial_number: str
    work: str
    given: str
    delivered: str
    offer: str
    done: str
    price: tuple[PriceRow, ...]
    net: Decimal
    taxes: tuple[PriceRow, ...]
    hours: Decimal
    to_pay: Decimal
    paid: Decimal
    payment: tuple[str, ...]
    kind_words: str
    without_a_price: str
    invented: str

    @property
    def due(self) -> Decimal:
        """What is left to pay."""
        return self.to_pay - self.paid


@frozen(kw_only=True)
class Billing:
    """
    What an invoice adds to its offer.

    Attributes:
        number: Of the invoice.
        given: Date of the invoice.
        delivered: When the work was done.
        paid: Before this invoice.
        terms: Of the shop's rates.
        logo: As at `QuoteView`.
    """

    number: str
    given: date
    delivered: date
    paid: Decimal
    terms: InvoiceTexts
    logo: str = ""


def invoice_view(
    data: QuotationData, offer: OfferData, billing: Billing, speech: Speech
) -> InvoiceView:
    """The view of the invoice for one offer of a paper, in the language of the offer."""
    say, ordered = speech.say, data["accepted"]
    assert ordered is not None
    head, items, price = data["shop"], offer["without_a_price"], _rows(offer["price"])
    offered = speech.day(date.fromisoformat(data["date"]))
    return InvoiceView(
        speech=speech,
        title=say("title.invoice"),
        number=billing.number,
        customer=tuple(data["customer"]),
        papers=data["vehicle_papers"],
        order=data["order"],
        letterhead=Letterhead(
            name=head["name"],
            address=tuple(head["address"]),
            contact=head["contact"],
            tax_number=head["tax_number"],
        ),
        logo=billing.logo,
        currency=currency_of(data, offer),
        vehicle=data["vehicle"],
        serial_number=data["serial_number"],
        work=offer["after"],
        given=speech.day(billing.given),
        delivered=say("about.delivered", day=speech.day(billing.delivered)),
        offer=say("about.offer", number=offer["number"], day=offered),
        done=say("invoice.done", day=speech.day(date.fromisoformat(ordered["date"]))),
        price=price,
        net=Decimal(offer["net"]),
        taxes=_rows(offer["tax"]),
        hours=sum((row.hours for row in price if row.hours is not None), ZERO),
        to_pay=Decimal(offer["to_pay"]),
        paid=billing.paid,
        payment=_payment(Decimal(offer["to_pay"]) - billing.paid, billing, speech),
        kind_words=say("invoice.kind", kind=say(f"kind_word.{data['kind']}")),
        without_a_price=say("invoice.open", items="; ".join(items)) if items else "",
        invented=data["invented"],
    )


def currency_of(data: Mapping[str, object], offer: OfferData) -> Currency:
    """The currency of an offer, with the decimals that its sum is written with."""
    decimals = max(0, -int(Decimal(offer["net"]).as_tuple().exponent))
    return Currency(code=str(data["currency"]), decimals=decimals)


def _rows(rows: Sequence[RowData]) -> tuple[PriceRow, ...]:
    """Rows of the offer; hours with as many digits as the finest of them, at least one."""
    hours = [Decimal(str(row["hours"])) for row in rows if "hours" in row]
    step = Decimal(1).scaleb(min([-1, *(int(one.as_tuple().exponent) for one in hours)]))
    return tuple(
        PriceRow(
            words=row["words"],
            hours=Decimal(str(row["hours"])).quantize(step) if "hours" in row else None,
            amount=Decimal(row["amount"]),
        )
        for row in rows
    )


def _payment(due: Decimal, billing: Billing, speech: Speech) -> tuple[str, ...]:
    if due <= ZERO:
        return (speech.say("invoice.settled"),)
    days = billing.terms.payment_days
    until = speech.day(billing.given + timedelta(days=days))
    told = speech.say("invoice.payment", days=days, day=until)
    return (told, *map(speech.own, billing.terms.payment))
