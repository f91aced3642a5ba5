"""Results as JSON text: one envelope for all of them, one order of keys, exact numbers."""

import json
from collections.abc import Mapping
from decimal import Decimal
from typing import Any, NamedTuple

from upgrade_planner import __version__

PROGRAM = f"upgrade-planner {__version__}"

FAMILY = "upgrade-planner"
"""Stands before the name of each format."""

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
    envelope = {
        "format": form.written,
        "version": form.version,
        "program": PROGRAM,
        "data": _by_key(data),
    }
    return json.dumps(envelope, indent=1, ensure_ascii=False) + "\n"


def _by_key(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _by_key(value[key]) for key in sorted(value)}
    if isinstance(value, list | tuple):
        return [_by_key(item) for item in value]
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
