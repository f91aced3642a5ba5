"""
American or British words: what is written is turned as a whole, by one table of pairs.

Names stay as they are: what hangs on a hyphen, a dot or a colon belongs to the name of a wire or
terminal, or to the code of a rule; what stands in straight quotes is written so in a file.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from typing import TYPE_CHECKING

from upgrade_planner.documents.words.written import written_table

if TYPE_CHECKING:
    from upgrade_planner.configuration.model import Vehicle

US, UK = "us", "uk"
LANGUAGES: Mapping[str, str] = {"": "en", US: "en-US", UK: "en-GB"}
"""Language of a page, by the English; "" is as written, a little of both."""

_MARK_UP = re.compile(r"(<style\b.*?</style>|<script\b.*?</script>|<[^>]*>)", re.DOTALL)
_SAID = re.compile(r"""( (?:aria-label|title|data-run|data-head|data-mark)=")([^"]*)""")
_VOWELS = "aeiou"


def language_for(english: str, vehicle: Vehicle) -> str:
    """The language of a page: as asked for, else that of the trade its wires come from."""
    return LANGUAGES[english_for(english, vehicle)]


def english_for(english: str, vehicle: Vehicle) -> str:
    """The English as asked for, else that of the trade a vehicle's wires come from."""
    from upgrade_planner.configuration.values.sizes import METRIC  # the list has no vehicle

    return english or (UK if vehicle.size_system == METRIC else US)


def page_in(html: str, language: str) -> str:
    """
    A page with its words turned; its mark-up stays.

    Args:
        html: Any of our pages.
        language: Of `LANGUAGES`; of any other one the words stay.
    """
    english = next((key for key, value in LANGUAGES.items() if value == language), "")
    if not english:
        return html
    parts = _MARK_UP.split(html)
    return "".join(
        _tag_in(part, english) if number % 2 else in_english(part, english)
        for number, part in enumerate(parts)
    )


def _tag_in(tag: str, english: str) -> str:
    """A tag, with what it says of itself turned."""
    return _SAID.sub(lambda found: found[1] + in_english(found[2], english), tag)


def in_english(text: str, english: str) -> str:
    """
    A text in American or British words, with the articles that they want; as it is for "".

    Example:
        >>> in_english("A ground strap at the fender: W2 battery-ground", "uk")
        'An earth strap at the wing: W2 battery-ground'
    """
    if not english:
        return text
    turned = _turned(english)
    return _sought(english).sub(lambda found: _exchanged(found, turned), text)


@cache
def _sought(english: str) -> re.Pattern[str]:
    """Any word that is not of this English, the longest first, with its article."""
    words = "|".join(sorted(map(re.escape, _turned(english)), key=len, reverse=True))
    pattern = rf"(?<![\w.:'\"-])(?:([Aa])(n?) )?({words})(?![\w-]|[.:]\w)"
    return re.compile(pattern, re.IGNORECASE)


def _exchanged(found: re.Match[str], turned: Mapping[str, str]) -> str:
    article, _, old = found.groups()
    new = turned[old.lower()]
    if old[:1].isupper():
        new = new.upper() if old.isupper() else new[:1].upper() + new[1:]
    if article is None:
        return new
    return f"{article}{'n' if new[:1].lower() in _VOWELS else ''} {new}"


@cache
def _turned(english: str) -> Mapping[str, str]:
    """Every word that is not of this English, and what stands for it."""
    other = UK if english == US else US
    found = {}
    for pair in written_table("english")["pairs"]:
        if pair.get("only", english) == english:
            found[pair[other]] = pair[english]
            found[_plural(pair, other)] = _plural(pair, english)
    return found


def _plural(pair: Mapping[str, str], english: str) -> str:
    return pair.get(f"{english}_plural", f"{pair[english]}s")
