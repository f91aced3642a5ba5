"""A fingerprint of a configuration, for the check code on the sheet."""

import hashlib
import json
from collections.abc import Mapping
from functools import cache, lru_cache
from json.encoder import encode_basestring_ascii as _quoted
from math import isfinite
from typing import Any

from upgrade_planner.configuration.composing.this import KEPT, This
from upgrade_planner.configuration.values.rings import Rings

_LEFT_OUT = ("origin", "along", "across")
"""Where a value is written, and where a picture puts a place: neither changes the work."""


_WHERE_GIVEN = ("rings",)
"""Left out where nothing is said, so that older profiles keep their fingerprints."""

_NOTHING = (None, Rings())


_PLAIN = (str, int, float, type(None))

MANY_FIELDS = 7
"""Values with as many fields are kept with their text: wires, parts, routes. Our own."""

_WORDS = {None: "null", False: "false", True: "true"}


def digest_of(value: Any) -> str:
    """SHA-256 of plain or attrs values, independent of hash seeds and of where they were read."""
    return hashlib.sha256(_written(value).encode()).hexdigest()


def _written(value: Any) -> str:
    """The plain value as JSON with sorted keys, written in one walk: `json` would take two."""
    if isinstance(value, str):
        return _quoted(value)
    if value is None or isinstance(value, bool):
        return _WORDS[value]
    entries = _entries_of(value.__class__)
    if entries is not None:
        is_kept = len(entries) >= MANY_FIELDS and value.__class__.__eq__ is not object.__eq__
        return _kept(This(value)) if is_kept else _written_fields(value)
    if isinstance(value, float) and isfinite(value):
        return float.__repr__(value)
    if isinstance(value, tuple | list):
        return f"[{', '.join(map(_written, value))}]"
    if isinstance(value, Mapping):
        named = {str(key): item for key, item in value.items()}
        texts = [f"{_quoted(key)}: {_written(named[key])}" for key in sorted(named)]
        return f"{{{', '.join(texts)}}}"
    return json.dumps(value if isinstance(value, _PLAIN) else str(value))


def _written_fields(value: Any) -> str:
    texts = [
        start + (_quoted(item) if item.__class__ is str else _written(item))
        for start, name, may_be_left_out in _entries_of(value.__class__) or ()
        for item in (getattr(value, name),)
        if not (may_be_left_out and item in _NOTHING)
    ]
    return f"{{{', '.join(texts)}}}"


@lru_cache(KEPT)
def _kept(this: This[Any]) -> str:
    """Configurations that are made of one another share most of their wires and parts."""
    return _written_fields(this.value)


@cache
def _entries_of(cls: type) -> list[tuple[str, str, bool]] | None:
    """
    Of each field that counts, in the order of the keys: how its entry begins, its name, and
    whether it is left out where nothing is said.
    """
    fields = _fields_of(cls)
    if fields is None:
        return None
    return [(f"{_quoted(key)}: ", name, name in _WHERE_GIVEN) for key, name in sorted(fields)]


def plain_value(value: Any) -> Any:
    """A value as tables, lists, texts and numbers, without where it is written or drawn."""
    if isinstance(value, _PLAIN):
        return value
    fields = _fields_of(value.__class__)
    if fields is not None:
        held = ((alias, name, getattr(value, name)) for alias, name in fields)
        return {
            alias: plain_value(item)
            for alias, name, item in held
            if name not in _WHERE_GIVEN or item not in _NOTHING
        }
    if isinstance(value, Mapping):
        return {str(key): plain_value(item) for key, item in value.items()}
    if isinstance(value, tuple | list):
        return [plain_value(item) for item in value]
    return str(value)


@cache
def _fields_of(cls: type) -> tuple[tuple[str, str], ...] | None:
    """Alias and name of each field that counts; None if it is no class of fields."""
    fields = getattr(cls, "__attrs_attrs__", None)
    if fields is None:
        return None
    return tuple((field.alias, field.name) for field in fields if field.name not in _LEFT_OUT)
