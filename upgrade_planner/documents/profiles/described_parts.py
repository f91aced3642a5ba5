"""The lines about wires, ratings and places of a configuration that somebody described."""

from collections.abc import Container, Iterable, Iterator
from fnmatch import fnmatchcase

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.toml_text import comment, quoted_text, value_text
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import (
    Component,
    Conductor,
    Configuration,
    Wire,
)
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.values.sizes import size_text
from upgrade_planner.documents.words.wording import NBSP, terminal_words
from upgrade_planner.library.questions import Answer, Answers, Question, questions

MAIN_CIRCUITS = (
    "battery cable",
    "starter cable",
    "main feed",
    "charge output",
    "ignition feed",
    "ignition primary",
    "start signal",
    "start bypass",
    "charge lamp",
    "field",
    "sensing",
)
"""Circuits whose wires a person is asked to look at."""

_UNITS = {"current": "A", "voltage": "V", "resistance": "ohm", "charge": "Ah", "angle": "deg"}
"""Ratings that stand on the part or can be measured, each with the unit that is written."""

VEHICLE = "vehicle"

ALIKE_WORDS = 2
"""Words that a place must share with what was said to be proposed; our assumption."""

_LITTLE_WORDS = frozenset(
    ("a", "an", "the", "on", "in", "at", "of", "to", "and", "beside", "under", "near", "behind")
)
"""Words that say nothing about which place is meant."""


@frozen(kw_only=True)
class Length:
    """
    A length that was measured.

    Attributes:
        title: What was measured.
        text: As it was given, with its unit.
        wire_id: Wire that it belongs to; "" if it cannot be told.
        trouble: Why it belongs to no wire; "" if it does.
    """

    title: str
    text: str
    wire_id: str = ""
    trouble: str = ""


def lengths_of(configuration: Configuration, answers: Answers) -> tuple[Length, ...]:
    """Measured lengths, each with the wire it belongs to."""
    found: list[Length] = []
    for question in questions():
        if question.kind == "length" and question.key in answers:
            taken = {length.wire_id for length in found}
            found.append(_length(configuration, question, answers[question.key], taken))
    return tuple(found)


def _length(
    configuration: Configuration, question: Question, answer: Answer, taken: set[str]
) -> Length:
    wires = [w for w in _wires_between(configuration, question) if w.id not in taken]
    title = question.key.replace("_", " ")
    if len(wires) == 1:
        return Length(title=title, text=answer.words, wire_id=wires[0].id)
    those = "one of " + ", ".join(wire.id for wire in wires) if wires else "no single wire"
    trouble = f"{title}: {answer.words} measured; in the profile it is {those}."
    return Length(title=title, text=answer.words, trouble=trouble)


def _wires_between(configuration: Configuration, question: Question) -> list[Wire]:
    """Wires of the circuits that a question means, between parts of the kinds it means."""
    return [
        wire
        for wire in configuration.wires
        if wire.circuit in question.circuits
        and wire.conductor is Conductor.COPPER
        and _joins(wire, question.between, configuration)
    ]


def _joins(wire: Wire, between: tuple[tuple[str, ...], ...], configuration: Configuration) -> bool:
    one, other = (configuration.component(ref.role).kind for ref in wire.ends)
    first, second = between
    return (_is_any(one, first) and _is_any(other, second)) or (
        _is_any(other, first) and _is_any(one, second)
    )


def _is_any(kind: str, patterns: Iterable[str]) -> bool:
    return any(fnmatchcase(kind, pattern) for pattern in patterns)


def wire_lines(configuration: Configuration, *, without: Container[str]) -> Iterator[str]:
    """The wires to look at, as comments inside a list of changes; `without` those named there."""
    for wire in configuration.wires:
        if wire.id in without:
            continue
        if wire.slot != VEHICLE or wire.circuit in MAIN_CIRCUITS:
            table = {"id": wire.id, "size": size_text(wire.given_size), "colour": wire.colour.code}
            ends = " to ".join(terminal_words(configuration, ref) for ref in wire.ends)
            yield f"  # {value_text(table)},  # {ends}".replace(NBSP, " ")


