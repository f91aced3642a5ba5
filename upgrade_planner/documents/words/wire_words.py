"""Conductors in words: size, kind, insulation, colour, in the units asked for."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import TYPE_CHECKING

from upgrade_planner.configuration.model import Conductor, Wire
from upgrade_planner.configuration.values.colours import COLOUR_WORDS
from upgrade_planner.configuration.values.measures import ohm
from upgrade_planner.configuration.values.sizes import METRIC, WireSize, other_system_label
from upgrade_planner.documents.words.quantities import (
    MOST,
    quantity_words,
    size_for_us,
    sizes_for_us,
)
from upgrade_planner.documents.words.wording import role_words

if TYPE_CHECKING:
    from upgrade_planner.comparison.results import Comparison


def size_words(size: WireSize, units: str, *, bound: str = "") -> str:
    """
    The size as the vehicle's trade names it, where both systems of units may stand.

    Where one is asked for: in US units a gauge, in metric ones the area beside the gauge. The parts
    list always has both.

    Args:
        size: Any size.
        units: `metric`, `us` or `both`.
        bound: As at `size_for_us`.
    """
    if units == "us":
        return size_for_us(size, bound=bound)
    if units == "both" or size.system == METRIC:
        return size.label
    return f"{size.label} ({other_system_label(size, METRIC)})"


def sizes_in_turn(old: WireSize, new: WireSize, units: str) -> tuple[str, str]:
    """Two sizes of one sentence, told apart where they have the same gauge."""
    if units == "us":
        words = sizes_for_us({old, new})
        return words[old], words[new]
    return size_words(old, units), size_words(new, units)


def conductor_words(wire: Wire, units: str) -> str:
    """Size, kind and colour in one run."""
    tail = f"{wire.insulation.name} · {wire.colour.label}"
    size = _size_of(wire, units)
    if wire.conductor is Conductor.RESISTANCE:
        return f"{size} · resistance wire {_ohms(wire)} · {tail}"
    if wire.conductor is Conductor.LINK:
        return f"{size} · fusible link · {wire.colour.label}"
    if wire.conductor is Conductor.ALUMINIUM:
        return f"{size} · aluminium · {tail}"
    return f"{size} · {tail}"


_COVERED_IN = ("COTTON", "RUBBER")
"""Insulation classes that are called by a word and not by letters."""


def insulation_words(name: str) -> str:
    """What an insulation class is called in a sentence: `cotton`, `GXL`."""
    return name.lower() if name in _COVERED_IN else name


_BRIEF_KINDS = {
    Conductor.COPPER: "",
    Conductor.ALUMINIUM: " aluminium",
    Conductor.LINK: " link",
}


def brief_words(wire: Wire, units: str) -> str:
    """Size, kind if not plain copper, and colour code: for long lists."""
    kind = _BRIEF_KINDS.get(wire.conductor)
    if kind is None:
        kind = f" resistance wire {_ohms(wire)}"
    return f"{_size_of(wire, units)}{kind} {wire.colour.code}"


def colour_key(wires: Collection[Wire]) -> str:
    """What the letters of these wires stand for, each once, in the order of the standard's list."""
    used = {code for wire in wires for code in (wire.colour.main, wire.colour.tracer) if code}
    listed = ", ".join(f"{code} {word}" for code, word in COLOUR_WORDS.items() if code in used)
    tracer = "; behind a stroke the tracer" if any(wire.colour.tracer for wire in wires) else ""
    return f"Colours: {listed}{tracer}." if listed else ""


def _size_of(wire: Wire, units: str) -> str:
    is_link = wire.conductor is Conductor.LINK
    return size_words(wire.size, units, bound=MOST if is_link else "")


def _ohms(wire: Wire) -> str:
    return quantity_words(ohm(wire.resistance_ohm or 0.0), "g", "metric")


def numbered_name(number: int, wire_id: str) -> str:
    """Number and name: `W12 charge-lamp`; W is the class letter of conductors in IEC 81346-2."""
    return f"{tag_number(number)} {wire_id}"


def tag_number(number: int) -> str:
    """The number alone: `W12`."""
    return f"W{number}"


ON_DEAD_WIRES = ("end cap", "tag")
"""Articles that only wires out of use take."""


def names_in_job(names: Iterable[str], article: str, comparison: Comparison) -> list[str]:
    """
    What an article is for: wires by number and name, parts by name.

    Where a dead wire and a new one share a name both numbers stand, but for articles that only
    one of them takes.
    """
    return [_name_in_job(name, article, comparison) for name in names]


def _name_in_job(name: str, article: str, comparison: Comparison) -> str:
    numbers = comparison.numbers
    dead = {wire.id for wire in comparison.capped_wires}
    old = [numbers.old[name]] if name in dead else []
    new = [numbers.new[name]] if name in numbers.new else []
    found = old if article in ON_DEAD_WIRES and old else [*old, *new]
    if not found:
        return numbered_name(numbers.old[name], name) if name in numbers.old else role_words(name)
    return f"{', '.join(map(tag_number, found))} {name}"
