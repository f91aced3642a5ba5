"""Single cells of one row of a price list: texts, numbers, measures, and what is wrong in them."""

import re
from decimal import Decimal
from functools import cache

from attrs import define, field

from upgrade_planner.configuration.files.faults import one_of, shown
from upgrade_planner.configuration.files.own_data import data_table
from upgrade_planner.configuration.tables.cells import CellNumber, is_live, plain
from upgrade_planner.configuration.tables.list_table import REFUSED
from upgrade_planner.errors import Problem
from upgrade_planner.kit.articles import EACH, METRE
from upgrade_planner.kit.prices.list_style import ListStyle, folded
from upgrade_planner.kit.prices.price_header import Header
from upgrade_planner.kit.prices.price_list import FOOT_M, SoldBy
from upgrade_planner.kit.prices.price_numbers import (
    MARKS,
    is_ambiguous,
    number_of,
    wanted_number,
    without_currency,
)

_MEASURE = re.compile(r"(.*?\d)\s*(m|ft|ml|pieces|pcs)?", re.IGNORECASE)
_UNIT_WORD = {"m": "m", "ft": "ft", "ml": "ml", "pieces": "each", "pcs": "each"}
_DAYS = re.compile(r"(\d{1,3})\s*(.*)", re.ASCII)
_SOLD_BY = {str(one): one for one in SoldBy}
_CURRENCY = re.compile(r"[A-Z]{3}")
_HARMLESS_SIGNS = ("-", "+")


