"""What a screen says, in American or British words."""

from collections.abc import Iterable, Sequence

from rich.padding import Padding
from rich.text import Text

from upgrade_planner.configuration.model import Vehicle
from upgrade_planner.documents.terminal.console import console, table
from upgrade_planner.documents.words.english import english_for, in_english


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
        """One paragraph; without an indent it is left to the terminal to break it."""
        words = Text(in_english(text, self.english), style=style)
        if indent:
            self._console.print(Padding(words, (0, 0, 0, indent)))
        else:
            self._console.print(words, soft_wrap=True)

    def table(self, title: str, headings: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
        """A table of plain text."""
        turned = [[in_english(cell, self.english) for cell in row] for row in rows]
        heads = [in_english(heading, self.english) for heading in headings]
        self._console.print(table(title, heads, turned))
