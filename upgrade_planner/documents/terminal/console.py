"""The terminal: what it is, and tables for it, readable in eighty columns and without colour."""

from collections.abc import Iterable, Sequence

from rich.console import Console
from rich.table import Table
from rich.text import Text

NARROWEST = 80


def console() -> Console:
    """Standard output; no mark-up is read from profile text, so that it prints as written."""
    plain = Console(highlight=False, markup=False, emoji=False)
    if not plain.is_terminal:
        return Console(highlight=False, markup=False, emoji=False, width=140)
    return plain


def table(title: str, headings: Sequence[str], rows: Iterable[Sequence[str]]) -> Table:
    """A table of plain text."""
    made = Table(title=Text(title), title_justify="left", expand=False, box=None, pad_edge=False)
    for heading in headings:
        made.add_column(Text(heading, style="bold"), overflow="fold", vertical="top")
    for row in rows:
        made.add_row(*(Text(cell) for cell in row))
    return made
