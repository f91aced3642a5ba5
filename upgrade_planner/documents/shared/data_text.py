"""Results as JSON text: one envelope for all of them, one order of keys, exact numbers."""

import json
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from upgrade_planner import __version__

PROGRAM = f"upgrade-planner {__version__}"

FAMILY = "upgrade-planner"
"""Stands before the name of each format."""

DIGITS = 6
"""Significant digits of a computed number."""


def data_text(name: str, version: int, data: Mapping[str, Any]) -> str:
    """
    Data in the envelope that all JSON of the program has; equal data give equal text.

    Args:
        name: What it is: `plan`, `kit`.
        version: Raised when a key changes its meaning.
        data: By key; written in the order of the keys.
    """
    envelope = {
        "format": f"{FAMILY} {name}",
        "version": version,
        "program": PROGRAM,
        "data": _in_order(data),
    }
    return json.dumps(envelope, indent=1, ensure_ascii=False) + "\n"


def _in_order(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _in_order(value[key]) for key in sorted(value)}
    if isinstance(value, list | tuple):
        return [_in_order(item) for item in value]
    return value


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
