"""Schemas of profiles, for editors; what a profile may hold in the end, its loader says."""

from collections.abc import Iterator
from typing import Any

from upgrade_planner.configuration.files.faults import with_article
from upgrade_planner.configuration.kinds import Kind
from upgrade_planner.configuration.model import Connection, Joint
from upgrade_planner.configuration.registry import circuits, kinds
from upgrade_planner.configuration.structuring.connections import SIZES
from upgrade_planner.configuration.structuring.entries import (
    ComponentEntry,
    ConfigurationFile,
    SystemFile,
    VehicleFile,
)
from upgrade_planner.configuration.structuring.ratings import FIELD_CIRCUITS, POLARITIES
from upgrade_planner.configuration.structuring.single_values import LONGEST_TEXT, PATTERNS
from upgrade_planner.configuration.values.colours import COLOUR_WORDS, Colour
from upgrade_planner.configuration.values.insulation import InsulationChoice, insulations
from upgrade_planner.configuration.values.quantities import Dimension, example_of
from upgrade_planner.configuration.values.rings import Rings
from upgrade_planner.configuration.values.sizes import SizeChoice
from upgrade_planner.documents.schemas.from_types import Schema, Schemas, marked_choice
from upgrade_planner.documents.schemas.meanings import with_meaning

FILES = {"vehicle": VehicleFile, "system": SystemFile, "configuration": ConfigurationFile}

_TERMINALS: Schema = {"type": "array", "items": {"type": "string"}}
_FUSE: Schema = {
    "type": "object",
    "properties": {
        name: with_meaning({"type": "string"}, "fuses", name) for name in ("from", "to", "rating")
    },
    "required": ["from", "to", "rating"],
    "additionalProperties": False,
}


def profile_schemas() -> Schemas:
    """What makes the schemas of profiles: no key but those that the loader knows."""
    made = Schemas(is_closed=True, marked=_marked, own=_notations())
    made.of(ComponentEntry)
    made.tables[ComponentEntry.__name__]["allOf"] = [_as_kind(kind) for kind in kinds().values()]
    return made


def _notations() -> dict[Any, Schema]:
    """Values with a notation of their own."""
    colour = "|".join("".join(f"[{c}{c.lower()}]" for c in code) for code in COLOUR_WORDS)
    names = [insulation.name for insulation in insulations()]
    size = 'a size such as "4 mm²" or "12 SAE", one for each size system, or "auto"'
    return {
        Colour: {"type": "string", "pattern": rf"^\s*({colour})(\s*/\s*({colour}))?\s*$"},
        Connection: {"enum": list(_connections())},
        Rings: {"type": "string", "pattern": "^[^,]+, *[^,]+$"},
        InsulationChoice: {"anyOf": [{"enum": names}, {"type": "string", "pattern": r"\S"}]},
        SizeChoice: {
            "type": "string",
            "description": size,
            "examples": ["auto", "12 SAE or 4 mm²"],
            "pattern": "^auto$|[0-9]",
        },
    }


def _connections() -> Iterator[str]:
    for joint, sizes in SIZES.items():
        named = [f"{joint} {size}" for size in sizes] or [str(joint)]
        yield from named
        if joint is Joint.BLADE:
            yield from (f"double {name}" for name in named)


def _marked(of: Any, marks: tuple[Any, ...]) -> Schema:
    mark = marks[0]
    if isinstance(mark, Dimension):
        return _quantity(mark)
    if mark == "between":
        return {"type": "number", "minimum": marks[1], "maximum": marks[2]}
    if mark in ("kind", "circuit"):
        return {"enum": list(kinds() if mark == "kind" else circuits())}
    if mark == "words":
        return {"type": "string", "pattern": r"\S", "maxLength": LONGEST_TEXT}
    if mark in PATTERNS:
        return {"type": "string", "pattern": f"^{PATTERNS[mark][0].pattern}$"}
    return marked_choice(of, marks)


def _quantity(dimension: Dimension) -> Schema:
    words = f"{with_article(dimension.value)} with its unit"
    return {
        "type": "string",
        "pattern": "[0-9]",
        "description": words,
        "examples": [example_of(dimension)],
    }


# Kinds ------------------------------------------------------------------------------------------


def _as_kind(kind: Kind) -> Schema:
    """What a component of a kind has; holds only if it says that it is of that kind."""
    ratings: Schema = {
        "properties": {
            name: with_meaning(_rating(word), "ratings", name)
            for name, word in kind.ratings.items()
        },
        "required": sorted(kind.required_ratings),
        "additionalProperties": False,
    }
    then: Schema = {"properties": {"ratings": ratings}}
    if kind.required_ratings:
        then["required"] = ["ratings"]
    if kind.optional_terminals is not None:
        names = [*kind.required_terminals, *kind.optional_terminals]
        named = {"items": {"properties": {"name": {"enum": names}}}} if names else {"maxItems": 0}
        then["properties"]["terminals"] = named
    is_kind = {"properties": {"kind": {"const": kind.id}}, "required": ["kind"]}
    return {"if": is_kind, "then": then}


def _rating(word: str) -> Schema:
    lists: dict[str, Schema] = {
        "text": {"type": "string"},
        "count": {"type": "integer", "minimum": 1},
        "angle": {"type": "string", "pattern": "[0-9]", "examples": ["38 deg"]},
        "blade": {"enum": list(SIZES[Joint.BLADE])},
        "polarity": {"enum": list(POLARITIES)},
        "field circuit": {"enum": list(FIELD_CIRCUITS)},
        "positions": {
            "type": "object",
            "additionalProperties": {"type": "array", "items": {**_TERMINALS, "minItems": 2}},
        },
        "fuses": {"type": "array", "items": _FUSE},
    }
    return lists[word] if word in lists else _quantity(Dimension[word.upper()])
