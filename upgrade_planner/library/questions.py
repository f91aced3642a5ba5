"""What is asked of a person who describes a vehicle, and how an answer is read."""

import re
from collections.abc import Mapping
from functools import cache
from typing import Any

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.faults import nearest
from upgrade_planner.configuration.files.own_data import data_table
from upgrade_planner.configuration.values.notation import NotationError, shown_scalar
from upgrade_planner.configuration.values.quantities import Dimension, parse_quantity
from upgrade_planner.configuration.values.spoken import spoken_length
from upgrade_planner.library.trait_matching import (
    SYSTEM_VOLTAGES,
    Wanted,
    count_in,
    ground_in,
    has_words,
    volts_in,
)
from upgrade_planner.library.traits import (
    NONE,
    TraitSubject,
    Variety,
    cylinders_in,
    subjects,
    trait_for,
)

MOST_CYLINDERS = 16
LONGEST_LENGTH_M = 30.0
"""Nothing on a vehicle is as far from anything else. [m] Our assumption."""

LONGEST_ANSWER = 80
"""Characters; our assumption."""

SHORTEST_VAGUE_WORD = 4
"""Letters of a word that may mean several varieties, or be part of a word; our assumption."""

UNKNOWN = ("don't know", "dont know", "do not know", "not known", "unknown", "no idea", "not sure")
"""Said instead of an empty answer."""

_LITTLE_WORDS = ("the", "a", "an", "my", "its", "with", "and")
"""Words of an answer that say nothing about which variety is meant."""

_NO = ("no", "none", "nothing", "0", "n")
_YES = ("yes", "y")


class AnswerError(NotationError):
    """An answer that does not fit its question."""


@frozen(kw_only=True)
class Question:
    """
    One question.

    Attributes:
        kind: How the answer is read; the head of data/questions.toml lists the kinds.
        see: How to find the answer on the vehicle.
        more: What is shown to somebody who asks for more.
        parts: Patterns of kinds of part, for `place`.
        between: Patterns of kinds at both ends, for `length`.
        circuits: Circuits of the wire, for `length`.
    """

    key: str
    kind: str
    ask: str
    see: str
    more: str
    parts: tuple[str, ...] = ()
    between: tuple[tuple[str, ...], ...] = ()
    circuits: tuple[str, ...] = ()

    @property
    def subject(self) -> TraitSubject:
        """The trait that it asks for; KeyError if it asks for none."""
        return subjects()[self.key]

    @property
    def choices(self) -> tuple[Variety, ...]:
        """The varieties to choose from; empty if it is no matter of choice."""
        if self.kind not in ("variety", "varieties"):
            return ()
        return tuple(variety for variety in self.subject.varieties if not variety.hidden)

    def is_of(self, answers: "Answers") -> bool:
        """False if the answers leave nothing to ask: only a dynamo has a field circuit."""
        charging = answers.get("charging")
        is_asked_of_dynamo = self.kind == "field circuit"
        return not is_asked_of_dynamo or (
            charging is not None and any("dynamo" in name for name in charging.ids)
        )

    @property
    def is_asked_how(self) -> bool:
        """True if "no" answers nothing: how is something done?"""
        return self.ask.startswith("How is")


@frozen(kw_only=True)
class Answer:
    """
    One answer as understood.

    Attributes:
        words: What was understood, in words; of a vague answer what was typed.
        ids: Ids of varieties, or the value itself, for what is compared with traits; else empty.
        length_m: For a length. [m]
        is_vague: True if several varieties may be meant.
    """

    key: str
    words: str
    ids: tuple[str, ...] = ()
    length_m: float | None = None
    is_vague: bool = False


Answers = Mapping[str, Answer]
"""Answers by the key of their question; a question without one is not known."""


@cache
def questions() -> tuple[Question, ...]:
    """All questions in order, from data/questions.toml."""
    data = data_table(__package__, "questions.toml")
    return tuple(_question(entry) for entry in data["question"])


def _question(entry: dict[str, Any]) -> Question:
    return Question(
        key=entry["key"],
        kind=entry["kind"],
        ask=entry["ask"],
        see=entry["see"],
        more=entry["more"],
        parts=tuple(entry.get("parts", ())),
        between=tuple(tuple(row) for row in entry.get("between", ())),
        circuits=tuple(entry.get("circuits", ())),
    )


