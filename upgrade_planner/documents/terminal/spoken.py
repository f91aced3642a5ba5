"""What a screen says, in American or British words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from textwrap import wrap
from typing import TYPE_CHECKING

from rich.text import Text

from upgrade_planner.documents.terminal.console import console, table
from upgrade_planner.documents.words.english import english_for, in_english

if TYPE_CHECKING:
    from upgrade_planner.configuration.model import Vehicle

HANGING = 2
"""Columns by which the lines of a broken paragraph stand further in than its first."""


COMMAND = "upgrade-planner "
"""From here on a line is a command to be copied."""


def said(text: str, english: str) -> str:
    """A text in the English asked for; a command at its end stays as it is typed."""
    words, command, arguments = text.partition(COMMAND)
    return in_english(words, english) + command + arguments


class Spoken:
    """
    Standard output in one English: every word that is printed is turned.

    Attributes:
        english: `us` or `uk`; else that of the trade the wires of `vehicle` come from.
    """

    def __init__(self, english: str, vehicle: Vehicle) -> None:
        self.english = english_for(english, vehicle)
        self._console = console()

    def line(self, text: str = "", *, style: str = "", indent: int = 0) -> None:
        """One paragraph, broken between words; a figure stays with its unit."""
        width = self._console.width - indent
        words = in_english(text, self.english)
        for piece in wrap(words, width, break_on_hyphens=False) or [""]:
            self._console.print(Text(f"{' ' * indent}{piece}", style=style), soft_wrap=True)

    def command(self, text: str) -> None:
        """A command to be copied: nothing breaks it."""
        self._console.print(Text(text), soft_wrap=True)

    def block(self, head: str, lines: Iterable[str], *, style: str = "", indent: int = 0) -> None:
        """A line in bold, and what belongs to it below, further in."""
        self.line(head, style=f"bold {style}".strip(), indent=indent)
        for text in lines:
            self.line(text, indent=indent + HANGING)

    def table(self, title: str, headings: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
        """A table of plain text."""
        turned = [[in_english(cell, self.english) for cell in row] for row in rows]
        heads = [in_english(heading, self.english) for heading in headings]
        self._console.print(table(title, heads, turned))
