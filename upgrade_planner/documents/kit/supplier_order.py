"""What is missing from the shelf, as orders to the suppliers: a paper, and rows."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from decimal import Decimal

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.tables.cells import Cell
from upgrade_planner.configuration.tables.csv_files import csv_text
from upgrade_planner.documents.words.amounts import exact_text
from upgrade_planner.documents.words.speech import Speech
from upgrade_planner.kit.articles import EACH, sorts
from upgrade_planner.kit.orders import OrderLine
from upgrade_planner.kit.packing import Kit
from upgrade_planner.kit.prices.money import Currency
from upgrade_planner.kit.prices.price_list import SoldBy
from upgrade_planner.kit.selling import Sale, sale
from upgrade_planner.quote.rates import Letterhead

COLUMNS = (
    "supplier",
    "supplier number",
    "number",
    "article",
    "quantity",
    "sold by",
    "contains",
    "price",
    "amount",
    "currency",
    "lead days",
    "missing",
    "unit",
    "order",
    "date",
)


@frozen(kw_only=True)
class Wanted:
    """
    One article to order.

    Attributes:
        words: The article.
        quantity: Selling units.
        sold_as: What one of them is, in words.
        bought: The same with its price; what is missing is `bought.needed`.
    """

    words: str
    quantity: str
    sold_as: str
    bought: Sale


@frozen(kw_only=True)
class SupplierPart:
    """
    The order to one supplier.

    Attributes:
        supplier: "" for what the list names none for.
        total: Of the lines with a price.
        open_count: Lines without one.
    """

    supplier: str
    lines: tuple[Wanted, ...]
    total: Decimal
    open_count: int


@frozen(kw_only=True)
class Unlisted:
    """Something that no line of the list has: `amount` is how much of it, in words."""

    words: str
    amount: str
    missing: Decimal
    unit: str


@frozen(kw_only=True)
class SupplierOrder:
    """
    All that is to be ordered for a kit.

    Attributes:
        parts: By supplier; those without a name last.
        unlisted: What the price list has not, or not with a row that can be read.
        letterhead: Of the shop; None where its rates are not known.
        currency: None likewise; prices then have the three letters of the list.
    """

    speech: Speech
    number: str
    date: str
    given: str
    parts: tuple[SupplierPart, ...]
    unlisted: tuple[Unlisted, ...]
    letterhead: Letterhead | None
    currency: Currency | None
    code: str

    def money(self, amount: Decimal) -> str:
        """An amount in words; a price may be finer than the currency."""
        currency = self.currency or Currency(code=self.code, decimals=2)
        digits = max(currency.decimals, -int(amount.normalize().as_tuple().exponent))
        return self.speech.money(amount, evolve(currency, decimals=digits))


def supplier_order(
    kit: Kit,
    speech: Speech,
    *,
    number: str,
    date: str,
    given: str,
    letterhead: Letterhead | None = None,
) -> SupplierOrder:
    """
    The order for what a kit lacks.

    Args:
        kit: With its order.
        speech: How it speaks.
        number: Of the list.
        date: Of issue, for rows.
        given: The same in words.
        letterhead: Of the shop.
    """
    lacking = [line for line in kit.order.lines if line.missing > 0 or line.line is None]
    groups: dict[str, list[Wanted]] = defaultdict(list)
    for line in lacking:
        if line.line is not None and (bought := _bought(line)) is not None:
            groups[line.line.supplier].append(_wanted(line, bought, speech))
    named = sorted(groups, key=lambda supplier: (not supplier, supplier.casefold(), supplier))
    return SupplierOrder(
        speech=speech,
        number=number,
        date=date,
        given=given,
        parts=tuple(_part(supplier, groups[supplier]) for supplier in named),
        unlisted=tuple(_unlisted(lacking, speech)),
        letterhead=letterhead
        and evolve(
            letterhead,
            name=speech.own(letterhead.name),
            address=tuple(map(speech.own, letterhead.address)),
        ),
        currency=kit.currency,
        code=kit.order.currency,
    )


def _bought(line: OrderLine) -> Sale | None:
    """Whole selling units for what is missing; a supplier cuts no reel to length."""
    assert line.line is not None
    whole = evolve(line.line, is_cut_to_length=False, stock=None, reels=())
    return sale(whole, line.missing)


def _wanted(line: OrderLine, bought: Sale, speech: Speech) -> Wanted:
    return Wanted(
        words="; ".join(map(speech.article, line.articles)),
        quantity=speech.pointed(exact_text(bought.units)),
        sold_as=_sold_as(bought, line.articles[0].unit, speech),
        bought=bought,
    )


def _sold_as(bought: Sale, unit: str, speech: Speech) -> str:
    inside = exact_text(bought.line.contains)
    contains = inside if unit == EACH else speech.amount(bought.line.contains, unit)
    sold_by = bought.line.sold_by
    if sold_by is SoldBy.EACH and bought.line.contains != 1:
        sold_by = SoldBy.PACK
    return speech.say(f"sold.{sold_by}", contains=contains)


def _part(supplier: str, lines: list[Wanted]) -> SupplierPart:
    amounts = [one.bought.amount for one in lines]
    priced = [amount for amount in amounts if amount is not None]
    return SupplierPart(
        supplier=supplier,
        lines=tuple(sorted(lines, key=lambda one: (one.bought.line.supplier_number, one.words))),
        total=sum(priced, Decimal("0.00")),
        open_count=len(amounts) - len(priced),
    )


def _unlisted(lines: Iterable[OrderLine], speech: Speech) -> Iterator[Unlisted]:
    for line in lines:
        if line.line is None:
            unit = line.articles[0].unit
            yield Unlisted(
                words="; ".join(map(speech.article, line.articles)),
                amount=speech.amount(line.missing, unit),
                missing=line.missing,
                unit=unit,
            )


def supplier_csv(order: SupplierOrder) -> str:
    """The lines as CSV text, with the decimal mark of the language."""
    return csv_text([COLUMNS, *_rows(order)], mark=order.speech.figures.decimal_mark)


def _rows(order: SupplierOrder) -> Iterator[tuple[Cell, ...]]:
    for part in order.parts:
        for one in part.lines:
            line = one.bought.line
            yield (
                part.supplier,
                line.supplier_number,
                line.number,
                one.words,
                one.bought.units,
                str(line.sold_by),
                line.contains,
                line.price,
                one.bought.amount,
                order.code,
                line.lead_days,
                one.bought.needed,
                sorts()[line.sort].unit,
                order.number,
                order.date,
            )
    for other in order.unlisted:
        known: dict[str, Cell] = {
            "article": other.words,
            "missing": other.missing,
            "unit": other.unit,
            "order": order.number,
            "date": order.date,
        }
        yield tuple(known.get(name) for name in COLUMNS)
