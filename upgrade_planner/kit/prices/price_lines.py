"""
Rows of a price list as lines.

A row that is no article of ours is skipped and counted. One with a fault becomes an open line, or
none if nobody can tell what it is; the fault is kept as a warning. Read strictly, it is an error.
"""

from collections.abc import Iterable, Iterator
from decimal import Decimal
from difflib import get_close_matches

from attrs import define, evolve, field

from upgrade_planner.configuration.files.faults import one_of, quoted, shown
from upgrade_planner.configuration.tables.list_table import REFUSED, ListTable
from upgrade_planner.configuration.values.notation import NotationError
from upgrade_planner.errors import ConfigurationError, Problem
from upgrade_planner.kit.articles import sorts
from upgrade_planner.kit.prices.list_style import ListStyle
from upgrade_planner.kit.prices.price_cells import ListRow
from upgrade_planner.kit.prices.price_header import Header, read_header
from upgrade_planner.kit.prices.price_list import PriceLine, PriceList, SoldBy
from upgrade_planner.kit.prices.price_numbers import mark_of
from upgrade_planner.kit.prices.trait_texts import canonical
from upgrade_planner.kit.substitutes import objection

MOST_PROBLEMS = 200
"""Nobody reads more at once; the last one says how many there are. Source: our assumption."""

MISSPELT = 0.8
"""Likeness from which a word for an article is misspelt and not that of other goods, 0 to 1.
Source: our assumption; `cabel` is 0.8 like `cable`, `bolt` 0.4 like `bullet`."""

_NUMBERS = ("price", "minimum", "contains", "stock", "reels")
_ZERO = Decimal(0)


def price_list(table: ListTable, style: ListStyle, *, is_strict: bool = False) -> PriceList:
    """
    The lines of a table.

    Args:
        table: Its rows.
        style: How the list is written.
        is_strict: Whether a faulty row refuses the whole list.

    Raises:
        ConfigurationError: faulty column names, no row with an article, or, read strictly, any
            fault; all of them, by row and column.
    """
    header, problems = read_header(table, style)
    if problems:
        raise _refused([*problems, *table.problems], table.file)
    reading = _Reading(table, style, header, style.mark or _mark(table, header))
    reading.read()
    warnings = sorted({*reading.problems, *reading.asides})
    if warnings and is_strict:
        raise _refused(warnings, table.file)
    if not reading.lines and not warnings:
        raise ConfigurationError([_without_articles(table)])
    columns = {name: number + 1 for name, number in header.columns.items()}
    return PriceList(
        file=table.file,
        currency=style.currency,
        lines=tuple(reading.lines),
        columns=columns,
        foreign_rows=reading.foreign_rows,
        mark=reading.mark,
        warnings=tuple(warnings),
    )


def _mark(table: ListTable, header: Header) -> str:
    """The decimal mark that the figures show; "" if none does."""
    columns = [header.columns[name] for name in _NUMBERS if name in header.columns]
    cells = (cells[n] for _, cells in table.rows[1:] for n in columns if n < len(cells))
    return mark_of(cells)


def _without_articles(table: ListTable) -> Problem:
    rows = len(table.rows) - 1
    found = (
        f"{rows} rows, none of them an article of kits" if rows else "a row of column names alone"
    )
    expected = (
        f"in the column article one of: {', '.join(sorts())}; or the shop's own words for them in "
        "its settings, [prices.words]"
    )
    return Problem(file=table.file, found=found, expected=expected)


def _refused(problems: Iterable[Problem], file: str) -> ConfigurationError:
    found = sorted(set(problems))
    more = len(found) - MOST_PROBLEMS
    if more <= 0:
        return ConfigurationError(found)
    last = Problem(
        file=file,
        line=found[MOST_PROBLEMS].line,
        column=1,
        found=f"{more} more faults",
        expected="none; is it the right file, with the right decimal mark?",
    )
    return ConfigurationError([*found[:MOST_PROBLEMS], last])


@define
class _Reading:
    table: ListTable
    style: ListStyle
    header: Header
    mark: str
    problems: list[Problem] = field(factory=list)
    asides: list[Problem] = field(factory=list)
    lines: list[PriceLine] = field(factory=list)
    foreign_rows: int = 0

    def read(self) -> None:
        for number, cells in self.table.rows[1:]:
            row = self._row(number, cells)
            sort = _sort(row)
            if sort:
                self._read_line(row, sort)
            elif not row.faults:
                self.foreign_rows += 1
            self.problems += row.faults
            self.asides += row.asides
        self._check_numbers()
        self._check_alternatives()

    def _row(self, number: int, cells: tuple[str, ...]) -> ListRow:
        return ListRow(self.table.file, number, cells, self.header, self.style, self.mark)

    def _read_line(self, row: ListRow, sort: str) -> None:
        row.faults += [one for one in self.table.problems if one.line == row.line]
        line = _line(row, sort)
        if line is not None:
            self.lines.append(evolve(line, price=None, is_faulty=True) if row.faults else line)

    def _check_numbers(self) -> None:
        """One number means one article; of two nobody knows which has the price."""
        first: dict[str, PriceLine] = {}
        doubtful: set[int] = set()
        for line in self.lines:
            other = first.setdefault(line.number, line)
            if (other.sort, other.traits) != (line.sort, line.traits):
                doubtful |= {other.line, line.line}
                found = f"{quoted(line.number)} a second time, first in line {other.line}"
                self._fault(line, "number", found, "another number for another article")
        self._close(doubtful)

    def _check_alternatives(self) -> None:
        by_number = {line.number: line for line in self.lines}
        doubtful = set()
        for line in self.lines:
            other = by_number.get(line.alternative)
            if line.alternative and (amiss := _against(line, other)):
                self._fault(line, "alternative", *amiss)
                doubtful.add(line.line)
        for index, line in enumerate(self.lines):
            if line.line in doubtful:
                self.lines[index] = evolve(line, alternative="")

    def _close(self, doubtful: set[int]) -> None:
        for index, line in enumerate(self.lines):
            if line.line in doubtful:
                self.lines[index] = evolve(line, price=None, is_faulty=True)

    def _fault(self, line: PriceLine, name: str, found: str, expected: str) -> None:
        row = self._row(line.line, ())
        row.fault(name, found, expected)
        self.problems += row.faults


