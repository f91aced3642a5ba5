"""Where a document goes: a file whose suffix says the format, or standard output."""

import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated, Any

import typer

from upgrade_planner.cli.saying import say
from upgrade_planner.errors import PlannerError

STANDARD = Path("-")
"""In place of a file: standard output."""


def output_option(words: str) -> Any:
    """An option -o for a document; `words` says what it is and which suffixes it may have."""
    return typer.Option(
        "-o", "--output", metavar="FILE", help=f"{words} - is standard output, with --format."
    )


Format = Annotated[
    str,
    typer.Option(
        "--format",
        metavar="SUFFIX",
        help="Format for -o -: a suffix that the file could have.",
        show_default=False,
    ),
]


class Destination:
    """
    Where a command writes, and where it tells the person about it.

    Attributes:
        target: File to write.
        is_standard: It is passed on to standard output; words then go to standard error.
    """

    def __init__(self, target: Path, *, is_standard: bool) -> None:
        self.target = target
        self.is_standard = is_standard

    def name_of(self, target: Path) -> Path:
        """What a person knows a written file by."""
        return STANDARD if self.is_standard else target

    def tell(self, text: str) -> None:
        """A line about what was written."""
        say(text, err=self.is_standard)


@contextmanager
def destination(output: Path, wanted: str, *, parts: int = 1) -> Iterator[Destination]:
    """
    The file to write; with `-o -` one whose content goes to standard output at the end.

    Args:
        output: As given.
        wanted: Format as given, "" for none.
        parts: Files that the job writes.

    Raises:
        PlannerError: a format beside a file, none beside `-`, or more than one file for `-`.
    """
    suffix = wanted.strip().lower().removeprefix(".")
    if output != STANDARD:
        if suffix:
            raise PlannerError(
                f"--format: found it beside the file {output}; expected -o -, for the suffix of a "
                "file says its format"
            )
        yield Destination(output, is_standard=False)
        return
    if not suffix.isalnum():
        raise PlannerError("-o -: found no format; expected one beside it, such as --format json")
    if parts > 1:
        raise PlannerError(f"-o -: found a job of {parts} sheets; expected the name of a file")
    with tempfile.TemporaryDirectory() as folder:
        made = Destination(Path(folder) / f"output.{suffix}", is_standard=True)
        yield made
        sys.stdout.flush()
        sys.stdout.buffer.write(made.target.read_bytes())
        sys.stdout.buffer.flush()
