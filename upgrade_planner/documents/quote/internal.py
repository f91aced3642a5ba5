"""The shop's own paper of a quotation: every line, with minutes, rate, cost and margin."""

from collections.abc import Iterator, Sequence
from decimal import ROUND_HALF_UP, Decimal

from attrs import frozen

from upgrade_planner.documents.quote.quote_views import quantity_words
from upgrade_planner.planning.operations import Phase
from upgrade_planner.quote.lines import WorkLine
from upgrade_planner.quote.made import Made
from upgrade_planner.quote.priced import PricedLine, Section

TENTH = Decimal("0.1")


@frozen(kw_only=True)
class InternalLine:
    """
    One line.

    Attributes:
        low_min, likely_min, high_min: Sums over its operations, access included, factor of the
            old vehicle left out; None if it is no labour.
        cost: What the shop pays; None for labour, sundries and deposits.
        margin: What stays of a part's price; None likewise.
    """

    section: str
    work: str
    words: str
    phase: str
    place: str
    low_min: Decimal | None = None
    likely_min: Decimal | None = None
    high_min: Decimal | None = None
    quantity: Decimal
    unit: str
    rate: Decimal
    amount: Decimal
    tax_class: str
    cost: Decimal | None
    margin: Decimal | None

    @property
    def quantity_words(self) -> str:
        """Quantity with its unit."""
        return quantity_words(self.quantity, self.unit) if self.unit != "h" else str(self.quantity)


@frozen(kw_only=True)
class InternalOffer:
    """
    All lines of one offer, and its sums.

    Attributes:
        sums: Words and amount, from section to section down to what is to pay.
        together: How setting up once a place, and the common risk, enter the hours; sentences.
        open_items: What has no price.
    """

    letter: str
    number: str
    title: str
    lines: tuple[InternalLine, ...]
    sums: tuple[tuple[str, Decimal], ...]
    together: tuple[str, ...]
    open_items: tuple[str, ...]


def internal_offer(made: Made) -> InternalOffer:
    """The shop's own view of one offer."""
    return InternalOffer(
        letter=made.letter,
        number=made.number,
        title=made.plan.comparison.after.title,
        lines=tuple(_lines(made)),
        sums=tuple(_sums(made)),
        together=tuple(_together(made)),
        open_items=tuple(
            f"{one.words}, {quantity_words(one.quantity, one.unit)}" for one in made.own.open_lines
        ),
    )


def _lines(made: Made) -> Iterator[InternalLine]:
    for index, line in enumerate(made.own.lines):
        yield _line(line, made.work[index] if index < len(made.work) else None)


def _line(line: PricedLine, work: WorkLine | None) -> InternalLine:
    """Labour lines come first, in the order of the work lines that they bill."""
    if work is not None:
        assert (line.work, line.phase, line.place) == (work.work, work.phase, work.place)
    low, likely, high = _minutes(work.estimates if work else ())
    is_part = line.section is Section.PARTS
    return InternalLine(
        section=str(line.section),
        work=line.work,
        words=line.words,
        phase=line.phase,
        place=line.place,
        low_min=low,
        likely_min=likely,
        high_min=high,
        quantity=line.quantity,
        unit=line.unit,
        rate=line.unit_price,
        amount=line.amount,
        tax_class=line.tax_class,
        cost=line.cost,
        margin=line.margin if is_part else None,
    )


def _minutes(estimates: Sequence[object]) -> tuple[Decimal | None, ...]:
    if not estimates:
        return None, None, None
    return tuple(
        rounded_min(sum(getattr(one, name) for one in estimates))
        for name in ("low", "likely", "high")
    )


def rounded_min(minutes: float) -> Decimal:
    """Minutes to the tenth."""
    return Decimal(minutes).quantize(TENTH, ROUND_HALF_UP)


def _sums(made: Made) -> Iterator[tuple[str, Decimal]]:
    own = made.own
    for section, amount in own.expected.sections:
        yield str(section).capitalize(), amount
    yield "Before tax", own.expected.net
    for tax in own.expected.taxes:
        yield tax.words.capitalize(), tax.amount
    yield "Rounding", own.expected.rounding
    yield "To pay, expected", own.expected.to_pay
    yield own.reserve.words, own.reserve.amount
    yield "To pay in 80 of 100 such jobs at most, as far as labour decides", own.covering.to_pay
    yield "Cost of parts", own.cost
    yield "Margin on parts", own.margin


def _together(made: Made) -> Iterator[str]:
    one = made.own.overlap
    yield (
        f"Each phase at each place alone: {rounded_min(one.alone_min)} min; setting up once a "
        f"place saves {rounded_min(one.saved_min)} min; together "
        f"{rounded_min(one.together_min)} min, before the allowance for an old vehicle."
    )
    yield (
        f"Hours billed {made.own.hours}, enough in 80 of 100 such jobs {made.own.covering_hours}."
    )


def phase_words(letter: str) -> str:
    """`F run wires`; "" for a line of no phase."""
    return f"{letter} {Phase(letter).name.replace('_', ' ').lower()}" if letter else ""
