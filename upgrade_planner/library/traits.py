"""
What one sees of a configuration, in the words of the trade: charging, ignition, starting, …

Drawn from the kinds of parts, their terminals and their wires by the table in data/traits.toml;
the names of files play no part. A kind that the table does not know is told in its own words.
"""

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from fnmatch import translate
from functools import cache
from typing import Any

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.own_data import data_table
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import Configuration

NUMBER_WORDS = (
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
)

_NUMBERS = "|".join(NUMBER_WORDS[1:])
_CYLINDERS = (
    rf"\b(\d+|{_NUMBERS})[\s-]*cylinder",
    r"\b(?:v|straight|flat|in-?line)[\s-]*(\d+)\b",
    rf"\b({_NUMBERS})\b",
)
"""Ways of saying how many cylinders there are, the surest first."""

NONE = "none"
"""Id of the variety of a trait that the configuration does not have."""

OTHER = "other"
"""Id of a variety that the table does not know."""


@frozen(kw_only=True)
class Variety:
    """
    One variety of a trait, such as a way of charging.

    Attributes:
        words: What people call it.
        brief: The same for a narrow column.
        family: What it has in common with others.
        also: Other words that people use.
        see: How to know it on the vehicle.
        has: Patterns of facts that must all be met; `|` separates alternatives.
        hidden: True if it only stands in where nothing better is known; nobody is asked for it.
    """

    id: str
    words: str
    brief: str
    family: str
    also: tuple[str, ...]
    see: str
    has: tuple[tuple[str, ...], ...]
    hidden: bool

    def is_met(self, told: frozenset[str]) -> bool:
        """True if every condition is among facts and the patterns that these meet."""
        return all(not told.isdisjoint(alternatives) for alternatives in self.has)


@frozen(kw_only=True)
class TraitSubject:
    """
    Something that is seen of every configuration.

    Attributes:
        weight: How much it counts when the nearest configuration is sought.
        family_share: How much of the weight another variety of the same family gets, 0 to 1.
        takes_all: True if several varieties may hold at once.
        none: Words if no variety holds.
        none_also: Other words for that.
        slot: Slot whose parts are named if the table knows none of them.
        bodies: Words that people use for one sort, by the sort's name from general to special.
    """

    name: str
    title: str
    weight: float
    family_share: float
    takes_all: bool
    none: str
    none_also: tuple[str, ...]
    slot: str
    varieties: tuple[Variety, ...]
    bodies: Mapping[str, tuple[str, ...]]


@frozen(kw_only=True)
class Trait:
    """
    What one subject is in one configuration.

    Attributes:
        ids: Ids of the varieties that hold, or the value itself; NONE or OTHER if no variety does.
        words: In words; "" if nothing is known.
        brief: The same for a narrow column.
        families: Families of the varieties.
        search: Lower-case text in which filters look.
    """

    name: str
    title: str
    ids: tuple[str, ...]
    words: str
    brief: str = ""
    families: frozenset[str] = frozenset()
    search: str = ""


Traits = Mapping[str, Trait]
"""Traits by the name of their subject, in the order of the table."""


@cache
def subjects() -> Mapping[str, TraitSubject]:
    """All subjects by name, from data/traits.toml."""
    data = data_table(__package__, "traits.toml")
    return {name: _subject(name, entry) for name, entry in data.items()}


@cache
def _patterns_met(fact: str) -> Sequence[str]:
    """The conditions of the table that stand for several facts, this one among them."""
    return tuple(pattern for pattern, meant in _patterns() if meant.match(fact))


@cache
def _patterns() -> Sequence[tuple[str, re.Pattern[str]]]:
    varieties = (variety for subject in subjects().values() for variety in subject.varieties)
    conditions = {one for each in varieties for alternatives in each.has for one in alternatives}
    return tuple((one, re.compile(translate(one))) for one in sorted(conditions) if "*" in one)


def _subject(name: str, entry: dict[str, Any]) -> TraitSubject:
    return TraitSubject(
        name=name,
        title=entry["title"],
        weight=entry["weight"],
        family_share=entry.get("family_share", 0.0),
        takes_all=entry.get("pick") == "all",
        none=entry.get("none", ""),
        none_also=tuple(entry.get("none_also", ())),
        slot=entry.get("slot", ""),
        varieties=tuple(_variety(variety) for variety in entry.get("variety", ())),
        bodies={name: tuple(words) for name, words in entry.get("bodies", {}).items()},
    )


def _variety(entry: dict[str, Any]) -> Variety:
    return Variety(
        id=entry["id"],
        words=entry["words"],
        brief=entry.get("brief", entry["words"]),
        family=entry.get("family", ""),
        also=tuple(entry.get("also", ())),
        see=entry["see"],
        has=tuple(tuple(one.strip() for one in text.split("|")) for text in entry["has"]),
        hidden=entry.get("hidden", False),
    )


def traits_of(configuration: Configuration) -> Traits:
    """Everything that is seen of a configuration."""
    facts = frozenset(trait_facts(configuration))
    told = facts.union(*map(_patterns_met, facts))
    plain = _plain_traits(configuration)
    return {
        name: plain[name] if name in plain else _sorted_trait(subject, told, configuration)
        for name, subject in subjects().items()
    }


