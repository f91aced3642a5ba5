"""Arguments and options that several commands share, and what they need of clock and terminal."""

import os
import sys
from datetime import UTC, date, datetime
from enum import StrEnum
from typing import Annotated

import typer

from upgrade_planner.errors import PlannerError

DONE, DANGER, BAD_INPUT, PROGRAM_MISTAKE = 0, 1, 2, 3
BROKEN_OFF, ENDED = 130, 143
"""By Ctrl-C, and by the system: as shells count them."""


LONGEST_PRINTED = 40
"""Characters of a number or revision; our assumption, the title block holds no more."""


class PolicyChoice(StrEnum):
    """What happens to wires that are no longer used."""

    REVERSIBLE = "reversible"
    CLEAN = "clean"


class PaperChoice(StrEnum):
    """Paper sizes."""

    A4 = "A4"
    LETTER = "Letter"


class UnitsChoice(StrEnum):
    """Units on paper."""

    METRIC = "metric"
    US = "us"
    BOTH = "both"


class EnglishChoice(StrEnum):
    """Words on paper and screen."""

    US = "us"
    UK = "uk"


Before = Annotated[str, typer.Argument(help="Configuration as it is now: shipped name or file.")]
After = Annotated[str, typer.Argument(help="Configuration as it shall be: shipped name or file.")]
StagesAndAfter = Annotated[
    list[str],
    typer.Argument(
        help="Configuration as it shall be: shipped name or file. For a job in stages: as it is "
        "after the first stage, after the second, and so on.",
    ),
]
Policy = Annotated[
    PolicyChoice,
    typer.Option(help="reversible: cap off unused wires in looms; clean: take all of them out."),
]
Replace = Annotated[bool, typer.Option("--replace", help="Replace a file that is there already.")]
Units = Annotated[UnitsChoice, typer.Option(help="Units on paper and screen.")]
English = Annotated[
    EnglishChoice | None,
    typer.Option(help="Words on paper and screen (else as the vehicle's wire sizes)."),
]


def english_words(choice: EnglishChoice | None) -> str:
    """The English asked for; "" for that of the vehicle's trade."""
    return choice.value if choice else ""


def printed(text: str) -> str:
    """A text that goes on paper as it was typed: no control or direction characters."""
    if not text.isprintable() or len(text) > LONGEST_PRINTED:
        raise typer.BadParameter(
            f"found {text[:LONGEST_PRINTED]!a}; expected at most {LONGEST_PRINTED} characters "
            "that can be printed"
        )
    return text


def issued(text: str) -> date:
    """The date of issue: as asked for, else SOURCE_DATE_EPOCH, else today."""
    epoch = os.environ.get("SOURCE_DATE_EPOCH", "")
    try:
        if text:
            return date.fromisoformat(text)
        if epoch:
            return datetime.fromtimestamp(int(epoch), UTC).date()
    except (ValueError, OverflowError, OSError) as error:
        found = text or f"SOURCE_DATE_EPOCH={epoch}"
        raise PlannerError(
            f"--date: found '{found}'; expected a date such as 2026-03-01"
        ) from error
    return datetime.now().astimezone().date()


class Progress:
    """One changing line on a terminal, so that a wait explains itself; nothing elsewhere."""

    def __enter__(self) -> "Progress":
        self._shown = sys.stderr.isatty()
        return self

    def say(self, text: str) -> None:
        """Shows what is being done now."""
        if self._shown:
            sys.stderr.write(f"\r\x1b[K{text} …")
            sys.stderr.flush()

    def __exit__(self, *_: object) -> None:
        if self._shown:
            sys.stderr.write("\r\x1b[K")
            sys.stderr.flush()
