"""
Reasons in words: the sentences of `reasons.toml`, filled with what a reason gives.

What may stand behind the colon of a placeholder is told in `filling.py`. Differences, and reasons
that are part of another, are put into words first.
"""

from collections.abc import Iterable
from typing import Any

from upgrade_planner.comparison.why import Difference, Reason
from upgrade_planner.documents.words.differences import difference_words
from upgrade_planner.documents.words.filling import filled
from upgrade_planner.documents.words.wording import NBSP, sentence
from upgrade_planner.documents.words.written import written_table
from upgrade_planner.planning.operations import Wait


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
    return " ".join(sentence(clause_words(reason, units)) for reason in reasons)


def clause_words(reason: Reason, units: str) -> str:
    """One reason as it stands in the file; that of a part of a sentence has no capital."""
    facts = {name: _within(fact, units) for name, fact in reason.facts.items()}
    return filled(written_table("reasons")["sentences"][reason.code], facts, units, NBSP)


def wait_words(wait: Wait) -> str:
    """Why a step waits for another, to stand behind "After 12: "; "" if in turn only."""
    return str(written_table("reasons")["waits"][wait])


def _within(fact: Any, units: str) -> Any:
    match fact:
        case Difference():
            return difference_words(fact, units, brief=True)
        case Reason():
            return clause_words(fact, units)
        case tuple():
            return tuple(_within(one, units) for one in fact)
    return fact
