"""
Sentences filled with facts: `{value:.1f} at {terminal}`.

Behind the colon of a placeholder may stand, by what the fact is:

- for a number how to write it, as Python does: `.1f`, `g`; behind a space the unit wanted instead
  of the one inside: `{length:.0f mm}`; or `bare` instead of a unit to leave it out:
  `{least:.1f bare} to {most:.1f}`; behind `~` another figure from which it must differ when
  rounded: `{value:.2f~limit}`; or `way` for a rounded distance on the road;
- for a count its noun in singular and plural: `{wires:wire|wires}`;
- for what is true or not the words for either case: `{one_battery:the|each}`;
- for a size of wire that is the least to fit, `least`: `{size:least}`; for a link, which may be no
  thicker, `most`;
- for a name `plain` (a role or a terminal), `small` (a name inside a sentence), `kind` (a kind of
  component), `conductor` (a kind of conductor), `insulation` (a class of it);
- for several facts what stands between them, else a comma: `{names:and}`, `{names:;}`; `the` is for
  roles with their article;
- behind `|` what is said where there is nothing: `{wires:,|none}`, `{current:.0f mA|not computed}`.
"""

from collections.abc import Iterator, Mapping
from string import Formatter
from typing import Any

from upgrade_planner.configuration.model import Conductor
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.values.measures import Quantity
from upgrade_planner.configuration.values.sizes import WireSize
from upgrade_planner.documents.words.quantities import (
    bare_number_words,
    counted,
    of_system,
    quantity_words,
    sizes_for_us,
    told_apart,
    way_words,
)
from upgrade_planner.documents.words.wire_words import insulation_words, numbered_name, size_words
from upgrade_planner.documents.words.wording import role_words
from upgrade_planner.electrical.states import State
from upgrade_planner.planning.fact_values import Numbered, Post

_CONDUCTORS = {
    Conductor.COPPER: "plain copper",
    Conductor.ALUMINIUM: "aluminium",
    Conductor.RESISTANCE: "resistance wire",
    Conductor.LINK: "a fusible link",
}

_SIGNS = {"positive": "+", "negative": "\N{MINUS SIGN}"}


def filled(sentence: str, facts: Mapping[str, Any], units: str, space: str = " ") -> str:
    """
    A sentence with its placeholders filled.

    Args:
        sentence: Text with placeholders, as told above.
        facts: What it names.
        units: `metric`, `us` or `both`; where a number can be told in one system only, both is
            metric.
        space: What stands between a number and its unit.

    Raises:
        KeyError: The sentence names something that is no fact.
    """
    return "".join(_Filler(facts, units, space).pieces(sentence))


class _Filler:
    """Puts facts into words, in one system of units."""

    def __init__(self, facts: Mapping[str, Any], units: str, space: str) -> None:
        self._facts = facts
        self._units = units
        self._space = space

    def pieces(self, sentence: str) -> Iterator[str]:
        for text, name, written, _ in Formatter().parse(sentence):
            yield text
            if name:
                yield self._words(self._facts[name], written or "")

    def _words(self, fact: Any, written: str) -> str:
        match fact:
            case bool():
                yes, _, no = written.partition("|")
                return yes if fact else no
            case int() if written:
                return counted(fact, *written.split("|"))
            case State():
                return fact.title
            case Numbered(number=number, name=name):
                return numbered_name(number, name)
            case Post(sign=sign, battery=battery):
                return f"{_SIGNS[sign]} ({battery})" if battery else _SIGNS[sign]
            case WireSize():
                return self._size_words(fact, written)
        how, _, otherwise = written.partition("|")
        if fact is None or fact == ():
            return otherwise
        return self._known_words(fact, how)

    def _known_words(self, fact: Any, written: str) -> str:
        match fact:
            case tuple():
                return self._several_words(fact, written)
            case Quantity():
                return self._number_words(fact, written)
            case str():
                return _name_words(fact, written)
        return str(fact)

    def _size_words(self, size: WireSize, written: str) -> str:
        if self._units == "us" and not written:
            named = {fact for fact in self._facts.values() if isinstance(fact, WireSize)}
            return sizes_for_us(named)[size]
        return size_words(size, self._units, bound=written)

    def _several_words(self, several: tuple[Any, ...], written: str) -> str:
        sizes = [fact for fact in several if isinstance(fact, WireSize)]
        wanted = of_system(sizes, self._units) if sizes else several
        if written == "the":
            return " and ".join(f"the {role_words(name)}" for name in several)
        return _between(written).join(map(self._one_of_several, wanted))

    def _one_of_several(self, fact: Any) -> str:
        """One fact, or the facts of one thing: a wire and its size."""
        one = fact if isinstance(fact, tuple) else (fact,)
        return " ".join(
            size_words(item, self._units) if isinstance(item, WireSize) else self._words(item, "")
            for item in one
        )

    def _number_words(self, fact: Quantity, written: str) -> str:
        form, _, other = written.partition("~")
        number, _, unit = form.partition(" ")
        if number == "way":
            return way_words(fact, self._units)
        if unit == "bare":
            return bare_number_words(fact, number, self._units)
        if not other:
            return quantity_words(fact, number, self._units, unit=unit, space=self._space)
        limit = self._facts[other]
        assert isinstance(limit, Quantity), other
        return told_apart(fact, limit, number, self._units, space=self._space)[0]


def _between(written: str) -> str:
    """What stands between several: `, `, `; `, ` and `."""
    if not written:
        return ", "
    return f" {written} " if written[0].isalpha() else f"{written} "


def _name_words(name: str, written: str) -> str:
    match written:
        case "plain":
            return role_words(name)
        case "small":
            return name[:1].lower() + name[1:]
        case "kind":
            return kinds()[name].words
        case "conductor":
            return _CONDUCTORS[Conductor(name)]
        case "insulation":
            return insulation_words(name)
    return name
