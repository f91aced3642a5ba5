"""Rows of a price list as lines, with everything that is wrong in them."""

import re
from collections.abc import Iterable, Mapping
from decimal import Decimal

from attrs import define, field

from upgrade_planner.configuration.files.faults import meant, one_of, quoted, shown
from upgrade_planner.configuration.tables.cells import is_live, plain
from upgrade_planner.configuration.tables.list_table import REFUSED, ListTable
from upgrade_planner.configuration.values.notation import NotationError
from upgrade_planner.errors import ConfigurationError, Problem
from upgrade_planner.kit.articles import EACH, METRE, sorts
from upgrade_planner.kit.prices.price_columns import price_columns, trait_columns
from upgrade_planner.kit.prices.price_list import FOOT_M, PriceLine, PriceList, SoldBy
from upgrade_planner.kit.prices.price_numbers import is_plain_number, wanted_number
from upgrade_planner.kit.prices.trait_texts import canonical
from upgrade_planner.kit.substitutes import objection

MOST_PROBLEMS = 200
"""Nobody reads more at once; the last one says how many there are. Source: our assumption."""

_MEASURE = re.compile(r"(\S+?)\s*(m|ft|ml|pieces|pcs)?", re.IGNORECASE)
_CURRENCY = re.compile(r"[A-Z]{3}")
_UNIT_WORD = {"m": "m", "ft": "ft", "ml": "ml", "pieces": "each", "pcs": "each"}
_ZERO, _ONE = Decimal(0), Decimal(1)


def price_list(table: ListTable, mark: str, currency: str) -> PriceList:
    """
    The lines of a table.

    Args:
        table: Its rows.
        mark: Decimal mark, `.` or `,`.
        currency: Of all prices.

    Raises:
        ConfigurationError: everything that is wrong with the table, by row and column.
    """
    reading = _Reading(table, mark, currency, list(table.problems))
    if reading.read_header():
        for number, cells in table.rows[1:]:
            reading.read_row(number, cells)
        reading.check_alternatives()
    if reading.problems:
        raise ConfigurationError(_first(reading.problems, table.file))
    columns = {name: number + 1 for name, number in reading.columns.items()}
    return PriceList(table.file, currency, tuple(reading.lines), columns)


def _first(problems: Iterable[Problem], file: str) -> list[Problem]:
    found = sorted(set(problems))
    more = len(found) - MOST_PROBLEMS
    if more <= 0:
        return found
    last = Problem(
        file=file,
        line=found[MOST_PROBLEMS].line,
        column=1,
        found=f"{more} more faults",
        expected="none; is it the right file, with the right decimal mark?",
    )
    return [*found[:MOST_PROBLEMS], last]


