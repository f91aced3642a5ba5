"""The terminal: what it is, and what is printed on it, readable without colour."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any, TextIO, cast

from rich.console import Console
from rich.text import Text

if TYPE_CHECKING:
    from rich.table import Table

PIPED = 120
"""Columns where nobody looks; our assumption, so that few lines break in what is searched for."""

_BLANKS = re.compile(r"[ \t]+(?=\n)")


class _NoBlanks:
    """A stream that lets no blanks stand at line ends: they are in the way of what compares."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream

    def write(self, text: str) -> int:
        return self._stream.write(_BLANKS.sub("", text))

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)


def console() -> Console:
    """Standard output; no mark-up is read from profile text, so that it prints as written."""
    plain = Console(highlight=False, markup=False, emoji=False)
    if plain.is_terminal:
        return plain
    width = None if os.environ.get("COLUMNS") else PIPED
    stream = cast(TextIO, _NoBlanks(sys.stdout))
    return Console(file=stream, width=width, highlight=False, markup=False, emoji=False)


def table(title: str, headings: Sequence[str], rows: Iterable[Sequence[str]]) -> Table:
    """A table of plain text; what lays it out is imported with the first."""
    from rich.table import Table

    made = Table(title=Text(title), title_justify="left", expand=False, box=None, pad_edge=False)
    for heading in headings:
        made.add_column(Text(heading, style="bold"), overflow="fold", vertical="top")
    for row in rows:
        made.add_row(*(Text(cell) for cell in row))
    return made
