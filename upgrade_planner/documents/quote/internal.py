"""The shop's own paper of a quotation: every line, with minutes, rate, cost and margin."""

from collections.abc import Iterator, Sequence
from decimal import ROUND_HALF_UP, Decimal
from itertools import zip_longest

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.quote.line_words import line_words, open_item_words
from upgrade_planner.documents.words.quantities import counted
from upgrade_planner.documents.words.speech import Speech
from upgrade_planner.documents.words.wording import sentence
from upgrade_planner.kit.prices.money import ZERO
from upgrade_planner.planning.operations import Phase
from upgrade_planner.quote.lines import WorkLine
from upgrade_planner.quote.made import Made
from upgrade_planner.quote.priced import PricedLine, Section, hours_billed

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

    section: Section
    work: str
    words: str
    phase: str
    place: str
    low_min: Decimal | None = None
    likely_min: Decimal | None = None
    high_min: Decimal | None = None
    quantity: Decimal
    unit: str
    quantity_words: str
    rate: Decimal
    amount: Decimal
    tax_class: str
    cost: Decimal | None
    margin: Decimal | None


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

    @property
    def grouped(self) -> Iterator[InternalLine]:
        """For paper: labour of one kind and phase in one line; all else line by line."""
        groups: dict[object, list[InternalLine]] = {}
        for number, line in enumerate(self.lines):
            is_timed = line.low_min is not None
            key = (line.work, line.words, line.phase) if is_timed else number
            groups.setdefault(key, []).append(line)
        return map(_together_told, groups.values())


def internal_offer(made: Made, speech: Speech) -> InternalOffer:
    """The shop's own view of one offer."""
    return InternalOffer(
        letter=made.letter,
        number=made.number,
        title=made.plan.comparison.after.title,
        lines=tuple(_lines(made, speech)),
        sums=tuple(_sums(made, speech)),
        together=tuple(_together(made)),
        open_items=tuple(
            open_item_words(one.article, one.quantity, speech) for one in made.own.open_lines
        ),
    )


def _lines(made: Made, speech: Speech) -> Iterator[InternalLine]:
    for line, work in zip_longest(made.own.lines, made.work):
        yield _line(line, work, speech)


def _together_told(lines: Sequence[InternalLine]) -> InternalLine:
    """Lines of the same words as one; all of them have minutes, or it is one line alone."""
    first, *others = lines
    if not others:
        return first
    hours = sum((line.quantity for line in lines), ZERO)
    low, likely, high = (
        sum((getattr(line, name) for line in lines), ZERO)
        for name in ("low_min", "likely_min", "high_min")
    )
    return evolve(
        first,
        place=counted(len({line.place for line in lines if line.place}), "place"),
        low_min=low,
        likely_min=likely,
        high_min=high,
        quantity=hours,
        quantity_words=str(hours),
        amount=sum((line.amount for line in lines), ZERO),
    )


def _line(line: PricedLine, work: WorkLine | None, speech: Speech) -> InternalLine:
    """Labour lines come first, in the order of the work lines that they bill."""
    if work is not None:
        assert (line.work, line.phase, line.place) == (work.work, work.phase, work.place)
    low, likely, high = _minutes(work.estimates if work else ())
    is_part = line.section is Section.PARTS
    return InternalLine(
        section=line.section,
        work=line.work,
        words=line_words(line, speech),
        phase=line.phase,
        place=line.place,
        low_min=low,
        likely_min=likely,
        high_min=high,
        quantity=line.quantity,
        unit=line.unit,
        quantity_words=str(line.quantity)
        if line.section is Section.LABOUR
        else speech.amount(line.quantity, line.unit),
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


def _sums(made: Made, speech: Speech) -> Iterator[tuple[str, Decimal]]:
    own = made.own
    for section, amount in own.expected.sections:
        if amount or section is not Section.DISCOUNTS:
            yield sentence(str(section)), amount
    yield "Before tax", own.expected.net
    for tax in (tax for tax in own.expected.taxes if tax.amount):
        yield sentence(tax.words), tax.amount
    if own.expected.rounding:
        yield "Rounding", own.expected.rounding
    yield "To pay, expected", own.expected.to_pay
    yield line_words(own.reserve, speech), own.reserve.amount
    yield "To pay in 80 of 100 such jobs at most, as far as labour decides", own.covering.to_pay
    yield "Cost of parts", own.cost
    yield "Margin on parts", own.margin
    for words, bought in (("stay on the shelf", False), ("were bought for this job", True)):
        if amount := own.rests(bought=bought):
            yield f"Rests of packs, reels and minima that {words}, at cost, in no sum", amount


def _together(made: Made) -> Iterator[str]:
    one = made.own.overlap
    yield (
        f"Each phase at each place alone: {rounded_min(one.alone_min)} min; setting up once a "
        f"place saves {rounded_min(one.saved_min)} min; together "
        f"{rounded_min(one.together_min)} min, before the allowance for an old vehicle."
    )
    low, high = (hours_billed(hours, made.own.rates) for hours in made.own.bounds_h)
    yield (f"By our estimate {low} h if every line goes well, {high} h if every line goes badly.")
    yield (
        f"Hours billed {made.own.hours}, by our estimate enough in 80 of 100 such jobs "
        f"{made.own.covering_hours}."
    )


def phase_words(letter: str) -> str:
    """`F run wires`; "" for a line of no phase."""
    return f"{letter} {Phase(letter).name.replace('_', ' ').lower()}" if letter else ""
