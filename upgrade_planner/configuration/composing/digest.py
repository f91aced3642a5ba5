"""A fingerprint of a configuration, for the check code on the sheet."""

import hashlib
import json
from collections.abc import Mapping
from functools import cache
from typing import Any

from upgrade_planner.configuration.values.rings import Rings

_LEFT_OUT = ("origin", "along", "across")
"""Where a value is written, and where a picture puts a place: neither changes the work."""


_WHERE_GIVEN = ("rings",)
"""Left out where nothing is said, so that older profiles keep their fingerprints."""

_NOTHING = (None, Rings())


_PLAIN = (str, int, float, type(None))


def digest_of(value: Any) -> str:
    """SHA-256 of plain or attrs values, independent of hash seeds and of where they were read."""
    return hashlib.sha256(json.dumps(plain_value(value), sort_keys=True).encode()).hexdigest()


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
