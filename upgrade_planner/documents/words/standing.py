"""What standing steps, readings and messages about danger say, found by their codes."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.values.measures import ampere, celsius, metre, volt
from upgrade_planner.documents.words.filling import filled
from upgrade_planner.documents.words.written import written_table
from upgrade_planner.kit.allowances import SUPPORT_SPACING_M
from upgrade_planner.planning.fact_values import Facts
from upgrade_planner.planning.operations import Phase, Procedure
from upgrade_planner.planning.standing_data import Hazard, Limit, Reading

EVERYWHERE: Mapping[str, Any] = MappingProxyType(
    {
        **{phase.name: str(phase) for phase in Phase},
        "clips_apart": metre(float(SUPPORT_SPACING_M)),
    }
)
"""What every sentence may name beside the facts of its job."""


@frozen(kw_only=True)
class ProcedureWords:
    """A standing step as people read it."""

    instruction: str
    details: tuple[str, ...]
    expected: str
    if_not: str
    source: str


@frozen(kw_only=True)
class HazardWords:
    """A message about danger as people read it."""

    hazard: str
    avoid: str
    if_it_happens: str


@frozen(kw_only=True)
class ReadingWords:
    """
    A reading as people read it.

    Attributes:
        condition: How a person brings the state about.
        low: What to look at besides the wiring if the meter shows too little.
        high: The same if it shows too much.
    """

    condition: str
    limit: str
    low: tuple[str, ...]
    high: tuple[str, ...]
    source: str


def procedure_words(procedure: Procedure, units: str) -> ProcedureWords:
    """
    A standing step in words.

    Raises:
        KeyError: no sentences for its code, or one that names no fact of it.
    """
    tell = _Teller(written_table("steps")[procedure.code], procedure.facts, units)
    return ProcedureWords(
        instruction=tell.text("instruction"),
        details=procedure.views or tell.texts("details"),
        expected=tell.text("expected"),
        if_not=tell.text("if_not"),
        source=tell.filled(procedure.source),
    )


def hazard_words(hazard: Hazard, units: str) -> HazardWords:
    """A message about danger in words; raises as `procedure_words`."""
    tell = _Teller(written_table("hazards")[hazard.id], hazard.facts, units)
    return HazardWords(
        hazard=tell.text("hazard"),
        avoid=tell.text("avoid"),
        if_it_happens=tell.text("if_it_happens"),
    )


def reading_words(reading: Reading, units: str) -> ReadingWords:
    """A reading in words; raises as `procedure_words`."""
    tell = _Teller(written_table("readings")[reading.id], reading.facts, units)
    return ReadingWords(
        condition=tell.text("condition"),
        limit=_limits_words(reading.limit, units)
        if reading.limit
        else tell.filled(_no_limit(reading)),
        low=tell.texts("low"),
        high=tell.texts("high"),
        source=tell.filled(reading.source),
    )


def _no_limit(reading: Reading) -> str:
    none = "none published"
    return none if reading.facts["twelve_volt"] else f"{none} for {{system_voltage:g}}"


def _limits_words(limit: Limit, units: str) -> str:
    """The limit at each temperature: `min 9.6 V at 21 °C, 9.4 V at 10 °C`."""
    first, *others = (_limit_words(each, units) for each in (limit, *limit.others))
    bound = next((word for word in ("min ", "max ") if first.startswith(word)), "")
    words = ", ".join((first, *(other.removeprefix(bound) for other in others)))
    return words.replace("-", "\N{MINUS SIGN}")


def _limit_words(limit: Limit, units: str) -> str:
    """`min 9.6 V`, `5 to 7 V`, `max 0.7 V at 20 A`, `min 9.6 V at 21 °C`."""
    if limit.compared_with:
        return f"compare with the {limit.compared_with} voltage"
    figures = {
        name: made(number)
        for name, made, number in (
            ("low", volt, limit.min_v),
            ("high", volt, limit.max_v),
            ("at", ampere, limit.at_a),
            ("warm", celsius, limit.at_c),
        )
        if number is not None
    }
    return filled(_limit_sentence(limit), figures, units)


def _limit_sentence(limit: Limit) -> str:
    at = " at {at:g}" if limit.at_a is not None else ""
    at += " at {warm:.0f}" if limit.at_c is not None else ""
    if limit.max_v is None:
        return "min {low:g}" + at
    if limit.min_v is None:
        return "max {high:g}" + at
    return ("{high:g}" if limit.min_v == limit.max_v else "{low:g bare} to {high:g}") + at


class _Teller:
    """Fills the texts of one entry."""

    def __init__(self, entry: Mapping[str, Any], facts: Facts, units: str) -> None:
        self._entry = entry
        self._facts = {**EVERYWHERE, **facts}
        self._units = units

    def filled(self, sentence: str) -> str:
        return filled(sentence, self._facts, self._units)

    def text(self, key: str) -> str:
        return self.filled(self._entry.get(key, ""))

    def texts(self, key: str) -> tuple[str, ...]:
        return tuple(self.filled(text) for text in self._entry.get(key, ()))