@define
class ListRow:
    """
    One row that is being read.

    Attributes:
        file, line: Where it stands.
        cells: Its texts.
        header: What the columns mean.
        style: How the list is written.
        mark: Decimal mark of its numbers; "" if nobody can tell.
        faults: What is wrong with it.
        asides: What is wrong in cells that nothing is reckoned from.
    """

    file: str
    line: int
    cells: tuple[str, ...]
    header: Header
    style: ListStyle
    mark: str
    faults: list[Problem] = field(factory=list)
    asides: list[Problem] = field(factory=list)

    def raw(self, name: str) -> str:
        """Text of a cell as it stands; "" if the list has no such column."""
        column = self.header.columns.get(name)
        return "" if column is None or column >= len(self.cells) else self.cells[column]

    def at(self, column: int) -> str:
        """Text of a cell by the number of its column, from 0."""
        return self.cells[column] if 0 <= column < len(self.cells) else ""

    def is_empty(self, name: str) -> bool:
        """Whether there is nothing to read."""
        return self.raw(name) in ("", REFUSED)

    def text(self, name: str) -> str:
        """Text of a cell; "" if a spreadsheet would compute it."""
        raw = self.raw(name)
        if raw in ("", REFUSED):
            return ""
        if is_live(raw):
            self.fault(name, *_formula(raw))
            return ""
        return plain(raw) if raw.startswith("'") else raw

    def own(self) -> tuple[tuple[str, str], ...]:
        """The shop's own columns; a note may begin with a dash, no more than that is let in."""
        return tuple((title, self._own(title, number)) for title, number in self.header.own)

    def _own(self, title: str, column: int) -> str:
        raw = self.at(column)
        if raw in ("", REFUSED):
            return ""
        if is_live(raw) and not raw.startswith(_HARMLESS_SIGNS):
            self.asides.append(self.problem(column, title, *_formula(raw)))
            return ""
        return plain(raw) if raw.startswith("'") else raw

    def fault(self, name: str, found: str, expected: str) -> None:
        """Keeps what is wrong in a cell of ours."""
        column = self.header.columns.get(name, 0)
        self.faults.append(self.problem(column, name, found, expected))

    def problem(self, column: int, name: str, found: str, expected: str) -> Problem:
        """What is wrong in a cell."""
        return Problem(
            file=self.file,
            line=self.line,
            column=column + 1,
            subject=name,
            found=found,
            expected=expected,
        )

    # Numbers

    def number(self, name: str, raw: str | None = None) -> Decimal | None:
        """A number from zero; None for an empty cell, or a fault."""
        raw = self.raw(name) if raw is None else raw
        if raw in ("", REFUSED):
            return None
        if not self.mark and is_ambiguous(raw):
            words = " or ".join(f'decimal = "{word}"' for word in MARKS)
            self.fault(name, f"{shown(raw)}, which may be two numbers", f"{words} in the settings")
            return None
        number = number_of(raw, self.mark or ".")
        if number is None and not self.mark:
            number = number_of(raw, ",")
        if number is None:
            self.fault(name, shown(raw), wanted_number(raw, self.mark or "."))
        return number

    def whole(self, name: str) -> int | None:
        """A whole number above zero; None for an empty cell, or a fault."""
        number = self.number(name)
        if number is not None and (number <= 0 or number != number.to_integral_value()):
            self.fault(name, shown(self.raw(name)), "a whole number above zero, or an empty cell")
            return None
        return None if number is None else int(number)

    def price(self) -> Decimal | None:
        """Price of one selling unit; None if it is open."""
        raw = self.raw("price")
        per = self.whole("price_per") or 1
        if raw.casefold() in _words("on_request") or raw in ("", REFUSED):
            return None
        bare, code = without_currency(raw)
        if code and code != self.style.currency:
            self.fault(
                "price", f"{shown(raw)}, in {code}", f"{self.style.currency}, as in all rows"
            )
        price = self.number("price", bare)
        if price == 0:
            self.fault("price", shown(raw), "more than zero, or an empty cell")
        return None if price is None else price / per

    def lead_days(self) -> int | None:
        """Days until what is missing is there."""
        raw = self.raw("lead_days")
        found = _DAYS.fullmatch(raw)
        if found and (not found[2] or found[2].casefold().rstrip(".") in _words("days")):
            return int(found[1])
        if not self.is_empty("lead_days"):
            column = self.header.columns["lead_days"]
            wanted = "whole days such as 5, or an empty cell"
            self.asides.append(self.problem(column, "lead_days", shown(raw), wanted))
        return None

    def check_currency(self) -> None:
        """The cell of the currency says that of the list, or nothing."""
        text, wanted = self.text("currency"), self.style.currency
        if text and not _CURRENCY.fullmatch(text):
            self.fault("currency", shown(text), "three capital letters")
        elif text and text != wanted:
            self.fault("currency", shown(text), f"{wanted}, as in the whole list")

    # Measures

    def sold_by(self) -> SoldBy | None:
        """Selling unit."""
        text = self.style.word(self.text("sold_by"))
        if text in _SOLD_BY:
            return _SOLD_BY[text]
        self.fault("sold_by", shown(text) if text else "an empty cell", one_of(text, SoldBy))
        return None

    def contains(self, sort: str, unit: str, sold_by: SoldBy) -> Decimal | None:
        """What one selling unit holds, in the unit of the article; None with a fault."""
        raw = "" if self.is_empty("contains") else self.raw("contains")
        if sold_by.is_cut:
            return self._of_cut(sort, unit, sold_by, raw)
        if not raw:
            if sold_by is SoldBy.EACH and unit == EACH:
                return Decimal(1)
            self.fault("contains", "an empty cell", f"what one {sold_by} holds, in {unit}")
            return None
        return self._measure("contains", raw, bare=unit, wanted=unit)

    def _of_cut(self, sort: str, unit: str, sold_by: SoldBy, raw: str) -> Decimal | None:
        if raw:
            self.fault("contains", shown(raw), "an empty cell by the metre or foot")
        elif unit != METRE:
            found = f"a {sort} sold by the {sold_by}"
            self.fault("sold_by", found, f"each or pack: it is counted in {unit}")
        else:
            return FOOT_M if sold_by is SoldBy.FOOT else Decimal(1)
        return None

    def reels(self, sold_by: SoldBy | None) -> tuple[Decimal, ...]:
        """Lengths on opened reels. [m]"""
        if self.is_empty("reels"):
            return ()
        raw = self.raw("reels")
        if sold_by not in (SoldBy.METRE, SoldBy.FOOT, SoldBy.REEL):
            self.fault("reels", shown(raw), "an empty cell, or cable by the metre, foot or reel")
            return ()
        bare = "ft" if sold_by is SoldBy.FOOT else METRE
        parts = [raw] if isinstance(raw, CellNumber) else raw.replace(";", " ").split()
        found = [self._measure("reels", text, bare=bare, wanted=METRE) for text in parts]
        return () if None in found else tuple(length for length in found if length)

    def _measure(self, name: str, raw: str, *, bare: str, wanted: str) -> Decimal | None:
        """A measure in the wanted unit; `bare` is the unit of a number without one."""
        match = None if isinstance(raw, CellNumber) else _MEASURE.fullmatch(raw)
        number = self.number(name, match[1] if match else raw)
        unit = _UNIT_WORD[match[2].lower()] if match and match[2] else bare
        if number is None:
            return None
        if number <= 0:
            self.fault(name, shown(raw), "more than zero")
        elif unit == "ft" and wanted == METRE:
            return number * FOOT_M
        elif unit != wanted:
            self.fault(name, shown(raw), f"a measure in {wanted}")
        elif wanted == EACH and number != number.to_integral_value():
            self.fault(name, shown(raw), "whole pieces")
        else:
            return number
        return None

    def ratio(self, *, shrinks: bool) -> Decimal | None:
        """How far heat-shrink shrinks."""
        if self.is_empty("ratio"):
            return None
        raw = self.raw("ratio")
        bare = raw if isinstance(raw, CellNumber) else raw.removesuffix(":1")
        number = self.number("ratio", bare)
        if not shrinks or (number is not None and number <= 1):
            self.fault("ratio", shown(raw), "3:1 or the like, for heat-shrink only")
        return number

    def check_width(self) -> None:
        """No more cells than there are column names."""
        width = self.header.width
        if any(self.cells[width:]):
            found = f"{len(self.cells)} cells in a row"
            wanted = "as many as there are column names"
            self.faults.append(self.problem(width, "", found, wanted))

    def is_printed(self, title: str) -> bool:
        """Whether the shop wants an own column on its papers."""
        return folded(title) in self.style.printed


def _formula(raw: str) -> tuple[str, str]:
    wanted = "text that begins with a letter or figure"
    return f"{shown(raw)}, which a spreadsheet takes for a formula", wanted


@cache
def _words(name: str) -> frozenset[str]:
    return frozenset(data_table(__package__, "price_words.toml")[name])