def wanted_of(answers: Answers) -> Wanted:
    """What the answers say of traits."""
    return {key: answer.ids for key, answer in answers.items() if answer.ids and key in subjects()}


def completed(answers: Answers) -> dict[str, Answer]:
    """The answers, and the number of cylinders if only the words for the engine name it."""
    engine = answers.get("engine")
    cylinders = cylinders_in(engine.words) if engine else None
    if cylinders is None or "cylinders" in answers:
        return dict(answers)
    words = f"{cylinders} cylinders"
    return {**answers, "cylinders": Answer(key="cylinders", words=words, ids=(str(cylinders),))}


def is_unknown(text: str) -> bool:
    """True for an empty answer, and for what people say instead."""
    return " ".join(text.lower().replace("’", "'").split()).rstrip(".!") in ("", "?", *UNKNOWN)


def read_answer(question: Question, text: str) -> Answer:
    """
    An answer as understood.

    Raises:
        AnswerError: it does not fit the question; says what would.
    """
    plain = " ".join(text.split())
    if len(plain) > LONGEST_ANSWER:
        raise AnswerError(f"an answer of {len(plain)} characters", f"at most {LONGEST_ANSWER}")
    if not plain.isprintable():
        raise AnswerError(shown_scalar(plain), "text that can be printed")
    return _READERS[question.kind](question, plain)


def _text(question: Question, text: str) -> Answer:
    ids = (text,) if question.key in subjects() else ()
    return Answer(key=question.key, words=text, ids=ids)


def _voltage(question: Question, text: str) -> Answer:
    value = volts_in(text)
    if value not in SYSTEM_VOLTAGES:
        raise AnswerError(shown_scalar(text), "6, 12 or 24 V")
    return Answer(key=question.key, words=f"{value} V", ids=(value,))


def _ground(question: Question, text: str) -> Answer:
    value = ground_in(text)
    if not value:
        raise AnswerError(shown_scalar(text), "negative or positive (or − or +)")
    return Answer(key=question.key, words=f"{value} ground", ids=(value,))


def _count(question: Question, text: str) -> Answer:
    first = (text.split(maxsplit=1) or [""])[0]
    value = count_in(text) or str(cylinders_in(text) or "") or count_in(first)
    if not value or int(value) > MOST_CYLINDERS:
        raise AnswerError(shown_scalar(text), f"a whole number from 1 to {MOST_CYLINDERS}")
    return Answer(key=question.key, words=f"{value} cylinders", ids=(value,))


def _length(question: Question, text: str) -> Answer:
    try:
        length_m = parse_quantity(spoken_length(text), Dimension.LENGTH)
    except NotationError as error:
        raise AnswerError(error.found, error.expected, error.nearest) from error
    if not 0 < length_m <= LONGEST_LENGTH_M:
        raise AnswerError(shown_scalar(text), f"more than 0 and at most {LONGEST_LENGTH_M:g} m")
    return Answer(key=question.key, words=spoken_length(text), length_m=length_m)


_CIRCUITS = {"A": ("a", "armature"), "B": ("b", "case", "frame", "body", "ground", "earth")}


def _field_circuit(question: Question, text: str) -> Answer:
    words = set(re.findall(r"[a-z]+", text.lower()))
    found = [name for name, said in _CIRCUITS.items() if words & set(said)]
    if len(found) != 1:
        raise AnswerError(shown_scalar(text), "A (at the armature) or B (at the case)")
    return Answer(key=question.key, words=f"field circuit {found[0]}", ids=(found[0],))


def _variety(question: Question, text: str) -> Answer:
    ids = _ids_meant(question, text)
    by_id = {variety.id: variety.words for variety in question.choices} | {
        NONE: question.subject.none
    }
    is_vague = len(ids) > 1
    words = text if is_vague else by_id[ids[0]]
    return Answer(key=question.key, words=words, ids=ids, is_vague=is_vague)


def _varieties(question: Question, text: str) -> Answer:
    ids: list[str] = []
    for piece in text.replace("+", ",").replace(" and ", ",").replace(";", ",").split(","):
        if piece.strip():
            meant = _ids_meant(question, piece.strip())
            if len(meant) > 1:
                raise _several(question, piece.strip(), meant)
            ids += meant
    if not ids:
        raise AnswerError(shown_scalar(text), _choice_words(question))
    ids = list(dict.fromkeys(ids))
    if NONE in ids and len(ids) > 1:
        raise AnswerError(
            shown_scalar(text), f"{question.subject.none}, or what is there, not both"
        )
    trait = trait_for(question.subject, (s for s in question.choices if s.id in ids))
    words = trait.words or question.subject.none
    return Answer(key=question.key, words=words, ids=tuple(ids))


