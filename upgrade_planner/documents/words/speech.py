"""
What a paper for a customer says: texts of a language, figures of its country, and what profiles and
the shop's files call things, in that language where somebody has translated it.
"""

import re
from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from functools import cache

from attrs import Factory

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.values.colours import parse_colour
from upgrade_planner.configuration.values.measures import Quantity
from upgrade_planner.documents.words.amounts import amount_words
from upgrade_planner.documents.words.articles import for_metric, for_us, words_of
from upgrade_planner.documents.words.figures import ENGLISH, Figures, figures_of
from upgrade_planner.documents.words.quantities import quantity_words
from upgrade_planner.documents.words.texts import Texts, texts_of
from upgrade_planner.documents.words.wording import NBSP, sentence
from upgrade_planner.kit.articles import Article
from upgrade_planner.kit.prices.money import Currency

_POINT = re.compile(r"(?<=\d)\.(?=\d)")


@frozen(kw_only=True)
class Speech:
    """
    How one paper speaks.

    Attributes:
        translated: Texts of profiles and of the shop, and what stands for them.
        units: `metric`, `us` or `both`; where a number can be told in one system only, both is
            metric.
    """

    texts: Texts
    figures: Figures
    translated: Mapping[str, str] = Factory(dict)
    units: str = "both"

    @property
    def is_english(self) -> bool:
        """Whether names inside a sentence begin small, and articles read as in the workshop."""
        return self.texts.language.startswith(ENGLISH)

    def say(self, key: str, **facts: object) -> str:
        """A text with its facts; a KeyError if there is none."""
        return self.texts.say(key, **facts)

    def counted(self, key: str, count: int, **facts: object) -> str:
        """A text that differs for one and several."""
        return self.texts.counted(key, count, **facts)

    def own(self, text: str) -> str:
        """A text of a profile or of the shop: translated, or as its author wrote it."""
        return self.translated.get(text, text)

    def inside(self, name: str) -> str:
        """The same inside a sentence; letters that stand for something stay as they are."""
        name = self.own(name)
        is_word = self.is_english and name[1:2].islower()
        return name[:1].lower() + name[1:] if is_word else name

    def money(self, amount: Decimal, currency: Currency) -> str:
        """An amount with its currency."""
        return self.figures.money(amount, currency)

    def number(self, number: Decimal) -> str:
        """A number with all its digits."""
        return self.figures.number(number)

    def day(self, day: date) -> str:
        """A date in words."""
        return self.figures.day(day)

    def pointed(self, text: str) -> str:
        """A text whose numbers have a decimal point, with the mark of the language."""
        return _POINT.sub(self.figures.decimal_mark, text)

    def quantity(self, quantity: Quantity, number: str, unit: str = "") -> str:
        """A quantity with its unit; `number` is how Python writes it."""
        return self.pointed(quantity_words(quantity, number, self.units, unit=unit, space=" "))

    def amount(self, quantity: Decimal, unit: str) -> str:
        """`4 ×`, `2.40 m`."""
        return self.pointed(amount_words(quantity, unit, self.units))

    def article(self, article: Article) -> str:
        """An article in words."""
        if self.is_english:
            return words_of(article, self.units)
        words = self.say(f"sorts.{article.sort}")
        if name := dict(article.traits).get("name", ""):
            return self._named(self.own(name), article.trait("rating"))
        traits = (self._trait(name, value) for name, value in article.traits if value)
        return sentence(", ".join([words, *traits]))

    def _named(self, name: str, rating: str) -> str:
        is_told = not rating or rating in name.replace(NBSP, " ")
        return self.pointed(name if is_told else f"{name}, {rating}")

    def _trait(self, name: str, value: str) -> str:
        if name == "colour":
            colour = parse_colour(value)
            codes: Sequence[str] = [colour.main, *filter(None, [colour.tracer])]
            return "/".join(self.say(f"colours.{code}") for code in codes)
        value = for_us(value) if self.units == "us" else for_metric(value)
        return self.pointed(_trait_words().sub(self._word, value))

    def _word(self, found: re.Match[str]) -> str:
        return self.say(f"traits.{found[0]}")


def speech_of(
    language: str, translated: Mapping[str, str] | None = None, units: str = "both"
) -> Speech:
    """
    How papers speak in a language.

    Args:
        language: One of `figures.LOCALES`.
        translated: Texts of profiles and of the shop, and what stands for them.
        units: As at `Speech`.

    Example:
        >>> speech_of("de", {"Horn": "Hupe"}).own("Horn")
        'Hupe'
    """
    return Speech(
        texts=texts_of(language),
        figures=figures_of(language),
        translated=translated or {},
        units=units,
    )


@cache
def _trait_words() -> re.Pattern[str]:
    """Any word of a trait that has a translation, the longest first."""
    keys = [key.partition(".")[2] for key in texts_of(ENGLISH).by_key if key.startswith("traits.")]
    return re.compile(rf"\b({'|'.join(sorted(keys, key=len, reverse=True))})\b")
