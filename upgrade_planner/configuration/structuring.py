"""Plain data in, entry classes out; every fault of a file is collected, none is coerced away."""

import re
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from typing import Annotated, Any, TypeVar, get_args, get_origin

import attrs
import cattrs
from cattrs.errors import ClassValidationError, ForbiddenExtraKeysError, IterableValidationError
from cattrs.gen import make_dict_structure_fn, override

from upgrade_planner.configuration import entries
from upgrade_planner.configuration.colours import Colour, ColourError, parse_colour
from upgrade_planner.configuration.connections import parse_connection
from upgrade_planner.configuration.faults import Fault, FieldFault, SeveralFaults, one_of
from upgrade_planner.configuration.files import TomlFile
from upgrade_planner.configuration.insulation import (
    Insulation,
    InsulationError,
    parse_insulation,
)
from upgrade_planner.configuration.model import (
    Conductor,
    Connection,
    Covering,
    KeyPath,
    Origin,
)
from upgrade_planner.configuration.quantities import Dimension, QuantityError, parse_quantity
from upgrade_planner.configuration.ratings import parse_ratings
from upgrade_planner.configuration.registry import circuits, kinds
from upgrade_planner.configuration.sizes import WireSize, WireSizeError, parse_wire_size

T = TypeVar("T")

RENAMED = {"start": "from", "end": "to"}
"""Fields whose key in the file is a word that Python reserves or reads badly."""

_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,59}")
_REFERENCE = re.compile(r"([a-z0-9_]{1,60})\.([a-z0-9_]{1,60})")
_LONGEST_TEXT = 2000


def structured(cls: type[T], file: TomlFile) -> tuple[T | None, list[Fault]]:
    """
    The content of a file as `cls`, or None, and all faults of the file.

    Values remember where they stood, so that later stages can point at their line too.
    """
    try:
        entry = _converter().structure(file.data, cls)
    except Exception as error:
        return None, list(_faults(error, file, (), cls))
    return _with_origins(entry, file.name, ()), []


@cache
def _converter() -> cattrs.Converter:
    converter = cattrs.Converter(forbid_extra_keys=True, detailed_validation=True)
    converter.register_structure_hook(str, _text)
    converter.register_structure_hook(int, _whole_number)
    converter.register_structure_hook_func(_is_annotated, _annotated)
    for kind, parse, errors in (
        (Colour, parse_colour, ColourError),
        (WireSize, parse_wire_size, WireSizeError),
        (Insulation, parse_insulation, InsulationError),
        (Connection, parse_connection, FieldFault),
    ):
        converter.register_structure_hook(kind, _parsed(parse, errors))
    for choice in (Conductor, Covering):
        converter.register_structure_hook(choice, _chosen)
    converter.register_structure_hook_factory(_is_entry, lambda cls: _entry(converter, cls))
    converter.register_structure_hook_factory(_is_tuple, lambda cls: _tuple(converter, cls))
    return converter


def _text(value: Any, _: Any = None) -> str:
    if not isinstance(value, str):
        raise FieldFault(_shown(value), "a text in quotes")
    if len(value) > _LONGEST_TEXT:
        raise FieldFault(f"a text of {len(value)} characters", f"at most {_LONGEST_TEXT}")
    if any(ord(character) < 32 and character not in "\n\t\r" for character in value):
        raise FieldFault(repr(value)[:60], "a text without control characters")
    return value


def _whole_number(value: Any, _: Any = None) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or abs(value) > 10_000:
        raise FieldFault(_shown(value), "a whole number without quotes")
    return value


def _shown(value: Any) -> str:
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return "a list"
    return f"'{value}'" if isinstance(value, str) else str(value).lower()


def _is_annotated(cls: Any) -> bool:
    return get_origin(cls) is Annotated


def _annotated(value: Any, cls: Any) -> Any:
    marks = get_args(cls)[1:]
    if isinstance(marks[0], Dimension):
        return _quantity(value, marks)
    text = _text(value)
    if marks[0] == "choice":
        return _in(text, marks[1:])
    if marks[0] == "kind":
        return _in(text, kinds())
    if marks[0] == "circuit":
        return _in(text, circuits())
    if marks[0] == "reference" and not _REFERENCE.fullmatch(text):
        raise FieldFault(f"'{text}'", "role.terminal, such as alternator.output")
    if marks[0] == "name" and not _NAME.fullmatch(text):
        raise FieldFault(f"'{text}'", "a name of letters, digits, - and _ (at most 60)")
    return text


