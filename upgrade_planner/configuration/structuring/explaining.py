"""Turns what the structuring library raises into faults with a place, a subject and plain words."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any

import attrs
from cattrs.errors import (
    ClassValidationError,
    ForbiddenExtraKeysError,
    IterableValidationError,
    IterableValidationNote,
)

from upgrade_planner.configuration.files.faults import (
    Fault,
    FaultInside,
    FieldFault,
    SeveralFaults,
    meant,
    one_of,
    quoted,
)
from upgrade_planner.configuration.files.positions import KeyPath, Origin
from upgrade_planner.configuration.files.toml_files import TomlFile
from upgrade_planner.configuration.structuring.entries import RENAMED

_TABLES = ("vehicle", "system", "configuration")
_LISTS = ("place", "route", "component")
_EXAMPLES = {
    "title": '"…"',
    "voltage": '"12 V"',
    "ground": '"negative"',
    "size_system": '"SAE"',
    "slots": '["ignition", "charging", "starting"]',
    "kind": '"coil"',
    "role": '"coil"',
    "label": '"15", or "" if nothing is marked there',
    "connection": '"stud M4"',
    "circuit": '"main feed"',
    "from": '"battery.positive"',
    "to": '"starter.battery"',
    "size": '"12 SAE"',
    "colour": '"RD/WH"',
    "insulation": '"GPT"',
    "space": '"engine"',
    "length": '"1.4 m"',
    "covering": '"taped loom"',
    "ambient": '"60 °C"',
    "slot": '"ignition"',
}


def faults_of(error: Exception, file: TomlFile) -> list[Fault]:
    """
    Every fault that one failed structuring holds.

    Raises:
        Exception: the error itself if it is not about the content of the file.
    """
    return list(_faults(error, file, ()))


def _faults(error: Exception, file: TomlFile, path: KeyPath) -> Iterator[Fault]:
    if isinstance(error, SeveralFaults):
        for cause in error.causes:
            yield from _faults(cause, file, path)
    elif isinstance(error, FaultInside):
        yield from _faults(error.cause, file, (*path, error.key))
    elif isinstance(error, ClassValidationError | IterableValidationError):
        yield from _group_faults(error, file, path)
    elif isinstance(error, ForbiddenExtraKeysError):
        for key in sorted(error.extra_fields):
            expected = one_of(key, keys_of(error.cl), limit=20)
            yield _fault(file, (*path, key), f"unknown key {quoted(key)}", expected)
    elif isinstance(error, FieldFault):
        yield _fault(file, (*path, *error.inner), error.found, error.expected)
    elif isinstance(error, KeyError):
        yield _missing(file, path, str(error.args[0]))
    else:
        raise error


def _group_faults(error: Any, file: TomlFile, path: KeyPath) -> Iterator[Fault]:
    noted, bare = error.group_exceptions()
    misspelt: frozenset[str] = frozenset()
    for cause in bare:
        if isinstance(cause, ForbiddenExtraKeysError):
            misspelt = meant(cause.extra_fields, keys_of(cause.cl))
    for cause, note in noted:
        is_missing = isinstance(cause, KeyError)
        if is_missing and cause.args[0] in misspelt:
            continue
        if is_missing:
            yield _missing(file, path, str(cause.args[0]), getattr(error.cl, "examples", {}))
            continue
        # Both sorts of note are texts too, so that each has a method `index`.
        is_item = isinstance(note, IterableValidationNote)
        step = note.index if is_item else RENAMED.get(note.name, note.name)
        yield from _faults(cause, file, (*path, step))
    for cause in bare:
        yield from _faults(cause, file, path)


def _missing(
    file: TomlFile, path: KeyPath, key: str, examples: Mapping[str, str] = MappingProxyType({})
) -> Fault:
    """A key that is not there; `examples` of its class show what would be right."""
    example = examples.get(key) or _EXAMPLES.get(key, '"…"')
    header = example if example == f"[{'.'.join(map(str, (*path, key)))}]" else ""
    if not path and key in (*_TABLES, *_LISTS):
        header = f"[[{key}]]" if key in _LISTS else f"[{key}]"
    if header:
        return _fault(file, path, f"no {header}", f"a table {header}")
    return _fault(file, path, f"no '{key}'", f"{key} = {example}")


def keys_of(cls: type[Any]) -> list[str]:
    """Keys that a table of a file may have."""
    names = [attribute.name for attribute in attrs.fields(cls)]
    return [RENAMED.get(name, name) for name in names if name != "origin"]


def _fault(file: TomlFile, path: KeyPath, found: str, expected: str) -> Fault:
    return Fault(Origin(file.name, path), subject_of(file.data, path), found, expected)


def subject_of(data: Any, path: KeyPath) -> str:
    """
    What a path concerns, in words: the id or role on the way to it, and the last key.

    Example:
        >>> subject_of({"wires": [{"id": "link", "size": "2"}]}, ("wires", 0, "size"))
        'link size'
        >>> subject_of({"place": [{"walk": "2"}]}, ("place", 0, "walk"))
        'place 1 walk'
    """
    label = ""
    for step in path:
        try:
            data = data[step]
        except (KeyError, IndexError, TypeError):
            break
        if isinstance(data, dict):
            label = _label(data, label) or label
    if not label:
        return " ".join(str(step + 1) if isinstance(step, int) else step for step in path)
    last = [str(step) for step in path[-1:] if isinstance(step, str)]
    return " ".join([label, *last])


def _label(table: dict[str, Any], outer: str) -> str:
    """The name of a table inside one with the name `outer`, or ""."""
    for key in ("id", "role"):
        if isinstance(table.get(key), str):
            return str(table[key])
    if outer and isinstance(table.get("name"), str):
        return f"{outer}.{table['name']}"
    ends = table.get("from"), table.get("to")
    if "covering" in table and all(isinstance(end, str) for end in ends):
        return f"route {ends[0]} to {ends[1]}"
    return ""