def _ids_meant(question: Question, text: str) -> tuple[str, ...]:
    """
    The varieties that a number, a name, a family or a few words mean.

    Raises:
        AnswerError: none, all, or several by a word too short to mean anything.
    """
    choices, word = question.choices, text.lower()
    if question.subject.none and word in (
        question.subject.none.lower(),
        *question.subject.none_also,
    ):
        return (NONE,)
    if question.subject.none and (word in _NO or word.startswith("no ")):
        if question.is_asked_how:
            raise AnswerError(shown_scalar(text), _choice_words(question, word))
        return (NONE,)
    if word in _YES and len(choices) == 1:
        return (choices[0].id,)
    if word.isascii() and word.isdigit():
        return (_numbered(question, int(word)),)
    exact = [s.id for s in choices if word in (s.id, s.words.lower(), s.id.replace("_", " "))]
    if exact:
        return (exact[0],)
    said = [s for s in choices if s.words.lower() in word]
    found = [s for s in choices if word == s.family] or said or _found_by_words(question, word)
    found = found or _meant_by_most_words(question, word)
    if not found:
        raise AnswerError(shown_scalar(text), _choice_words(question, word))
    if len(found) > 1 and (len(found) == len(choices) or len(word) < SHORTEST_VAGUE_WORD):
        raise _several(question, text, tuple(variety.id for variety in found))
    return tuple(variety.id for variety in found)


def _found_by_words(question: Question, text: str) -> list[Variety]:
    """Sorts that some words mean: whole words before parts, the name before other words."""
    text = " ".join(word for word in text.split() if word not in _LITTLE_WORDS) or text
    names = {variety.id: variety.words.lower() for variety in question.choices}
    texts = {
        variety.id: trait_for(question.subject, (variety,)).search for variety in question.choices
    }
    same = [v for v in question.choices if _weighty(names[v.id]) == _weighty(text)]
    if same:
        return same
    for is_whole in (True, False) if len(text) >= SHORTEST_VAGUE_WORD else (True,):
        for searched in (names, texts):
            found = [
                variety
                for variety in question.choices
                if has_words(searched[variety.id], text, whole=is_whole)
            ]
            if found:
                return found
    return []


def _weighty(text: str) -> set[str]:
    return {*text.split()} - {*_LITTLE_WORDS}


def _meant_by_most_words(question: Question, text: str) -> list[Variety]:
    """The varieties that share most of some words, at least one of them of weight."""
    words = [word for word in re.split(r"[^a-z0-9]+", text) if len(word) >= SHORTEST_VAGUE_WORD - 1]
    if not any(len(word) >= SHORTEST_VAGUE_WORD for word in words):
        return []
    searched = {
        variety.id: trait_for(question.subject, (variety,)).search for variety in question.choices
    }
    shared = {
        variety.id: sum(has_words(searched[variety.id], word) for word in words)
        for variety in question.choices
    }
    most = max(shared.values(), default=0)
    return [variety for variety in question.choices if most and shared[variety.id] == most]


def _numbered(question: Question, number: int) -> str:
    if not 0 < number <= len(question.choices):
        raise AnswerError(str(number), f"a number from 1 to {len(question.choices)}")
    return question.choices[number - 1].id


def _several(question: Question, text: str, ids: tuple[str, ...]) -> AnswerError:
    words = "; ".join(variety.words for variety in question.choices if variety.id in ids)
    return AnswerError(f"{shown_scalar(text)}, which may be several", f"one of: {words}")


def _choice_words(question: Question, word: str = "") -> str:
    words = [variety.words for variety in question.choices]
    guess = nearest(word, words) if word else ""
    hint = f"'{guess}', the nearest of: " if guess else "one of: "
    return hint + "; ".join(word for word in (*words, question.subject.none) if word)


_READERS = {
    "text": _text,
    "place": _text,
    "voltage": _voltage,
    "ground": _ground,
    "count": _count,
    "length": _length,
    "field circuit": _field_circuit,
    "variety": _variety,
    "varieties": _varieties,
}
