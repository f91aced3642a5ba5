"""Plain data in, entry classes out; every fault of a file is collected, none is coerced away."""

from collections.abc import Callable, Iterator, Mapping
from functools import cache
from typing import Annotated, Any, TypeVar, get_args, get_origin

import attrs
import cattrs
from cattrs.errors import ClassValidationError
from cattrs.gen import make_dict_structure_fn, override

from upgrade_planner.configuration.conditions import Condition
from upgrade_planner.configuration.files.faults import (
    FaultInside,
    FieldFault,
    SeveralFaults,
    Sources,
    shown,
)
from upgrade_planner.configuration.files.loaded import EVERYTHING, Loaded
from upgrade_planner.configuration.files.positions import KeyPath, Origin
from upgrade_planner.configuration.files.toml_files import TomlFile
from upgrade_planner.configuration.model import Conductor, Connection
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.structuring import entries
from upgrade_planner.configuration.structuring.connections import parse_connection, parse_rings
from upgrade_planner.configuration.structuring.entries import RENAMED
from upgrade_planner.configuration.structuring.explaining import faults_of
from upgrade_planner.configuration.structuring.salvage import Broken, without_faults
from upgrade_planner.configuration.structuring.single_values import (
    count_from,
    is_role,
    marked_value,
    member_from,
    notation_from,
    text_from,
)
from upgrade_planner.configuration.structuring.wholeness import (
    component_faults,
    conductor_faults,
    ends_faults,
)
from upgrade_planner.configuration.values.colours import Colour, parse_colour
from upgrade_planner.configuration.values.insulation import (
    InsulationChoice,
    parse_insulation_choice,
)
from upgrade_planner.configuration.values.rings import Rings
from upgrade_planner.configuration.values.sizes import SizeChoice, parse_size_choice
from upgrade_planner.configuration.ways import Covering

T = TypeVar("T")

LONGEST_LIST = 5000
"""Source: our assumption; the largest shipped list holds about fifty entries."""


def structured(cls: type[T], file: TomlFile) -> Loaded[T | None]:
    """
    The content of a file as `cls`, or None, and all faults of the file.

    Values remember where they stood, so that later stages can point at their line too.
    """
    sources = Sources({file.name: file.text})
    try:
        entry = _converter().structure(file.data, cls)
    except Exception as error:
        return Loaded(None, tuple(faults_of(error, file)), sources=sources)
    return Loaded(_with_origins(entry, file.name, ()), sources=sources)


def structured_as_far_as_possible(cls: type[T], file: TomlFile) -> Loaded[T | None]:
    """The sound part of a file, or None if there is none; all its faults; the gaps they leave."""
    whole = structured(cls, file)
    if whole.content is not None:
        return whole
    rest = without_faults(cls, file.data, whole.faults)
    again = structured(cls, attrs.evolve(file, data=rest.content))
    gaps = EVERYTHING if again.faults else rest.gaps
    return Loaded(again.content, whole.faults, gaps, sources=whole.sources)


@cache
def _converter() -> cattrs.Converter:
    converter = cattrs.Converter(forbid_extra_keys=True, detailed_validation=True)
    converter.register_structure_hook(str, text_from)
    converter.register_structure_hook(int, count_from)
    converter.register_structure_hook_func(_is_annotated, marked_value)
    for cls, parse in (
        (Colour, parse_colour),
        (SizeChoice, parse_size_choice),
        (InsulationChoice, parse_insulation_choice),
    ):
        converter.register_structure_hook(cls, notation_from(parse))
    converter.register_structure_hook(Connection, lambda value, _: parse_connection(value))
    converter.register_structure_hook(Rings, lambda value, _: parse_rings(value))
    for choice in (Condition, Conductor, Covering):
        converter.register_structure_hook(choice, member_from)
    converter.register_structure_hook_factory(_is_entry, lambda cls: _entry(converter, cls))
    converter.register_structure_hook_factory(_is_tuple, lambda cls: _tuple(converter, cls))
    converter.register_structure_hook_factory(_is_dict, lambda cls: _dict(converter, cls))
    return converter


def _is_annotated(cls: Any) -> bool:
    return get_origin(cls) is Annotated


def _is_entry(cls: Any) -> bool:
    """Tables of profiles, and of other files whose classes say so by `stands_in_a_file`."""
    own = getattr(cls, "stands_in_a_file", False)
    return attrs.has(cls) and (own or cls.__module__ == entries.__name__)


