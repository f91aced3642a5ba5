"""Types to JSON Schema (draft 2020-12): typed dictionaries, tables of profiles, closed lists."""

import re
from collections.abc import Callable, Iterator, Mapping
from enum import EnumMeta
from functools import reduce
from inspect import getdoc
from operator import or_
from types import NoneType, UnionType
from typing import (
    Annotated,
    Any,
    Literal,
    NotRequired,
    Union,
    get_args,
    get_origin,
    get_type_hints,
    is_typeddict,
)

import attrs

from upgrade_planner.configuration.structuring.entries import RENAMED
from upgrade_planner.documents.schemas.meanings import meaning

Schema = dict[str, Any]

DIALECT = "https://json-schema.org/draft/2020-12/schema"

_PLAIN: dict[Any, Schema] = {
    str: {"type": "string"},
    int: {"type": "integer"},
    float: {"type": "number"},
    bool: {"type": "boolean"},
    NoneType: {"type": "null"},
    Any: {},
}
_ATTRIBUTE = re.compile(r"^    (\w+(?:, \w+)*): (.+(?:\n {8}.+)*)", re.MULTILINE)

Marked = Callable[[Any, tuple[Any, ...]], Schema]
"""The schema of a type with marks, such as `Annotated[str, "kind"]`."""


def marked_choice(of: Any, marks: tuple[Any, ...]) -> Schema:
    """A closed list of words; any other mark is a fault of the program."""
    if marks[0] != "choice":
        raise TypeError(f"no schema for {of} marked {marks}")
    return {"enum": list(marks[1:])}


@attrs.define
class Schemas:
    """
    Makes schemas and keeps those of tables, which others refer to.

    Attributes:
        is_closed: Whether tables have no keys but those described.
        marked: For types with marks.
        own: Schemas of types that have a notation of their own.
        tables: What was made, by name of the class.
    """

    is_closed: bool
    marked: Marked = marked_choice
    own: Mapping[Any, Schema] = attrs.field(factory=dict)
    tables: dict[str, Schema] = attrs.field(factory=dict)

    def of(self, kind: Any) -> Schema:
        """
        The schema of a type.

        Raises:
            TypeError: none is known for it.
        """
        simple = self.own.get(kind, _PLAIN.get(kind))
        if simple is not None:
            return dict(simple)
        if isinstance(kind, EnumMeta):
            words: list[Any] = list(kind)
            return {"enum": [str(word) for word in words]}
        if is_typeddict(kind) or attrs.has(kind):
            return self._reference(kind)
        return self._generic(get_origin(kind), get_args(kind), kind)

    def _generic(self, origin: Any, inner: tuple[Any, ...], kind: Any) -> Schema:
        if origin is Annotated:
            return self.marked(inner[0], kind.__metadata__)
        if origin is Literal:
            return {"enum": list(inner)}
        if origin in (Union, UnionType):
            return _either([self.of(one) for one in inner])
        if origin in (list, tuple):
            return {"type": "array", "items": self.of(inner[0])}
        if origin is dict:
            return {"type": "object", "additionalProperties": self.of(inner[1])}
        raise TypeError(f"no schema for {kind}")

    def _reference(self, table: type) -> Schema:
        name = table.__name__
        if name not in self.tables:
            self.tables[name] = {}  # it may refer to itself
            self.tables[name] = self._table(table)
        return {"$ref": f"#/$defs/{name}"}

    def _table(self, table: type) -> Schema:
        summary, told = _described(table)
        properties, required = {}, []
        for key, kind, is_required in _keys(table):
            words = told.get(key) or meaning(table.__name__, key)
            properties[key] = {**self.of(kind), **({"description": words} if words else {})}
            required += [key] if is_required else []
        schema = {"type": "object", "description": summary, "properties": properties}
        if required:
            schema["required"] = required
        return {**schema, "additionalProperties": False} if self.is_closed else schema


def _keys(table: type) -> Iterator[tuple[str, Any, bool]]:
    """Key, type and whether it must be there."""
    hints = get_type_hints(table, include_extras=True)
    if is_typeddict(table):
        for key, kind in hints.items():
            plain = get_args(kind)[0] if get_origin(kind) is NotRequired else kind
            yield key, plain, key in table.__required_keys__  # type: ignore[attr-defined]
        return
    for one in attrs.fields(table):
        if one.name != "origin":
            is_required = one.default is attrs.NOTHING
            yield RENAMED.get(one.name, one.name), _given(hints[one.name]), is_required


def _given(kind: Any) -> Any:
    """The type without None, for which a profile has no word: the key is left out."""
    kinds = tuple(one for one in get_args(kind) if one is not NoneType)
    return reduce(or_, kinds) if get_origin(kind) in (Union, UnionType) else kind


def _either(schemas: list[Schema]) -> Schema:
    if all(set(one) == {"type"} for one in schemas):
        return {"type": [one["type"] for one in schemas]}
    return {"anyOf": schemas}


def _described(table: type) -> tuple[str, dict[str, str]]:
    """What a class is, and what its docstring and those of its bases tell of its attributes."""
    told: dict[str, str] = {}
    for base in getattr(table, "__orig_bases__", ()):
        if is_typeddict(base):
            told |= _described(base)[1]
    summary, _, rest = (getdoc(table) or "").partition("\n\n")
    _, _, attributes = rest.partition("Attributes:\n")
    told |= {
        name: " ".join(words.split())
        for names, words in _ATTRIBUTE.findall(attributes)
        for name in names.split(", ")
    }
    return " ".join(summary.split()), told
