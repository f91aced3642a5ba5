"""
What all readers of short texts (quantities, sizes, colours, insulation) share: their error.

The readers know nothing of files; `reading` adds where in which file the text stood.
"""

from collections.abc import Iterable
from difflib import get_close_matches

NO_BREAK_SPACE = "\N{NO-BREAK SPACE}"  # keeps number and unit on one line of print

LONGEST_SHOWN = 40  # characters of a faulty text that a message repeats
HUGE = 10**LONGEST_SHOWN


LIKENESS = 0.5
"""Share of letters, from 0 to 1, from which a word may have been meant; two letters that share one
are as near as that. Source: our assumption."""


def nearest_words(word: str, choices: Iterable[str], *, most: int = 1) -> list[str]:
    """
    The choices most like a word; capitals make no difference.

    Those that begin with it come first, then those of the same family (`van_…`), the nearest first.

    Example:
        >>> nearest_words("Bodi", ["body", "engine"])
        ['body']
        >>> nearest_words("van_original", ["saloon_original", "van_original_ballast"], most=2)
        ['van_original_ballast', 'saloon_original']
    """
    written = {choice.casefold(): choice for choice in choices}
    longest = max(map(len, written), default=0)
    short = word.casefold()[: 2 * longest]  # a hostile text may be long
    near = get_close_matches(short, written, len(written) or 1, LIKENESS)
    begun = [choice for choice in written if len(short) > 2 and choice.startswith(short)]
    family = f"{short.partition('_')[0]}_"
    kin = [choice for choice in near if choice.startswith(family)]
    found = dict.fromkeys((*begun, *kin, *near))
    return [written[choice] for choice in list(found)[:most]]


class NotationError(ValueError):
    """
    A value that cannot be read, told in short phrases for people.

    Attributes:
        found: What stands there.
        expected: What would be right.
        nearest: Valid spellings that may have been meant, most likely first.
    """

    def __init__(self, found: str, expected: str, nearest: Iterable[str] = ()) -> None:
        self.found = found
        self.expected = expected
        self.nearest = tuple(nearest)
        super().__init__(found, expected, self.nearest)

    def __str__(self) -> str:
        """One line: found; expected (nearest)."""
        nearest = f" (nearest: {', '.join(self.nearest)})" if self.nearest else ""
        return f"found {self.found}; expected {self.expected}{nearest}"


def shown_scalar(value: object) -> str:
    """
    A faulty value as a message repeats it: short, on one line, its type in words.

    Example:
        >>> shown_scalar("2,5 m"), shown_scalar(63), shown_scalar(True)
        ('"2,5 m"', 'the bare number 63', 'true')
    """
    match value:
        case bool():
            return str(value).lower()
        case int() if abs(value) >= HUGE:
            return "a huge bare number"
        case int() | float():
            return f"the bare number {value}"
        case str():
            return f'"{_short_line(value)}"'
        case None:
            return "nothing"
    return f"a {type(value).__name__}"


def _short_line(text: str) -> str:
    # Cut first: a hostile text may be long, and only its start is shown.
    start = text[: LONGEST_SHOWN + 1]
    line = "".join(character if character.isprintable() else " " for character in start)
    return line if len(line) <= LONGEST_SHOWN else f"{line[:LONGEST_SHOWN]}…"