def _is_tuple(cls: Any) -> bool:
    return get_origin(cls) is tuple


def _is_dict(cls: Any) -> bool:
    return get_origin(cls) is dict


def _tuple(converter: cattrs.Converter, cls: Any) -> Callable[[Any, Any], Any]:
    element = get_args(cls)[0]
    list_type = list[element]  # type: ignore[valid-type]
    structure_list = converter.get_structure_hook(list_type)

    def hook(value: Any, _: Any) -> Any:
        if isinstance(value, dict) and _is_entry(element):
            raise FieldFault("one table in [ ]", "a list: its header in [[ ]], once for each")
        if not isinstance(value, list):
            raise FieldFault(shown(value), "a list [ … ]")
        if len(value) > LONGEST_LIST:
            raise FieldFault(f"a list of {len(value)}", f"at most {LONGEST_LIST}")
        return tuple(structure_list(value, list_type))

    return hook


def _dict(converter: cattrs.Converter, cls: Any) -> Callable[[Any, Any], Any]:
    item_type = get_args(cls)[1]

    def hook(value: Any, _: Any) -> Any:
        if not isinstance(value, dict):
            raise FieldFault(shown(value), "a table")
        if item_type is Any:
            return value
        items: dict[str, Any] = {}
        causes: list[Exception] = []
        for key, item in value.items():
            try:
                items[key] = converter.structure(item, item_type)
            except FieldFault as fault:
                causes.append(fault.inside(key))
            except (SeveralFaults, ClassValidationError) as several:
                causes.append(FaultInside(key, several))
        if causes:
            raise SeveralFaults(causes)
        return items

    return hook


def _entry(converter: cattrs.Converter, cls: type[Any]) -> Callable[[Any, Any], Any]:
    overrides: dict[str, Any] = {}
    if "origin" in _fields(cls):
        overrides["origin"] = override(omit=True)
    overrides |= {k: override(rename=v) for k, v in RENAMED.items() if k in _fields(cls)}
    base = make_dict_structure_fn(cls, converter, _cattrs_forbid_extra_keys=True, **overrides)

    def hook(value: Any, _: Any) -> Any:
        if isinstance(value, Broken):
            return value
        if not isinstance(value, dict):
            single = isinstance(value, list) and len(value) == 1
            raise FieldFault(shown(value), "its header in [ ], not [[ ]]" if single else "a table")
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
    if cls is entries.ComponentEntry:
        yield from _component_faults(value)
    if cls is entries.WireEntry:
        conductor = value.get("conductor", Conductor.COPPER)
        if conductor in tuple(Conductor):
            yield from conductor_faults(conductor, has_ohms="resistance" in value)
        yield from ends_faults(value.get("from"), value.get("to"))


def _component_faults(value: Mapping[str, Any]) -> Iterator[FieldFault]:
    kind, terminals, ratings = (value.get(key) for key in ("kind", "terminals", "ratings"))
    if not isinstance(kind, str) or kind not in kinds():
        return
    terminals = [] if terminals is None else terminals
    if not isinstance(terminals, list) or not all(isinstance(item, dict) for item in terminals):
        return
    names = [item.get("name") for item in terminals]
    if not all(map(is_role, names)):
        return
    if ratings is None or isinstance(ratings, dict):
        yield from component_faults(kinds()[kind], names, ratings or {})


def _with_origins(entry: Any, file: str, path: KeyPath) -> Any:
    """The same entry with the origin of every table inside it filled in, without broken ones."""
    if isinstance(entry, tuple):
        whole = ((i, item) for i, item in enumerate(entry) if not isinstance(item, Broken))
        return tuple(_with_origins(item, file, (*path, i)) for i, item in whole)
    keys = _keys_in(entry.__class__)
    if keys is None:
        return entry
    changes: dict[str, Any] = {}
    for name, key in keys:
        value = getattr(entry, name)
        if isinstance(value, tuple) or _keys_in(value.__class__) is not None:
            changes[name] = _with_origins(value, file, (*path, key))
    if hasattr(entry, "origin"):
        changes["origin"] = Origin(file, path)
    return attrs.evolve(entry, **changes)


@cache
def _keys_in(cls: type) -> tuple[tuple[str, str], ...] | None:
    """The attributes of an entry, each with its key in a file; None if it is no entry."""
    if not _is_entry(cls):
        return None
    return tuple((name, RENAMED.get(name, name)) for name in _fields(cls) - {"origin"})
