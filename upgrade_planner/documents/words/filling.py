"""
Sentences filled with facts: `{value:.1f} at {terminal}`.

Behind the colon of a placeholder may stand:

- how to write a number, as Python does: `.1f`, `g`;
- behind a space the unit wanted instead of the one inside: `{length:.0f mm}`;
- `bare` instead of a unit to leave it out: `{least:.1f bare} to {most:.1f}`;
- behind `~` another figure from which it must differ when rounded: `{value:.2f~limit}`;
- for a count, its noun in singular and plural: `{wires:wire|wires}`;
- for a size of wire that is the least to fit, `least`: `{size:least}`; for a link, which may be no
  thicker, `most`;
- for several facts, the word between them, else a comma: `{names:and}`.
"""

from collections.abc import Iterator
from string import Formatter

from upgrade_planner.checks.findings import Fact, Facts
from upgrade_planner.configuration.values.measures import Quantity
from upgrade_planner.configuration.values.sizes import WireSize
from upgrade_planner.documents.words.quantities import (
    bare_number_words,
    counted,
    of_system,
    quantity_words,
    size_for_us,
    told_apart,
)
from upgrade_planner.electrical.states import State


def filled(sentence: str, facts: Facts, units: str) -> str:
    """
    A sentence with its placeholders filled.

    Args:
        sentence: Text with placeholders, as told above.
        facts: What it names.
        units: `metric`, `us` or `both`; where a number can be told in one system only, both is
            metric.

    Raises:
        KeyError: The sentence names something that is no fact.
    """
    return "".join(_pieces(sentence, facts, units))


def placeholders(sentence: str) -> tuple[str, ...]:
    """The names that a sentence wants filled, those behind `~` among them."""
    found = []
    for _, name, written, _ in Formatter().parse(sentence):
        if name:
            other = (written or "").partition("~")[2]
            found += [name, other] if other else [name]
    return tuple(found)


def _pieces(sentence: str, facts: Facts, units: str) -> Iterator[str]:
    for text, name, written, _ in Formatter().parse(sentence):
        yield text
        if name:
            yield _fact_words(facts[name], written or "", facts, units)


def _fact_words(fact: Fact, written: str, facts: Facts, units: str) -> str:
    if isinstance(fact, tuple):
        return _several_words(fact, written, facts, units)
    if isinstance(fact, Quantity):
        return _number_words(fact, written, facts, units)
    if isinstance(fact, WireSize):
        return size_for_us(fact, bound=written) if units == "us" else fact.label
    if isinstance(fact, State):
        return fact.title
    if isinstance(fact, int) and written:
        return counted(fact, *written.split("|"))
    return str(fact)


def _several_words(several: tuple[Fact, ...], written: str, facts: Facts, units: str) -> str:
    sizes = [fact for fact in several if isinstance(fact, WireSize)]
    wanted = of_system(sizes, units) if sizes else several
    join = f" {written} " if written in ("and", "or") else ", "
    return join.join(_one_of_several(fact, facts, units) for fact in wanted)


def _one_of_several(fact: Fact, facts: Facts, units: str) -> str:
    """One fact, or the facts of one thing: a wire and its size."""
    one = fact if isinstance(fact, tuple) else (fact,)
    return " ".join(_fact_words(item, "", facts, units) for item in one)


def _number_words(fact: Quantity, written: str, facts: Facts, units: str) -> str:
    form, _, other = written.partition("~")
    number, _, unit = form.partition(" ")
    if unit == "bare":
        return bare_number_words(fact, number, units)
    if not other:
        return quantity_words(fact, number, units, unit=unit, space=" ")
    limit = facts[other]
    assert isinstance(limit, Quantity), other
    return told_apart(fact, limit, number, units, space=" ")[0]
