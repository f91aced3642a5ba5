"""Sentences of the commands, broken between words where a person reads them."""

import shutil
import sys
from textwrap import wrap

import typer

_FURTHER_IN = 2
"""Columns by which the lines of a broken sentence stand further in than its first."""

_NARROWEST = 40
"""Below it a terminal breaks lines as it likes; our assumption."""


def say(text: str = "", *, err: bool = False, english: str = "") -> None:
    """
    Prints lines; on a terminal each is broken between words where it would not fit.

    What goes to a file or another program keeps its lines whole, so that it can be searched.

    Args:
        text: One line or several; blanks before a line are kept.
        err: To standard error.
        english: `us` or `uk`; "" as it is written.
    """
    if english:
        from upgrade_planner.documents.terminal.spoken import said

        text = said(text, english)
    width = _columns(err)
    for line in text.split("\n"):
        typer.echo(_broken(line, width) if len(line) > width > _NARROWEST else line, err=err)


def say_command(text: str) -> None:
    """A command to be copied: nothing breaks it."""
    typer.echo(f"  {text}")


def _columns(err: bool) -> int:
    """Columns of the terminal, 0 where nobody looks."""
    stream = sys.stderr if err else sys.stdout
    return shutil.get_terminal_size().columns if stream.isatty() else 0


def _broken(line: str, width: int) -> str:
    words = line.lstrip(" ")
    first = " " * (len(line) - len(words))
    further = first + " " * _FURTHER_IN
    return "\n".join(
        wrap(
            words,
            width,
            initial_indent=first,
            subsequent_indent=further,
            break_long_words=False,
            break_on_hyphens=False,
        )
    )
