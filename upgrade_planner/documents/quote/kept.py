"""
Offers that a shop keeps: what was offered stays as it was, what became of it is written beside it.

A quotation as JSON is all there is to keep. Its digest covers everything but the state, so that an
invoice has the sums that the customer signed, whatever prices have become since.
"""

import hashlib
import json
from collections.abc import Mapping
from datetime import date
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any, cast

from upgrade_planner.configuration.files.texts import read_text
from upgrade_planner.documents.quote.quote_shape import QUOTATION, OfferData, QuotationData
from upgrade_planner.documents.shared.data_text import data_text
from upgrade_planner.errors import PlannerError

_STATE = ("accepted", "invoiced", "digest")


class NotKept(PlannerError):
    """A file that is no offer as it was written, or one whose state forbids what is asked."""


def with_digest(data: QuotationData) -> QuotationData:
    """The same, with the digest of what is offered."""
    return {**data, "digest": offer_digest(data)}


def offer_digest(data: Mapping[str, Any]) -> str:
    """Of everything but the state."""
    offered = {key: value for key, value in data.items() if key not in _STATE}
    text = json.dumps(offered, sort_keys=True, ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def read_kept(path: Path) -> QuotationData:
    """
    An offer as it was written.

    Raises:
        ConfigurationError: the file cannot be read.
        NotKept: it is no offer of this program and version, or it was changed by hand.
    """
    text = read_text(path, "an offer as JSON")
    try:
        envelope = json.loads(text)
        is_one = (envelope["format"], envelope["version"]) == (QUOTATION.written, QUOTATION.version)
        data = envelope["data"]
        digest = data["digest"] if is_one else ""
    except (ValueError, TypeError, KeyError, RecursionError) as error:
        raise NotKept(_no_offer(path)) from error
    if not is_one:
        raise NotKept(_no_offer(path))
    if digest != offer_digest(data):
        raise NotKept(
            f"{path}: found an offer that was changed after it was written; expected it as 'quote' "
            "wrote it, or a new revision"
        )
    return _adding_up(path, cast(QuotationData, data))


def _no_offer(path: Path) -> str:
    return (
        f"{path}: found no offer; expected {QUOTATION.written}, version {QUOTATION.version}, as "
        "'quote -o offer.json' writes it"
    )


def _adding_up(path: Path, data: QuotationData) -> QuotationData:
    try:
        for offer in data["offers"]:
            if not _adds_up(offer):
                raise NotKept(f"{path}: found sums that do not add up; expected it as written")
    except (KeyError, TypeError, InvalidOperation) as error:
        raise NotKept(_no_offer(path)) from error
    return data


def _adds_up(offer: OfferData) -> bool:
    """Rows to the net, net and taxes to what is to pay, and the accounts to both."""
    net, to_pay = Decimal(offer["net"]), Decimal(offer["to_pay"])
    rows = sum(Decimal(row["amount"]) for row in offer["price"])
    taxes = sum(Decimal(row["amount"]) for row in offer["tax"])
    booked = sum(Decimal(row["gross"]) for row in offer["booked"])
    return rows == net and net + taxes == to_pay == booked


def kept_text(data: QuotationData) -> str:
    """The file of an offer, whatever has become of it."""
    return data_text(QUOTATION, data)


def is_same_offer(one: QuotationData, other: QuotationData) -> bool:
    """Whether both offer the same; what became of them does not count."""
    return one["digest"] == other["digest"]


# What becomes of it -----------------------------------------------------------------------------


def accepted(path: Path, data: QuotationData, letter: str, day: date) -> QuotationData:
    """
    The offer as the customer ordered it.

    Args:
        path: Its file, for messages.
        data: The offer.
        letter: Which of several; "" if there is one only.
        day: Of the order.

    Raises:
        NotKept: a draft; invoiced, or accepted otherwise, already; no such letter; a danger that
            would stay in the vehicle.
    """
    state = {"letter": letter, "date": day.isoformat()}
    if data["is_draft"]:
        raise NotKept(f"{path}: found a draft; expected an offer with a number (quote --number)")
    if data["accepted"] not in (None, state):
        raise NotKept(f"{path}: found it accepted on {data['accepted']['date']}; {_REVISE}")
    if offer_of(path, data, letter)["danger_findings"]:
        raise NotKept(
            f"{path}: found a danger that would stay in the vehicle; expected it solved, and a new "
            "revision"
        )
    return cast(QuotationData, {**data, "accepted": state})


_REVISE = "expected the same order, or a new revision of the offer"


def offer_of(path: Path, data: QuotationData, letter: str) -> OfferData:
    """
    One of the offers of a paper.

    Raises:
        NotKept: none has that letter.
    """
    for offer in data["offers"]:
        if offer["letter"] == letter:
            return offer
    letters = ", ".join(offer["letter"] for offer in data["offers"])
    found = f"--offer {letter}" if letter else "no --offer"
    wanted = f"one of {letters}" if letters else "none, for there is one offer only"
    raise NotKept(f"{path}: found {found}; expected {wanted}")


def invoiced(path: Path, data: QuotationData, number: str, day: date) -> QuotationData:
    """
    The offer with its invoice; the same invoice may be written again.

    Raises:
        NotKept: nobody has accepted it, or it has another invoice.
    """
    state = {"number": number, "date": day.isoformat()}
    if data["accepted"] is None:
        raise NotKept(
            f"{path}: found an offer that nobody has accepted; expected 'upgrade-planner accept "
            f"{path}' first"
        )
    if data["invoiced"] not in (None, state):
        told = f"invoice {data['invoiced']['number']} of {data['invoiced']['date']}"
        raise NotKept(f"{path}: found {told}; expected the same number and date")
    return cast(QuotationData, {**data, "invoiced": state})
