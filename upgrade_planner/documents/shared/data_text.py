"""Results as JSON text: one envelope for all of them, one order of keys, exact numbers."""

import json
from collections.abc import Mapping
from decimal import Decimal
from json.encoder import encode_basestring
from math import isfinite
from typing import Any, NamedTuple

from upgrade_planner import __version__

PROGRAM = f"upgrade-planner {__version__}"

FAMILY = "upgrade-planner"
"""Stands before the name of each format."""

_ENCODER = json.JSONEncoder(ensure_ascii=False)

DIGITS = 6
"""Significant digits of a computed number."""


class DataForm(NamedTuple):
    """
    What a text of data is.

    Attributes:
        name: `plan`, `kit`.
        version: Raised when a key changes its meaning.
        shape: The typed dictionary that `data` is; its schema is made from it.
    """

    name: str
    version: int
    shape: type

    @property
    def written(self) -> str:
        """As it stands in the envelope."""
        return f"{FAMILY} {self.name}"


def data_text(form: DataForm, data: Mapping[str, Any]) -> str:
    """
    Data in the envelope that all JSON of the program has; equal data give equal text.

    Args:
        form: What it is.
        data: By key; written in the order of the keys.
    """
    head = {"format": form.written, "version": form.version, "program": PROGRAM}
    lines = [f' "{name}": {_ENCODER.encode(value)}' for name, value in head.items()]
    lines.append(f' "data": {_laid_out(data, 1)}')
    return "{\n" + ",\n".join(lines) + "\n}\n"


def _laid_out(value: Any, depth: int) -> str:
    """
    As `json.dumps` lays it out with an indent of one, keys in order.

    That does so without its part in C, and takes several times as long.
    """
    if isinstance(value, str):
        return encode_basestring(value)
    if isinstance(value, Mapping):
        items = [
            f"{encode_basestring(key)}: {_laid_out(value[key], depth + 1)}" for key in sorted(value)
        ]
        return _bracketed("{", items, "}", depth)
    if isinstance(value, list | tuple):
        return _bracketed("[", [_laid_out(item, depth + 1) for item in value], "]", depth)
    is_plain = type(value) is int or (type(value) is float and isfinite(value))
    return repr(value) if is_plain else _ENCODER.encode(value)


def _bracketed(opening: str, items: list[str], closing: str, depth: int) -> str:
    if not items:
        return opening + closing
    line = "\n" + " " * depth
    return f"{opening}{line} {f',{line} '.join(items)}{line}{closing}"


def computed_number(number: float) -> float:
    """A computed figure without the noise of the machine it ran on; no minus before zero."""
    return float(f"{number:.{DIGITS}g}") + 0.0


def plain_number(number: Decimal) -> int | float:
    """
    A decimal that is no money as JSON writes numbers.

    Example:
        >>> plain_number(Decimal("2.50")), plain_number(Decimal("3.00"))
        (2.5, 3)
    """
    return int(number) if number == int(number) else float(number)