def example_lines(configuration: Configuration) -> Iterator[str]:
    """How to write down a wire that somebody added or took out, after wires that are there."""
    wire = next((w for w in configuration.wires if w.circuit == "ignition feed"), None)
    if wire is None:
        return
    table = {
        "id": "found-cable",
        "circuit": wire.circuit,
        "from": str(wire.start),
        "to": str(wire.end),
        "size": size_text(wire.given_size),
        "colour": "BU",
        "insulation": "PVC",
    }
    yield "# A wire that somebody added, and one that is gone, are written like this:"
    yield "# add_wires = ["
    yield f"#   {value_text(table)},"
    yield "# ]"
    yield f"# remove_wires = [{quoted_text(wire.id)}]"


def rating_lines(configuration: Configuration, *, without: Container[str]) -> Iterator[str]:
    """The ratings to read off the parts, as comments; `without` the roles that stand elsewhere."""
    lines = [
        line
        for part in configuration.components
        if (part.slot != VEHICLE or part.family is Family.BATTERY) and part.role not in without
        for line in _rating_lines(part)
    ]
    if lines:
        yield "# Read off the parts, or measure. Take the # off where it differs:"
        yield from lines


def ratings_as_comments(part: Component, *, without: Container[str] = ()) -> Iterator[str]:
    """The ratings of one part, as a profile writes them, behind a #."""
    words = kinds()[part.kind].ratings
    for name, value in part.ratings.items():
        if name in without:
            continue
        if words.get(name) in _UNITS and isinstance(value, float | int):
            yield f'# {name} = "{value:g} {_UNITS[words[name]]}"'
        elif words.get(name) == "count":
            yield f"# {name} = {value}"


def _rating_lines(part: Component) -> Iterator[str]:
    shown = list(ratings_as_comments(part))
    if shown:
        yield "#"
        yield f"# [overrides.{part.role}]"
        yield from shown


def place_lines(configuration: Configuration, answers: Answers) -> Iterator[str]:
    """Parts that sit elsewhere on the vehicle, as comments that would put it right."""
    for question in questions():
        answer = answers.get(question.key)
        if question.kind == "place" and answer is not None:
            parts = [p for p in configuration.components if _is_any(p.kind, question.parts)]
            yield from _place_lines(configuration, parts, answer)


def _place_lines(
    configuration: Configuration, parts: list[Component], answer: Answer
) -> Iterator[str]:
    names = {part.role: configuration.place_by_id[part.place].name for part in parts}
    if any(_is_alike(answer.words, name) for name in names.values()):
        return
    title = answer.key.replace("_", " ")
    if not parts:
        yield from comment(f"TODO {title}: '{answer.words}'; the profile has no such part.")
        return
    there = "; ".join(f"{role.replace('_', ' ')}: {name}" for role, name in names.items())
    yield from comment(f"TODO {title}: '{answer.words}' on the vehicle; in the profile {there}.")
    others = [p for p in configuration.places if p.id != parts[0].place]
    place = max(others, key=lambda p: (_shared(answer.words, p.name), -p.walk), default=None)
    if place is None:
        return
    if _shared(answer.words, place.name) >= min(ALIKE_WORDS, len(_words(answer.words))) > 0:
        yield "# Take the # off if the part and the place are the right ones:"
        yield "# [[as_found.change_component]]"
        yield f"# role = {quoted_text(parts[0].role)}"
        yield f"# place = {quoted_text(place.id)}"


def _words(text: str) -> set[str]:
    return set("".join(c if c.isalnum() else " " for c in text.lower()).split()) - _LITTLE_WORDS


def _shared(one: str, other: str) -> int:
    return len(_words(one) & _words(other))


def _is_alike(answer: str, name: str) -> bool:
    """True if all words of one are among those of the other."""
    return _words(answer) <= _words(name) or _words(name) <= _words(answer)
