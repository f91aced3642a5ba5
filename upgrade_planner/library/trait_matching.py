"""Whether traits are the wanted ones: filters that forgive, and how near a configuration comes."""

import re
from collections.abc import Mapping
from itertools import product

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.faults import one_of
from upgrade_planner.errors import PlannerError
from upgrade_planner.library.traits import (
    NONE,
    NUMBER_WORDS,
    Trait,
    Traits,
    TraitSubject,
    subjects,
)

Wanted = Mapping[str, tuple[str, ...]]
"""What is known of a vehicle: ids of varieties, or the value itself, by the name of the subject.

Several ids mean all of them where a subject takes several varieties at once, else any of them.
"""

_VOLTS = re.compile(r"(\d+(?:\.\d+)?)\s*(?:v|volts?)?(?:[\s,][^\d]*)?", re.IGNORECASE)
_GROUNDS = {
    "+": "positive",
    "+ve": "positive",
    "plus": "positive",
    "-": "negative",
    "−": "negative",
    "-ve": "negative",
    "minus": "negative",
}


class BadFilter(PlannerError):
    """A value that one filter does not take."""

    def __init__(self, filter_name: str, found: str, expected: str) -> None:
        super().__init__(f"--{filter_name}: found '{found}'; expected {expected}")


def volts_in(text: str) -> str:
    """
    The figure of a system voltage, however it is written; "" if it is none.

    Example:
        >>> volts_in("6V"), volts_in("12 volt system"), volts_in("six volts"), volts_in("two 6 V")
        ('6', '12', '6', '')
    """
    first, _, rest = text.strip().lower().partition(" ")
    is_word = first in NUMBER_WORDS and (not rest or rest.startswith("v"))
    figure = str(NUMBER_WORDS.index(first)) if is_word else first
    match = _VOLTS.fullmatch(" ".join((figure, rest)).strip())
    return f"{float(match[1]):g}" if match else ""


def ground_in(text: str) -> str:
    """
    `negative` or `positive`, however it is written; "" if it is neither.

    Example:
        >>> ground_in("POS"), ground_in("-"), ground_in("the + post, strap to the frame")
        ('positive', 'negative', 'positive')
        >>> ground_in("left"), ground_in("+ or -")
        ('', '')
    """
    words = [word.strip("().,;:") for word in text.lower().split()]
    found = {name for word in words for name in (_post_in(word),) if name}
    return found.pop() if len(found) == 1 else ""


def _post_in(word: str) -> str:
    if word in _GROUNDS:
        return _GROUNDS[word]
    found = [name for name in ("negative", "positive") if len(word) > 2 and name.startswith(word)]
    return found[0] if found else ""


def count_in(text: str) -> str:
    """
    A small whole number in figures or in words; "" if it is none.

    Example:
        >>> count_in("six"), count_in("8"), count_in("V8")
        ('6', '8', '')
    """
    word = text.strip().lower()
    if word in NUMBER_WORDS[1:]:
        return str(NUMBER_WORDS.index(word))
    return str(int(word)) if word.isascii() and word.isdigit() and 0 < int(word) < 100 else ""


MOST_TOLD = 2
"""Sorts that may be meant which are told by name; our assumption, more are no longer read."""

SYSTEM_VOLTAGES = ("6", "12", "24")
"""Common practice. [V]"""

_ALLOWED = {"ground": ("negative", "positive"), "voltage": SYSTEM_VOLTAGES}
_READ = {"voltage": volts_in, "ground": ground_in, "cylinders": count_in}


def checked_filter(name: str, text: str, seen: tuple[str, ...]) -> str:
    """
    A filter as it is compared: the value itself where there is a fixed way of writing it.

    Args:
        name: Name of the subject.
        text: What was typed.
        seen: Values that exist, for the message.

    Raises:
        BadFilter: not a voltage, a terminal or a number.
    """
    if name not in _READ:
        return text.strip().lower()
    value = _READ[name](text)
    allowed = _ALLOWED.get(name, ())
    if not value or (allowed and value not in allowed):
        raise BadFilter(name, text, one_of(text, allowed or seen))
    return value


def is_wanted(trait: Trait, value: str) -> bool:
    """True if a trait is what a checked filter asks for; every word of it must be found."""
    if trait.name in _READ:
        return value in trait.ids
    return has_words(trait.search, value)


def has_words(text: str, words: str, *, whole: bool = False) -> bool:
    """
    True if each of some words is a part of a text; numbers must be whole, or all words must.

    Example:
        >>> has_words("points with ballast resistor", "POINTS ballast"), has_words("16 v", "6")
        (True, False)
    """
    row = re.split(r"[\s,;]+", words.strip().lower())
    return all(_has_word(text.lower(), word, whole=whole) for word in row)


