"""A fingerprint of a configuration, for the check code on the sheet."""

import hashlib
import json
from collections.abc import Mapping
from typing import Any

_LEFT_OUT = ("origin", "along", "across")
"""Where a value is written, and where a picture puts a place: neither changes the work."""


def digest_of(value: Any) -> str:
    """SHA-256 of plain or attrs values, independent of hash seeds and of where they were read."""
    return hashlib.sha256(json.dumps(plain_value(value), sort_keys=True).encode()).hexdigest()


def plain_value(value: Any) -> Any:
    """A value as tables, lists, texts and numbers, without where it is written or drawn."""
    fields = getattr(value, "__attrs_attrs__", None)
    if fields is not None:
        return {
            f.alias: plain_value(getattr(value, f.name)) for f in fields if f.name not in _LEFT_OUT
        }
    if isinstance(value, Mapping):
        return {str(key): plain_value(item) for key, item in value.items()}
    if isinstance(value, tuple | list):
        return [plain_value(item) for item in value]
    return value if isinstance(value, int | float | str | bool | None) else str(value)
