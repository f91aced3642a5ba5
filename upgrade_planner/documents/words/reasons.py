"""
Reasons in words: the sentences of `reasons.toml`, filled with what a reason gives.

Behind the colon of a placeholder may stand how to write the fact: for a quantity the number as
Python writes it (`.2f`, `g`) or `way` for a rounded distance on the road; `plain` for a role or a
terminal, `small` for a name inside a sentence, `kind` for a kind of component, `conductor` for a
kind of conductor; `and` or `the` for several, the latter for roles with their article.
"""

import tomllib
from collections.abc import Iterable, Mapping
from functools import cache
from importlib.resources import files
from string import Formatter

from upgrade_planner.comparison.why import Difference, Fact, Reason
from upgrade_planner.configuration.model import Conductor
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.values.measures import Quantity
from upgrade_planner.configuration.values.sizes import WireSize
from upgrade_planner.documents.words.differences import difference_words
from upgrade_planner.documents.words.quantities import quantity_words, sizes_for_us
from upgrade_planner.documents.words.wording import role_words, sentence
from upgrade_planner.planning.operations import Wait

MILE_M = 1609.344
"""[m] international mile (1959): exact."""

_CONDUCTORS = {
    Conductor.COPPER: "plain copper",
    Conductor.RESISTANCE: "resistance wire",
    Conductor.LINK: "a fusible link",
}


def reason_words(reasons: Iterable[Reason], units: str) -> str:
    """
    Reasons in sentences, one behind the other.

    Args:
        reasons: Why something happens.
        units: `metric`, `us` or `both`; where a number can be told in one system only, both is
            metric.

    Raises:
        KeyError: no sentence for a code, or one that names no fact of its reason.
    """
    return " ".join(sentence(_told(reason, units)) for reason in reasons)


def wait_words(wait: Wait) -> str:
    """Why a step waits for another, to stand behind "After 12: "; "" if in turn only."""
    return _sentences()["waits"][wait]


@cache
def _sentences() -> Mapping[str, Mapping[str, str]]:
    return tomllib.loads(files(__package__).joinpath("reasons.toml").read_text(encoding="utf-8"))


def _told(reason: Reason, units: str) -> str:
    pieces = []
    sizes = sizes_for_us({fact for fact in reason.facts.values() if isinstance(fact, WireSize)})
    for text, name, written, _ in Formatter().parse(_sentences()["sentences"][reason.code]):
        pieces.append(text)
        if name:
            pieces.append(_fact_words(reason.facts[name], written or "", units, sizes))
    return "".join(pieces)


def _fact_words(fact: Fact, written: str, units: str, sizes: Mapping[WireSize, str]) -> str:
    match fact:
        case Quantity():
            is_way = written == "way"
            return _way_words(fact, units) if is_way else quantity_words(fact, written, units)
        case WireSize():
            return sizes[fact] if units == "us" else fact.label
        case tuple():
            return _several_words(fact, written, units)
        case str():
            return _name_words(fact, written)
    return str(fact)


def _way_words(distance: Quantity, units: str) -> str:
    """A distance on the road; miles to one digit, for it is a rule of thumb."""
    if units == "us":
        return f"{float(f'{distance.number / MILE_M:.1g}'):,.0f} miles"
    return f"{distance.number / 1000:,.0f} km"


def _several_words(several: tuple[str | Difference | Reason, ...], written: str, units: str) -> str:
    words = [_one_words(one, units) for one in several]
    if written == "the":
        return " and ".join(f"the {role_words(word)}" for word in words)
    return (" and " if written == "and" else "; ").join(words)


def _one_words(one: str | Difference | Reason, units: str) -> str:
    if isinstance(one, Difference):
        return difference_words(one, units, brief=True)
    return _told(one, units) if isinstance(one, Reason) else one


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
    return name