def _has_word(text: str, word: str, *, whole: bool = False) -> bool:
    if whole or word.isdigit():
        return re.search(rf"(?<![a-z0-9.]){re.escape(word)}(?![a-z0-9.])", text) is not None
    return word in text


@frozen(kw_only=True)
class TraitDifference:
    """One trait that is not as wanted: both in words; `found` is "" if the profile is silent."""

    name: str
    title: str
    wanted: str
    found: str


@frozen(kw_only=True)
class TraitMatch:
    """
    How near traits come to what is wanted.

    Attributes:
        points: Weights of all that is as wanted, shares of what is nearly so.
        possible: Points if all were as wanted.
        same: Titles of the traits that are as wanted.
        differing: Those that are not, or only nearly so.
    """

    points: float
    possible: float
    same: tuple[str, ...]
    differing: tuple[TraitDifference, ...]

    @property
    def ratio(self) -> float:
        """Points of those possible, 0 to 1; 1 if nothing is wanted."""
        return self.points / self.possible if self.possible else 1.0


def match_of(wanted: Wanted, traits: Traits) -> TraitMatch:
    """How near a configuration comes to what is known of a vehicle; unknown things do not count."""
    points, possible = 0.0, 0.0
    same, differing = [], []
    for name, subject in subjects().items():
        if name not in wanted or not subject.weight:
            continue
        share = _share(subject, wanted[name], traits[name])
        points += subject.weight * share
        possible += subject.weight
        if share == 1:
            same.append(subject.title)
        else:
            told = TraitDifference(
                name=name,
                title=subject.title,
                wanted=wanted_words(subject, wanted[name]),
                found=traits[name].words,
            )
            differing.append(told)
    return TraitMatch(
        points=points, possible=possible, same=tuple(same), differing=tuple(differing)
    )


def wanted_words(subject: TraitSubject, ids: tuple[str, ...]) -> str:
    """What is wanted, in words."""
    by_id = {variety.id: variety.words for variety in subject.varieties} | {NONE: subject.none}
    told = [by_id.get(one, one) for one in ids]
    if not subject.takes_all and len(told) > MOST_TOLD:
        return f"{told[0]}, or one of {len(told) - 1} others like it"
    words = (" and " if subject.takes_all else " or ").join(told)
    unit = {"voltage": " V", "ground": " ground", "cylinders": " cylinders"}.get(subject.name, "")
    return words + unit


def _share(subject: TraitSubject, wanted: tuple[str, ...], trait: Trait) -> float:
    if not subject.varieties and subject.name not in _READ:
        share = _share_of_words(wanted[0], trait.search)
        return max(share, _share_of_bodies(subject, wanted[0], trait.words))
    ids, theirs = ({*row} - {NONE} for row in (wanted, trait.ids))
    if ids == theirs:
        return 1.0
    if subject.takes_all:
        return len(ids & theirs) / len(ids | theirs)
    if ids & theirs:  # one of those that may be meant
        return 1.0
    families = {variety.family for variety in subject.varieties if variety.id in ids} - {""}
    return subject.family_share if families & trait.families else 0.0


SHARES_OF_BODIES = (0.0, 0.3, 0.5)
"""Share of the weight that two sorts get by how many of their first words are the same; one sort
gets more. Our assumption."""
SHARE_OF_ONE_BODY = 0.8


def _share_of_bodies(subject: TraitSubject, wanted: str, text: str) -> float:
    """How much alike two bodies are by their sorts, though they are called otherwise."""
    if _body_words(subject, wanted) & _body_words(subject, text):
        return 1.0
    pairs = product(_bodies_in(subject, wanted), _bodies_in(subject, text))
    return max((_share_of_two(one, other) for one, other in pairs), default=0.0)


def is_other_body(wanted: str, body: str) -> bool:
    """True if two bodies are of sorts that have nothing in common; False if one is not known."""
    subject = subjects()["body"]
    bodies = _bodies_in(subject, wanted), _bodies_in(subject, body)
    return all(bodies) and not any(_share_of_two(*pair) for pair in product(*bodies))


def _bodies_in(subject: TraitSubject, text: str) -> list[str]:
    said = _body_words(subject, text)
    return [name for name, words in subject.bodies.items() if said & set(words)]


def _body_words(subject: TraitSubject, text: str) -> set[str]:
    """The words of a text that name a sort."""
    known = {word for words in subject.bodies.values() for word in words}
    return known & set(re.split(r"[^a-zé-]+", text.lower()))


def _share_of_two(one: str, other: str) -> float:
    same = [a for a, b in zip(one.split(), other.split(), strict=False) if a == b]
    return SHARE_OF_ONE_BODY if one == other else SHARES_OF_BODIES[len(same)]


def _share_of_words(wanted: str, text: str) -> float:
    words = wanted.lower().split()
    return sum(_has_word(text, word) for word in words) / len(words) if words else 1.0