def _quantity(value: Any, marks: tuple[Any, ...]) -> float:
    try:
        number = parse_quantity(value, marks[0])
    except QuantityError as error:
        raise FieldFault(error.found, error.expected) from error
    if "above zero" in marks and number <= 0:
        raise FieldFault(f"'{value}'", "a value above zero")
    return number


def _in(text: str, allowed: Any) -> str:
    if text not in allowed:
        raise FieldFault(f"'{text}'", one_of(text, [item for item in allowed if item], limit=40))
    return text


def _parsed(parse: Callable[[Any], Any], errors: type[Exception]) -> Callable[[Any, Any], Any]:
    def hook(value: Any, _: Any) -> Any:
        if not isinstance(value, str):
            raise FieldFault(_shown(value), "a text in quotes")
        try:
            return parse(value)
        except errors as error:
            raise FieldFault(error.found, _with_nearest(error)) from error  # type: ignore[attr-defined]

    return hook


def _with_nearest(error: Any) -> str:
    near = getattr(error, "nearest", ())
    words = near if isinstance(near, str) else " or ".join(map(str, near))
    return f"{error.expected} (nearest: {words})" if words else str(error.expected)


def _chosen(value: Any, cls: Any) -> Any:
    return cls(_in(_text(value), [str(item) for item in cls]))


def _is_entry(cls: Any) -> bool:
    return attrs.has(cls) and cls.__module__ == entries.__name__


def _is_tuple(cls: Any) -> bool:
    return get_origin(cls) is tuple


def _tuple(converter: cattrs.Converter, cls: Any) -> Callable[[Any, Any], Any]:
    element = get_args(cls)[0]
    list_type = list[element]  # type: ignore[valid-type]
    structure_list = converter.get_structure_hook(list_type)

    def hook(value: Any, _: Any) -> Any:
        if not isinstance(value, list):
            raise FieldFault(_shown(value), "a list [ … ]")
        return tuple(structure_list(value, list_type))

    return hook


def _entry(converter: cattrs.Converter, cls: type[Any]) -> Callable[[Any, Any], Any]:
    overrides: dict[str, Any] = {}
    if "origin" in _fields(cls):
        overrides["origin"] = override(omit=True)
    overrides |= {k: override(rename=v) for k, v in RENAMED.items() if k in _fields(cls)}
    base = make_dict_structure_fn(cls, converter, _cattrs_forbid_extra_keys=True, **overrides)

    def hook(value: Any, _: Any) -> Any:
        if not isinstance(value, dict):
            raise FieldFault(_shown(value), "a table { … }")
        causes: list[Exception] = list(_together(cls, value))
        try:
            entry = base(value, cls)
        except ClassValidationError as error:
            causes.append(error)
        if causes:
            raise SeveralFaults(causes)
        return entry

    return hook


def _fields(cls: type[Any]) -> set[str]:
    return {attribute.name for attribute in attrs.fields(cls)}


def _together(cls: type[Any], value: Mapping[str, Any]) -> Iterator[FieldFault]:
    """Faults that show only when the fields of one table are seen together."""
    if cls is entries.ComponentEntry and value.get("kind") in kinds():
        yield from _component_faults(value)
    if cls is entries.WireEntry:
        yield from _wire_faults(value)


def _component_faults(value: Mapping[str, Any]) -> Iterator[FieldFault]:
    kind = kinds()[value["kind"]]
    listed = value.get("terminals", [])
    if not isinstance(listed, list) or not all(isinstance(item, dict) for item in listed):
        return
    names = [str(item.get("name", "")) for item in listed]
    yield from _terminal_faults(kind, names)
    ratings = value.get("ratings", {})
    if isinstance(ratings, dict):
        _, faults = parse_ratings(kind, ratings, tuple(names))
        for fault in faults:
            yield FieldFault(fault.found, fault.expected, inner=("ratings", *fault.inner))


