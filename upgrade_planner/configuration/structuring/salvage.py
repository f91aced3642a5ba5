"""
What can still be used of a faulty file, so that its other faults show in the same run.

What could not be read becomes a gap. Nothing is said about gaps later, so that one fault does not
bring a row of others after it.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.faults import Fault
from upgrade_planner.configuration.files.loaded import ANY, EVERYTHING, Gaps, Loaded
from upgrade_planner.configuration.files.positions import KeyPath
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.structuring.entries import (
    ConfigurationFile,
    SystemFile,
    VehicleFile,
)
from upgrade_planner.configuration.structuring.single_values import is_role

_ENTRY_LISTS = {
    "component": ("role", "role"),
    "add_component": ("role", "role"),
    "change_component": ("role", "role"),
    "wires": ("wire", "id"),
    "add_wires": ("wire", "id"),
    "change_wires": ("wire", "id"),
    "place": ("place", "id"),
    "route": ("route", ""),
}
"""Lists of tables: what each table is, and the key that names it."""

_DEPTH = 3
"""Levels of a file that are taken apart; what lies deeper goes with the table it is in."""


@frozen
class Broken:
    """Stands in a list for an entry that could not be read."""


_STAND_INS: dict[type, dict[str, Any]] = {
    VehicleFile: {
        "vehicle": {
            "title": "unread",
            "summary": "",
            "voltage": "12 V",
            "ground": "negative",
            "size_system": "SAE",
            "slots": [],
        },
        "place": [],
        "component": [],
    },
    SystemFile: {"system": {"name": "unread", "slot": ANY, "summary": ""}},
    ConfigurationFile: {"configuration": {"title": "unread", "summary": ""}},
}

_HEADERS = ("vehicle", "system", "configuration")


def without_faults(
    cls: type, data: Mapping[str, Any], faults: Iterable[Fault]
) -> Loaded[dict[str, Any]]:
    """The data without everything that a fault stands in, and the gaps that this leaves."""
    copy = _copied(dict(data), _DEPTH)
    gaps = Gaps()
    for fault in faults:
        left = _take_out(copy, fault.origin.path)
        gaps = gaps | left if left.names else gaps
    return Loaded(copy, gaps=gaps | _fill_in(cls, copy))


def _copied(value: Any, depth: int) -> Any:
    if depth and isinstance(value, dict):
        return {key: _copied(item, depth - 1) for key, item in value.items()}
    return list(value) if depth and isinstance(value, list) else value


def _take_out(data: dict[str, Any], path: KeyPath) -> Gaps:
    """Breaks the entry that holds a faulty value, or drops the value if it is in none."""
    steps = [depth for depth, step in enumerate(path) if isinstance(step, int)]
    if steps and path[steps[0] - 1] in _ENTRY_LISTS:
        *outer, name, index = path[: steps[0] + 1]
        return _break_entry(_inside(data, outer)[name], int(index), str(name), path[-1])
    dropped = path[: steps[0] if steps else _DEPTH]
    holder = _inside(data, dropped[:-1])
    if not dropped or not isinstance(holder, dict):
        return Gaps()
    if len(dropped) == 1 and dropped[0] in _HEADERS and isinstance(holder.get(dropped[0]), dict):
        return Gaps()  # a key is missing in it; the others are good
    holder.pop(dropped[-1], None)
    return _gaps_at(dropped)


def _inside(data: Any, path: Iterable[str | int]) -> Any:
    for step in path:
        data = data.get(step) if isinstance(data, dict) else None
    return data


def _break_entry(entries: list[Any], index: int, name: str, spoilt: str | int) -> Gaps:
    noun, key = _ENTRY_LISTS[name]
    entry, entries[index] = entries[index], Broken()
    if spoilt == key:
        return Gaps.of_any(noun)
    if isinstance(entry, Broken):
        return Gaps()
    named = entry.get(key) if isinstance(entry, dict) else None
    if not isinstance(named, str):
        return Gaps.of_any(noun)
    terminals = _terminals(entry) if noun == "role" else None
    known = {} if terminals is None else {named: terminals}
    return Gaps(frozenset({(noun, named)}), known)


def _terminals(entry: Mapping[str, Any]) -> frozenset[str] | None:
    """Names of the terminals of a component, if all of them can be read."""
    listed = entry.get("terminals")
    if not isinstance(listed, list) or not all(isinstance(item, dict) for item in listed):
        return None
    names = [item.get("name") for item in listed]
    if not all(map(is_role, names)):
        return None
    named = entry.get("kind")
    kind = kinds().get(named) if isinstance(named, str) else None
    return frozenset((*names, *(kind.required_terminals if kind else ())))


def _gaps_at(path: KeyPath) -> Gaps:
    """What is not known if the value at a path is dropped."""
    top, *inner = map(str, path)
    key = inner[0] if inner else ANY
    if top in ("mounting", "named_terminals"):
        return Gaps.of_any(top.removesuffix("s"), name=key)
    if top == "systems":
        return Gaps.of_any("slot", name=key) | Gaps.of_any("role", "wire")
    if top in ("changes", "as_found"):
        if key == "note":
            return Gaps()
        is_list = key in _ENTRY_LISTS
        return Gaps.of_any(_ENTRY_LISTS[key][0]) if is_list else Gaps.of_any("role", "wire")
    if top == "vehicle":
        return Gaps.of_any("slot") if key in ("slots", "optional_slots", ANY) else Gaps()
    if top in _ENTRY_LISTS or top == "wiring":
        return Gaps.of_any(_ENTRY_LISTS.get(top, ("wire", "id"))[0])
    return Gaps() if top in ("system", "configuration", "overrides", "states") else EVERYTHING


def _fill_in(cls: type, data: dict[str, Any]) -> Gaps:
    """Puts stand-ins where something is missing that a file of this sort must have."""
    gaps = Gaps()
    for key, stand_in in _STAND_INS[cls].items():
        present = data.get(key)
        if key not in data:
            gaps |= _gaps_at((key,))
        elif isinstance(present, dict) and "slots" in stand_in and "slots" not in present:
            gaps |= Gaps.of_any("slot")
        if isinstance(stand_in, dict):
            data[key] = stand_in | (present or {})
        else:
            data.setdefault(key, stand_in)
    return gaps