def _sort(row: ListRow) -> str:
    """Our word for the article; "" for other goods, with a fault if it is only misspelt."""
    text = row.style.word(row.text("article"))
    if text in sorts():
        return text
    if text and get_close_matches(text, sorts(), 1, MISSPELT):
        row.fault("article", shown(text), one_of(text, sorts(), limit=40))
    return ""


def _line(row: ListRow, sort: str) -> PriceLine | None:
    """The line of a row; None if nobody can tell what it is or how it is sold."""
    traits = dict(_traits(row, sort))
    sold_by, number = row.sold_by(), _number(row)
    contains = row.contains(sort, sorts()[sort].unit, sold_by) if sold_by else None
    reels, stock = row.reels(sold_by), row.number("stock")
    own, is_told = row.own(), len(traits) == len(sorts()[sort].traits)
    price, ratio = row.price(), row.ratio(shrinks=sort == "heat-shrink")
    row.check_currency()
    row.check_width()
    if sold_by is None or contains is None or not number or not is_told:
        row.number("minimum")
        return None
    line = PriceLine(
        line=row.line,
        sort=sort,
        traits=traits,
        sold_by=sold_by,
        contains=contains,
        minimum=row.number("minimum") or _ZERO,
        price=price,
        currency=row.style.currency,
        tax_class=row.text("tax_class"),
        stock=sum(reels, _ZERO) / contains if sold_by.is_cut and reels and stock is None else stock,
        reels=reels,
        ratio=ratio,
        number=number,
        supplier=row.text("supplier"),
        supplier_number=row.text("supplier_number"),
        alternative=row.text("alternative"),
        lead_days=row.lead_days(),
        shelf_place=row.text("shelf_place"),
        is_cut_to_length=row.style.cuts_reels and sold_by is SoldBy.REEL,
        kept=own,
        printed=tuple((title, text) for title, text in own if text and row.is_printed(title)),
    )
    _check_stock(row, line)
    return line


def _traits(row: ListRow, sort: str) -> Iterator[tuple[str, str]]:
    """Traits that can be read; a fault for each that cannot, or that the sort has not."""
    wanted = sorts()[sort].traits
    for name in row.header.traits:
        if name not in wanted and not row.is_empty(name):
            row.fault(name, shown(row.raw(name)), f"an empty cell: a {sort} has no {name}")
    for name in wanted:
        before = len(row.faults)
        text = row.text(name)
        try:
            value = canonical(sort, name, text)
        except NotationError as error:
            nearest = f" (nearest: {', '.join(error.nearest)})" if error.nearest else ""
            row.fault(name, error.found, error.expected + nearest)
        if len(row.faults) == before and row.raw(name) != REFUSED:
            yield name, value


def _number(row: ListRow) -> str:
    text = row.text("number")
    if not text and row.raw("number") == "":
        row.fault("number", "an empty cell", "the shop's own article number")
    return text


def _check_stock(row: ListRow, line: PriceLine) -> None:
    """Whole units are whole; what lies on the reels is the stock of cable by the metre."""
    stock, sold_by = line.stock, line.sold_by
    if stock is None:
        return
    if not sold_by.is_cut and stock != stock.to_integral_value():
        wanted = f"whole units: it is sold by {sold_by}"
        row.fault("stock", shown(row.raw("stock")), wanted)
    if sold_by.is_cut and line.reels and sum(line.reels, _ZERO) != stock * line.contains:
        total = (sum(line.reels, _ZERO) / line.contains).normalize()
        found = f"{shown(row.raw('stock'))} with {total:f} on reels"
        row.fault("stock", found, "the sum of the reels, or an empty cell")


def _against(line: PriceLine, other: PriceLine | None) -> tuple[str, str] | None:
    """What was found and expected where the alternative of a line is none."""
    if other is None or other is line:
        return quoted(line.alternative), "the number of another line of this list"
    if other.sort != line.sort:
        return f"{quoted(other.number)}, a {other.sort}", f"the number of a {line.sort}"
    reason = objection(line.sort, line.traits, other.traits, other.ratio)
    expected = "an article that may stand in for this one"
    return (f"{quoted(other.number)}: {reason}", expected) if reason else None