@define
class _Reading:
    table: ListTable
    mark: str
    currency: str
    problems: list[Problem]
    lines: list[PriceLine] = field(factory=list)
    columns: dict[str, int] = field(factory=dict)
    own: list[tuple[str, int]] = field(factory=list)
    numbers: dict[str, int] = field(factory=dict)
    articles: dict[tuple[str, ...], int] = field(factory=dict)
    line: int = 0
    cells: tuple[str, ...] = ()

    def read_header(self) -> bool:
        self.line, header = self.table.rows[0]
        self.cells = header
        titles = [plain(cell) for cell in header]
        names = ["_".join(title.lower().split()) for title in titles]
        known = {*price_columns(), *trait_columns()}
        before = len(self.problems)
        for number, (title, name) in enumerate(zip(titles, names, strict=True)):
            if name in known:
                self.columns.setdefault(name, number)
            elif name:
                self.own.append((title, number))
            if name and names.index(name) < number:
                self._fault_at(
                    number, name, f"column {quoted(name)} a second time", "each column once"
                )
        needed = [column.name for column in price_columns().values() if column.needed]
        missing = [name for name in needed if name not in self.columns]
        guesses = meant([name for name in names if name not in known], missing)
        for name in missing:
            hint = " (is it misspelt?)" if name in guesses else ""
            self._fault_at(
                max(len(header) - 1, 0),
                name,
                f"no column '{name}'{hint}",
                f"the columns {', '.join(needed)}, and more if wanted",
            )
        return len(self.problems) == before

    def read_row(self, line: int, cells: tuple[str, ...]) -> None:
        self.line, self.cells = line, cells
        before = len(self.problems)
        sort = self._sort()
        if sort is None:
            self._number_cell("price"), self._number_cell("stock")
            return
        traits = self._traits(sort)
        sold_by = self._sold_by()
        price = self._price()
        stock = self._number_cell("stock")
        minimum = self._number_cell("minimum") or _ZERO
        number = self._article_number()
        reels = self._reels(sold_by)
        contains = self._contains(sort, sold_by)
        line_currency = self._currency()
        ratio = self._ratio(sort)
        self._check_stock(sold_by, stock, reels, contains)
        rest = [self._text(name) for name in ("tax_class", "supplier_number", "alternative")]
        kept = tuple((title, self._own(title, column)) for title, column in self.own)
        if len(cells) > len(self.table.rows[0][1]) and any(cells[len(self.table.rows[0][1]) :]):
            self._fault_at(
                len(self.table.rows[0][1]),
                "",
                f"{len(cells)} cells in a row",
                "as many as there are column names",
            )
        self._check_twice(sort, traits, number)
        if len(self.problems) > before or sold_by is None or contains is None:
            return
        if sold_by.is_cut and reels and stock is None:
            stock = sum(reels, _ZERO) / contains
        self.lines.append(
            PriceLine(
                line=line,
                sort=sort,
                traits=traits,
                sold_by=sold_by,
                contains=contains,
                minimum=minimum,
                price=price,
                currency=line_currency,
                tax_class=rest[0],
                stock=stock,
                reels=reels,
                ratio=ratio,
                number=number,
                supplier_number=rest[1],
                alternative=rest[2],
                kept=kept,
            )
        )

    # Cells

    def _raw(self, name: str) -> str:
        column = self.columns.get(name, -1)
        return self.cells[column] if 0 <= column < len(self.cells) else ""

    def _text(self, name: str) -> str:
        return self._harmless(name, self._raw(name), self.columns.get(name, 0))

    def _own(self, title: str, column: int) -> str:
        raw = self.cells[column] if column < len(self.cells) else ""
        is_number = is_plain_number(raw[1:], self.mark) or not raw[1:]  # -3, +3, a lone dash
        return raw if is_number and raw[:1] in "+-" else self._harmless(title, raw, column)

    def _harmless(self, name: str, raw: str, column: int) -> str:
        if raw == REFUSED:
            return ""
        if is_live(raw):
            self._fault_at(
                column,
                name,
                f"{shown(raw)}, which a spreadsheet takes for a formula",
                "text that begins with a letter or figure",
            )
            return ""
        return plain(raw) if raw.startswith("'") else raw

    def _fault(self, name: str, found: str, expected: str) -> None:
        self._fault_at(self.columns.get(name, 0), name, found, expected)

    def _fault_at(self, column: int, name: str, found: str, expected: str) -> None:
        self.problems.append(
            Problem(
                file=self.table.file,
                line=self.line,
                column=column + 1,
                subject=name,
                found=found,
                expected=expected,
            )
        )

    # Columns

    def _sort(self) -> str | None:
        text = self._text("article").casefold()
        if text in sorts():
            return text
        if self._raw("article") != REFUSED and not is_live(self._raw("article")):
            self._fault(
                "article", shown(text) if text else "an empty cell", one_of(text, sorts(), limit=40)
            )
        return None

    def _traits(self, sort: str) -> Mapping[str, str]:
        wanted = sorts()[sort].traits
        for name in trait_columns():
            if name not in wanted and self._raw(name) not in ("", REFUSED):
                self._fault(name, shown(self._raw(name)), f"an empty cell: a {sort} has no {name}")
        return {name: self._trait(sort, name) for name in wanted}

    def _trait(self, sort: str, name: str) -> str:
        text = self._text(name)
        if self.mark == "," and text[:1].isdigit():
            text = text.replace(",", ".")
        try:
            return canonical(sort, name, text)
        except NotationError as error:
            nearest = f" (nearest: {', '.join(error.nearest)})" if error.nearest else ""
            self._fault(name, error.found, error.expected + nearest)
            return ""

    def _sold_by(self) -> SoldBy | None:
        text = self._text("sold_by").casefold()
        if text in tuple(SoldBy):
            return SoldBy(text)
        self._fault("sold_by", shown(text) if text else "an empty cell", one_of(text, SoldBy))
        return None

    def _number_cell(self, name: str) -> Decimal | None:
        return self._number(name, self._raw(name))

    def _price(self) -> Decimal | None:
        price = self._number_cell("price")
        if price == 0:
            self._fault("price", shown(self._raw("price")), "more than zero, or an empty cell")
        return price

    def _number(self, name: str, raw: str) -> Decimal | None:
        if raw in ("", REFUSED):
            return None
        if is_plain_number(raw, self.mark):
            return Decimal(raw.replace(",", "."))
        self._fault(name, shown(raw), wanted_number(raw, self.mark))
        return None

    def _measure(self, name: str, raw: str, bare: str) -> tuple[Decimal | None, str]:
        """Number and unit; `bare` is the unit of a number without one."""
        match = _MEASURE.fullmatch(raw)
        number = self._number(name, match[1] if match else raw)
        if number is not None and number <= 0:
            self._fault(name, shown(raw), "more than zero")
            return None, bare
        return number, _UNIT_WORD[match[2].lower()] if match and match[2] else bare

    def _contains(self, sort: str, sold_by: SoldBy | None) -> Decimal | None:
        raw, unit = self._raw("contains"), sorts()[sort].unit
        if sold_by is None or raw == REFUSED:
            return None
        if sold_by.is_cut:
            if unit != METRE or raw:
                found = shown(raw) if raw else f"a {sort} sold by the {sold_by}"
                self._fault(
                    "contains" if raw else "sold_by",
                    found,
                    "an empty cell by the metre or foot"
                    if raw
                    else f"each or pack: it is counted in {unit}",
                )
                return None
            return FOOT_M if sold_by is SoldBy.FOOT else _ONE
        if not raw:
            if sold_by is SoldBy.EACH and unit == EACH:
                return _ONE
            self._fault("contains", "an empty cell", f"what one {sold_by} holds, in {unit}")
            return None
        number, stated = self._measure("contains", raw, unit)
        return self._in_unit("contains", raw, number, (stated, unit))

    def _in_unit(
        self, name: str, raw: str, number: Decimal | None, units: tuple[str, str]
    ) -> Decimal | None:
        stated, wanted = units
        if number is None:
            return None
        if stated == "ft" and wanted == METRE:
            return number * FOOT_M
        if stated != wanted:
            self._fault(name, shown(raw), f"a measure in {wanted}")
            return None
        if wanted == EACH and number != number.to_integral_value():
            self._fault(name, shown(raw), "whole pieces")
            return None
        return number

    def _reels(self, sold_by: SoldBy | None) -> tuple[Decimal, ...]:
        raw = self._raw("reels")
        if raw in ("", REFUSED):
            return ()
        if sold_by not in (SoldBy.METRE, SoldBy.FOOT, SoldBy.REEL):
            self._fault("reels", shown(raw), "an empty cell, or cable by the metre, foot or reel")
            return ()
        bare = "ft" if sold_by is SoldBy.FOOT else METRE
        found = []
        for text in raw.replace(";", " ").split():
            number, unit = self._measure("reels", text, bare)
            found.append(self._in_unit("reels", text, number, (unit, METRE)))
        return () if None in found else tuple(length for length in found if length)

    def _check_stock(
        self,
        sold_by: SoldBy | None,
        stock: Decimal | None,
        reels: tuple[Decimal, ...],
        contains: Decimal | None,
    ) -> None:
        if sold_by is None or stock is None or contains is None:
            return
        if not sold_by.is_cut and stock != stock.to_integral_value():
            self._fault("stock", shown(self._raw("stock")), f"whole units: it is sold by {sold_by}")
        if sold_by.is_cut and reels and sum(reels, _ZERO) != stock * contains:
            total = sum(reels, _ZERO) / contains
            self._fault(
                "stock",
                f"{shown(self._raw('stock'))} with {total.normalize():f} on reels",
                "the sum of the reels, or an empty cell",
            )

    def _currency(self) -> str:
        text = self._text("currency")
        if text and not _CURRENCY.fullmatch(text):
            self._fault("currency", shown(text), "three capital letters")
        elif text and text != self.currency:
            self._fault("currency", shown(text), f"{self.currency}, as in the whole list")
        return self.currency

    def _ratio(self, sort: str) -> Decimal | None:
        raw = self._raw("ratio")
        if raw in ("", REFUSED):
            return None
        number = self._number("ratio", raw.removesuffix(":1"))
        if sort != "heat-shrink" or (number is not None and number <= 1):
            self._fault("ratio", shown(raw), "3:1 or the like, for heat-shrink only")
        return number

    def _article_number(self) -> str:
        text = self._text("number")
        if not text and self._raw("number") == "":
            self._fault("number", "an empty cell", "the shop's own article number")
        return text

    def _check_twice(self, sort: str, traits: Mapping[str, str], number: str) -> None:
        key = (sort, *traits.values())
        if self.articles.setdefault(key, self.line) != self.line:
            named = " ".join(value for value in key if value)
            self._fault(
                "article",
                f"{quoted(named)} a second time, first in line {self.articles[key]}",
                "each article in one line",
            )
        if number and self.numbers.setdefault(number, self.line) != self.line:
            self._fault(
                "number",
                f"{quoted(number)} a second time, first in line {self.numbers[number]}",
                "each number once",
            )

    def check_alternatives(self) -> None:
        by_number = {line.number: line for line in self.lines}
        for line in self.lines:
            other = by_number.get(line.alternative)
            is_faulty = other is None and line.alternative in self.numbers  # told at that line
            if line.alternative and not is_faulty and (amiss := _against(line, other)):
                self.line = line.line
                self._fault("alternative", *amiss)


def _against(line: PriceLine, other: PriceLine | None) -> tuple[str, str] | None:
    """What was found and expected where the alternative of a line is none."""
    if other is None or other is line:
        return quoted(line.alternative), "the number of another line of this list"
    if other.sort != line.sort:
        return f"{quoted(other.number)}, a {other.sort}", f"the number of a {line.sort}"
    reason = objection(line.sort, line.traits, other.traits, other.ratio)
    expected = "an article that may stand in for this one"
    return (f"{quoted(other.number)}: {reason}", expected) if reason else None
