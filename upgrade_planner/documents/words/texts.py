"""
What papers for a customer say, in the language of the shop: texts by code, with parameters.

One file a language in `texts/`, all with the same keys. What English papers of other rooms say too
has its English home there, so the English file leaves it out; every other language must have it.
"""

import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files
from string import Formatter
from typing import Any

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.conditions import Condition
from upgrade_planner.configuration.values.colours import COLOUR_WORDS
from upgrade_planner.documents.words.figures import ENGLISH, LOCALES
from upgrade_planner.documents.words.findings import sentences
from upgrade_planner.documents.words.written import written_table
from upgrade_planner.kit.articles import sorts

SWISS = "de-CH"
"""German without a sharp s. Source: common practice of Swiss papers."""


@frozen
class Texts:
    """The texts of one language."""

    language: str
    by_key: Mapping[str, str]

    def say(self, key: str, **facts: object) -> str:
        """
        A text, its placeholders filled.

        Raises:
            KeyError: no such text, or a placeholder that no fact fills.

        Example:
            >>> texts_of("de").say("work.ground", before="Plus", after="Minus")
            'Das Fahrzeug wird von Plus auf Minus an Masse umgestellt.'
        """
        said = self.by_key[key].format_map(facts)
        return said.replace("ß", "ss") if self.language == SWISS else said

    def counted(self, key: str, count: int, **facts: object) -> str:
        """A text that differs for one and several."""
        return self.say(f"{key}.{'one' if count == 1 else 'other'}", count=count, **facts)

    def has(self, key: str) -> bool:
        """Whether there is such a text."""
        return key in self.by_key


@cache
def texts_of(language: str) -> Texts:
    """
    The texts of a language, one of `LOCALES`.

    Raises:
        ValueError: keys that English has and this language has not, or the other way round.
    """
    assert language in LOCALES, language
    own, english = _texts(language.partition("-")[0]), _texts(ENGLISH)
    odd = sorted(own.keys() ^ english.keys())
    odd += [key for key in own.keys() & english.keys() if _unknown(own[key], english[key], key)]
    if odd:
        raise ValueError(f"{language}: found texts that differ from English: {', '.join(odd)}")
    return Texts(language, own)


def placeholders(text: str) -> frozenset[str]:
    """Names in braces."""
    return frozenset(name for _, name, _, _ in Formatter().parse(text) if name)


def _unknown(text: str, english: str, key: str) -> frozenset[str]:
    """Placeholders that nothing fills."""
    return placeholders(text) - _CHOSEN.get(key, placeholders(english))


_CHOSEN = {
    "left.finding": frozenset(("severity", "title", "what", "where", "figures", "more")),
    "place.part": frozenset(("role", "name")),
    "place.wire": frozenset(("mark", "name")),
}
"""Keys whose text may name any of these facts: languages tell the same thing by different ones."""


@cache
def _texts(language: str) -> Mapping[str, str]:
    file = files(__package__).joinpath("texts", f"{language}.toml")
    table = tomllib.loads(file.read_text(encoding="utf-8"))
    found = dict(_flat(table))
    return dict(_from_elsewhere()) | found if language == ENGLISH else found


def _flat(table: Mapping[str, Any], above: str = "") -> Iterator[tuple[str, str]]:
    for key, value in table.items():
        if isinstance(value, str):
            yield above + key, value
        else:
            yield from _flat(value, f"{above}{key}.")


def _from_elsewhere() -> Iterator[tuple[str, str]]:
    """English words whose home is another room."""
    for code, parts in sentences().findings.items():
        for cause, title in parts["title"].items():
            yield f"findings.{code}{f'.{cause}' if cause else ''}", title
    for condition in Condition:
        yield f"conditions.{condition}", str(condition)
    for name, sort in sorts().items():
        yield f"sorts.{name}", sort.words
    for code, words in written_table("common_needs")["needs"].items():
        yield f"needs.{code}", words
    for colour, words in COLOUR_WORDS.items():
        yield f"colours.{colour}", words
