"""An offer that a customer has ordered: the call behind the command, and for scripts."""

from datetime import date
from pathlib import Path

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.quote.kept import accepted, kept_text, offer_of, read_kept
from upgrade_planner.documents.shared.writing import write_whole


@frozen(kw_only=True)
class Ordered:
    """
    What was ordered.

    Attributes:
        number: Of the offer.
        is_late: The offer was no longer valid on that day.
        deposit: Exact text, in the currency; "" for none.
    """

    number: str
    title: str
    to_pay: str
    currency: str
    deposit: str
    is_late: bool


def accept(path: Path, *, letter: str = "", day: date) -> Ordered:
    """
    Writes into the file of an offer that it was ordered, and which of several.

    Args:
        path: A quotation as JSON, with a number.
        letter: Of the offer that was chosen; "" if there is one only.
        day: Of the order.

    Raises:
        ConfigurationError: the file cannot be read.
        PlannerError: no offer, a draft, one changed by hand or ordered otherwise already.
    """
    data = accepted(path, read_kept(path), letter, day)
    offer = offer_of(path, data, letter)
    write_whole(path, kept_text(data).encode())
    return Ordered(
        number=offer["number"],
        title=offer["after"],
        to_pay=offer["to_pay"],
        currency=data["currency"],
        deposit=data["deposit"] or "",
        is_late=day.isoformat() > data["valid_until"],
    )
