"""The row of column names of a price list: which of our columns stands where."""

from collections.abc import Iterator, Mapping

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.faults import meant, quoted
from upgrade_planner.configuration.tables.cells import plain
from upgrade_planner.configuration.tables.list_table import ListTable
from upgrade_planner.errors import Problem
from upgrade_planner.kit.prices.list_style import ListStyle, folded
from upgrade_planner.kit.prices.price_columns import price_columns, trait_columns


@frozen
class Header:
    """
    Column names of a list.

    Attributes:
        columns: Number of each column of ours, from 0.
        traits: Those of them that are of traits, in the order of articles.toml.
        own: Title and number of the shop's own columns.
        width: Cells of the row.
    """

    columns: Mapping[str, int]
    traits: tuple[str, ...]
    own: tuple[tuple[str, int], ...]
    width: int


def read_header(table: ListTable, style: ListStyle) -> tuple[Header, list[Problem]]:
    """The names in the first row, and everything that is wrong with them."""
    titles = [plain(cell) for cell in table.rows[0][1]]
    names = [style.column(title) for title in titles]
    known = {*price_columns(), *trait_columns()}
    columns: dict[str, int] = {}
    for number, name in enumerate(names):
        if name in known:
            columns.setdefault(name, number)
    own = tuple(
        (title, number)
        for number, (title, name) in enumerate(zip(titles, names, strict=True))
        if name and name not in known
    )
    problems = [*_twice(table, titles, names), *_missing(table, names, columns)]
    traits = tuple(name for name in trait_columns() if name in columns)
    return Header(columns, traits, own, len(titles)), problems


def _twice(table: ListTable, titles: list[str], names: list[str]) -> Iterator[Problem]:
    for number, (title, name) in enumerate(zip(titles, names, strict=True)):
        first = names.index(name)
        if name and first < number:
            same = folded(title) == name == folded(titles[first])
            found = f"column {quoted(name)} a second time"
            found += "" if same else f" ({quoted(titles[first])}, {quoted(title)})"
            yield _problem(table, number, name, found, "each column once")


def _missing(table: ListTable, names: list[str], columns: Mapping[str, int]) -> Iterator[Problem]:
    needed = [column.name for column in price_columns().values() if column.needed]
    missing = [name for name in needed if name not in columns]
    guesses = meant([name for name in names if name not in columns], missing)
    for name in missing:
        hint = " (is it misspelt?)" if name in guesses else ""
        found, expected = f"no column '{name}'{hint}", f"the columns {', '.join(needed)}"
        expected += ", and more if wanted, or the shop's own titles for them in its settings"
        yield _problem(table, max(len(names) - 1, 0), name, found, expected)


def _problem(table: ListTable, column: int, name: str, found: str, expected: str) -> Problem:
    return Problem(
        file=table.file,
        line=table.rows[0][0],
        column=column + 1,
        subject=name,
        found=found,
        expected=expected,
    )
