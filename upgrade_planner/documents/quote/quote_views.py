"""What the customer's pages of a quotation show; templates only lay it out."""

from decimal import Decimal

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.quote.quote_words import Told
from upgrade_planner.documents.words.speech import Speech
from upgrade_planner.kit.prices.money import Currency
from upgrade_planner.quote.rates import Letterhead


@frozen(kw_only=True)
class PriceRow:
    """A row of the price table; `hours` None where there are none."""

    words: str
    hours: Decimal | None
    amount: Decimal


@frozen(kw_only=True)
class ChoiceRow:
    """Another way and its total."""

    words: str
    to_pay: Decimal
    note: str


@frozen(kw_only=True)
class ArticleRow:
    """An article with a price."""

    words: str
    quantity: Decimal
    unit: str
    amount: Decimal
    tax_words: str


@frozen(kw_only=True)
class OfferView:
    """
    One offer as its page shows it.

    Attributes:
        letter: `A`, `B`, …; "" if it is the only one.
        price: Labour, parts, sundries, deposits; the amounts add up to `net`.
        open_words: What the sums leave out; "" for nothing.
        taxes: Tax by class, and rounding if there is any; with `net` they add up to `to_pay`.
        covering: What is enough in most such jobs.
        parts: Every article with a price.
        kind_words: What of the sum binds shop and customer.
        assumed, excluded: Without those that hold for all offers of the paper.
        left: What stands against the vehicle afterwards.
    """

    letter: str
    number: str
    title: str
    work: tuple[str, ...]
    settled: tuple[str, ...]
    gains: tuple[Told, ...]
    price: tuple[PriceRow, ...]
    net: Decimal
    taxes: tuple[PriceRow, ...]
    to_pay: Decimal
    covering: Decimal
    hours: Decimal
    covering_hours: Decimal
    open_words: str
    open_items: tuple[str, ...]
    choices: tuple[ChoiceRow, ...]
    parts: tuple[ArticleRow, ...]
    kind_words: str
    assumed: tuple[str, ...]
    excluded: tuple[str, ...]
    left: tuple[str, ...]
    left_count: str
    left_dangers: tuple[str, ...]
    dangers: int

    @property
    def is_gain(self) -> bool:
        """False if nothing is put right and no figure gets better."""
        return bool(self.settled) or any(told.verdict == "better" for told in self.gains)


@frozen(kw_only=True)
class ComparedRow:
    """One line of the comparison: the vehicle as it is now, if that can be told, and each offer."""

    subject: str
    now: str
    cells: tuple[str, ...]
    is_strong: bool = False


class Billed:
    """A paper of sums: how they are told."""

    __slots__ = ()
    speech: Speech
    currency: Currency

    def money(self, amount: Decimal) -> str:
        """An amount in words."""
        return self.speech.money(amount, self.currency)

    def hours_words(self, hours: Decimal) -> str:
        """Hours in words."""
        return self.speech.number(hours)


@frozen(kw_only=True)
class QuoteView(Billed):
    """
    A quotation: one offer, or several side by side.

    Attributes:
        customer: Name, address and contact, a line each; none for a draft.
        papers: Registration and odometer, in words; "" if not given.
        order: Number under which the customer ordered; "" for none.
        kind: `fixed price` or `estimate`.
        logo: The shop's, as an address that holds the picture itself; "" for none.
        assumed, excluded: What holds for all offers; empty for a single one.
    """

    speech: Speech
    kind: str
    title: str
    number: str
    customer: tuple[str, ...]
    papers: str
    order: str
    deposit: Decimal | None
    delivery: str
    notes: tuple[str, ...]
    letterhead: Letterhead
    logo: str
    currency: Currency
    vehicle: str
    serial_number: str
    owner: str
    before: str
    given: str
    valid_until: str
    greeting: str
    closing: str
    terms: tuple[str, ...]
    invented: str
    local_rules: str
    offers: tuple[OfferView, ...]
    compared: tuple[ComparedRow, ...]
    assumed: tuple[str, ...]
    excluded: tuple[str, ...]
