"""
Root of all errors that this program raises on purpose.

Every command imports this module, so it does without attrs: help and lists start sooner.
"""

from collections.abc import Iterable
from dataclasses import dataclass


class PlannerError(Exception):
    """
    Anything the person at the keyboard can put right; the command line prints it, exit 2.

    Attributes:
        is_misfit: Whether a system does not fit, so that those it fits may be named.
    """

    is_misfit = False


LONGEST_SUBJECT = 80
"""Characters of an id or path of keys that a message repeats; our assumption."""


def printable(line: str) -> str:
    r"""
    The same line without line breaks and terminal codes, which names of files and keys may hold.

    Example:
        >>> printable("a\tb")
        'a b'
    """
    return "".join(character if character.isprintable() else " " for character in line)


@dataclass(frozen=True, kw_only=True, order=True)
class Problem:
    """
    One thing that is wrong in an input file.

    Attributes:
        file: Name of the file as the person gave it.
        line: Line, from 1; 0 if the whole file is meant.
        column: Column in characters, from 1 (in a CSV file the cell); 0 if the whole file is meant.
        subject: What it concerns: a wire id, a component role, a field path.
        found: What stands there.
        expected: What would be right.
        misfit: File of a system that does not fit, at the first problem that tells so; else "".
        page: Page of a filled PDF, from 1; 0 for other files.
    """

    file: str
    line: int = 0
    column: int = 0
    subject: str = ""
    found: str
    expected: str
    misfit: str = ""
    page: int = 0

    def __str__(self) -> str:
        """One printable line: file:line:column: subject: found; expected; of a PDF its page."""
        where = f"{self.file}:{self.line}:{self.column}" if self.line else self.file
        where = f"{where}, page {self.page}" if self.page else where
        short = len(self.subject) <= LONGEST_SUBJECT
        named = self.subject if short else f"{self.subject[:LONGEST_SUBJECT]}…"
        subject = f"{named}: " if named else ""
        return printable(f"{where}: {subject}found {self.found}; expected {self.expected}")


class ConfigurationError(PlannerError):
    """
    One or more input files are faulty.

    Attributes:
        problems: Everything that was found, in file and line order.
    """

    def __init__(self, problems: list[Problem] | tuple[Problem, ...]) -> None:
        self.problems = tuple(sorted(set(problems)))
        self.is_misfit = any(problem.misfit for problem in self.problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


class SeveralErrors(PlannerError):
    """
    Errors of several inputs, told together.

    Attributes:
        errors: One for each input that has any.
    """

    def __init__(self, errors: Iterable[PlannerError]) -> None:
        self.errors = tuple(errors)
        self.is_misfit = any(error.is_misfit for error in self.errors)
        super().__init__("\n".join(dict.fromkeys(map(str, self.errors))))