def _terminal_faults(kind: Any, names: list[str]) -> Iterator[FieldFault]:
    for required in kind.required_terminals:
        if required not in names:
            found = f"a {kind.words} without the terminal '{required}'"
            yield FieldFault(found, f"terminals with '{required}'", inner=("terminals",))
    for index, name in enumerate(names):
        if name in names[:index]:
            found = f"terminal '{name}' a second time"
            yield FieldFault(found, "each terminal once", inner=("terminals", index))
        allowed = kind.optional_terminals
        if allowed is not None and name not in (*kind.required_terminals, *allowed):
            choice = one_of(name, (*kind.required_terminals, *allowed))
            yield FieldFault(f"terminal '{name}'", choice, inner=("terminals", index))


def _wire_faults(value: Mapping[str, Any]) -> Iterator[FieldFault]:
    is_resistance = value.get("conductor") == str(Conductor.RESISTANCE)
    if is_resistance and "resistance" not in value:
        yield FieldFault("a resistance wire without its ohms", 'resistance = "1.35 ohm"')
    if not is_resistance and "resistance" in value:
        yield FieldFault(
            "a resistance on plain wire", 'conductor = "resistance wire"', inner=("resistance",)
        )
    if value.get("from") is not None and value.get("from") == value.get("to"):
        yield FieldFault("both ends on one terminal", "two different terminals", inner=("to",))


def _faults(error: Exception, file: TomlFile, path: KeyPath, cls: Any) -> Iterator[Fault]:
    if isinstance(error, SeveralFaults):
        for cause in error.causes:
            yield from _faults(cause, file, path, cls)
    elif isinstance(error, ClassValidationError | IterableValidationError):
        yield from _group_faults(error, file, path)
    elif isinstance(error, ForbiddenExtraKeysError):
        allowed = [RENAMED.get(name, name) for name in _fields(error.cl) if name != "origin"]
        for key in sorted(error.extra_fields):
            expected = one_of(key, allowed, limit=20)
            yield _fault(file, (*path, key), f"unknown key '{key}'", expected)
    elif isinstance(error, FieldFault):
        yield _fault(file, (*path, *error.inner), error.found, error.expected)
    elif isinstance(error, KeyError):
        key = str(error.args[0])
        yield _fault(file, path, f"no '{key}'", f"{key} = …")
    else:
        raise error


def _group_faults(error: Any, file: TomlFile, path: KeyPath) -> Iterator[Fault]:
    noted, bare = error.group_exceptions()
    for cause, note in noted:
        step = getattr(note, "index", None)
        step = step if step is not None else RENAMED.get(note.name, note.name)
        missing = isinstance(cause, KeyError)
        yield from _faults(cause, file, path if missing else (*path, step), None)
    for cause in bare:
        yield from _faults(cause, file, path, None)


def _fault(file: TomlFile, path: KeyPath, found: str, expected: str) -> Fault:
    return Fault(Origin(file.name, path), subject_of(file.data, path), found, expected)


def subject_of(data: Any, path: KeyPath) -> str:
    """What a path concerns, in words: the id or role on the way to it, and the last key."""
    names: list[str] = []
    for step in path:
        try:
            data = data[step]
        except (KeyError, IndexError, TypeError):
            break
        if isinstance(data, dict):
            label = data.get("id") or data.get("role")
            names += [str(label)] if isinstance(label, str) else []
    last = [str(step) for step in path[-1:] if isinstance(step, str)]
    return " ".join((names[-1:] + last) if names else [".".join(map(str, path))])


def _with_origins(entry: Any, file: str, path: KeyPath) -> Any:
    """The same entry with the origin of every table inside it filled in."""
    if isinstance(entry, tuple):
        return tuple(_with_origins(item, file, (*path, i)) for i, item in enumerate(entry))
    if not _is_entry(type(entry)):
        return entry
    changes = {
        name: _with_origins(getattr(entry, name), file, (*path, RENAMED.get(name, name)))
        for name in _fields(type(entry)) - {"origin"}
    }
    if "origin" in _fields(type(entry)):
        changes["origin"] = Origin(file, path)
    return attrs.evolve(entry, **changes)