def trait_facts(configuration: Configuration) -> Iterator[str]:
    """The facts that the table's conditions look for; its head lists their forms."""
    for kind, count in Counter(part.kind for part in configuration.components).items():
        yield from (f"{n} {kind}" for n in range(2, count + 1))
    for part in configuration.components:
        yield part.kind
        yield from (f"{part.kind} rated {rating}" for rating in part.ratings)
        yield f"{part.kind} in {configuration.place_by_id[part.place].space}"
    for ref in configuration.wires_at:
        part = configuration.component(ref.role)
        terminal = part.terminal(ref.terminal)
        yield f"{part.kind}.{ref.terminal}"
        yield f"{part.kind}.{ref.terminal}={terminal.label if terminal else ''}"
    for wire in configuration.wires:
        yield f"{wire.circuit}: {wire.conductor}"
        for ref in wire.ends:
            yield f"{configuration.component(ref.role).kind} @ {wire.circuit}"


def _sorted_trait(
    subject: TraitSubject, told: frozenset[str], configuration: Configuration
) -> Trait:
    met = [variety for variety in subject.varieties if variety.is_met(told)]
    met = met if subject.takes_all else met[:1]
    if met:
        return trait_for(subject, met)
    strange = _words_of_slot(subject.slot, configuration)
    words = strange or subject.none
    return Trait(
        name=subject.name,
        title=subject.title,
        ids=(OTHER if strange else NONE,),
        words=words,
        search=words.lower(),
    )


def trait_for(subject: TraitSubject, varieties: Iterable[Variety]) -> Trait:
    """The trait that some varieties of a subject make."""
    chosen = tuple(varieties)
    words = " and ".join(variety.words for variety in chosen)
    texts = [t for s in chosen for t in (s.words, s.family, s.id.replace("_", " "), *s.also)]
    return Trait(
        name=subject.name,
        title=subject.title,
        ids=tuple(variety.id for variety in chosen),
        words=words,
        brief=" + ".join(variety.brief for variety in chosen),
        families=frozenset(variety.family for variety in chosen if variety.family),
        search=" ; ".join(texts).lower(),
    )


def _words_of_slot(slot: str, configuration: Configuration) -> str:
    """What the parts of a slot are called, where the table knows none of them."""
    parts = [part for part in configuration.components if slot and part.slot == slot]
    told = [part for part in parts if part.family is not Family.GROUND_POINT]
    words = (part.words for part in told if not part.can(Capability.MADE_OF_WIRE))
    return ", ".join(dict.fromkeys(words))


def _plain_traits(configuration: Configuration) -> dict[str, Trait]:
    """Traits that are a value of the vehicle and not one of a row of varieties."""
    vehicle = configuration.vehicle
    cylinders = cylinders_of(configuration)
    values = {
        "voltage": (f"{vehicle.voltage_v:g}", f"{vehicle.voltage_v:g} V", ""),
        "ground": (vehicle.ground, f"{vehicle.ground} ground", ""),
        "cylinders": (str(cylinders or ""), f"{cylinders} cylinders" if cylinders else "", ""),
        "engine": (vehicle.engine, vehicle.engine, vehicle.summary),
        "body": (vehicle.body, vehicle.body, f"{vehicle.title} {vehicle.summary}"),
    }
    made = {name: _plain(name, *value) for name, value in values.items()}
    made["engine"] = evolve(
        made["engine"], search=f"{made['engine'].search} {made['cylinders'].search}"
    )
    slots = tuple(sorted(configuration.systems))
    made["slots"] = Trait(
        name="slots",
        title=subjects()["slots"].title,
        ids=slots,
        words=", ".join(slots),
        search=" ".join(slots).lower(),
    )
    return made


def _plain(name: str, value: str, words: str, also: str) -> Trait:
    search = f"{words} {also}".strip()
    if name == "cylinders" and value.isdigit() and int(value) < len(NUMBER_WORDS):
        search += f" {NUMBER_WORDS[int(value)]} cylinders"
    return Trait(
        name=name,
        title=subjects()[name].title,
        ids=(value,) if value else (),
        words=words,
        search=search.lower(),
    )


def cylinders_of(configuration: Configuration) -> int | None:
    """Number of cylinders: from the words for the engine, else rating of a part, else None."""
    rated = [
        part.ratings["cylinders"]
        for part in configuration.components
        if "cylinders" in part.ratings
    ]
    return cylinders_in(configuration.vehicle.engine) or (int(rated[0]) if rated else None)


def cylinders_in(words: str) -> int | None:
    """
    Number of cylinders that the words for an engine name, or None.

    Example:
        >>> cylinders_in("straight six, 2.2 litre"), cylinders_in("V8"), cylinders_in("diesel")
        (6, 8, None)
    """
    for pattern in _CYLINDERS:
        found = re.search(pattern, words.lower())
        if found:
            return int(found[1]) if found[1].isdigit() else NUMBER_WORDS.index(found[1])
    return None
