"""Results as JSON text: one head for all of them, one order of keys."""

import json
from collections.abc import Mapping
from typing import Any

from upgrade_planner import __version__

PROGRAM = f"upgrade-planner {__version__}"


def data_text(name: str, version: int, data: Mapping[str, Any]) -> str:
    """
    Data with what a reader checks first, `format` and `version`; equal data give equal text.

    Args:
        name: What it is: `plan`, `kit`.
        version: Raised when a key changes its meaning.
        data: Everything else, by key.
    """
    return json_text({"format": f"upgrade-planner {name}", "version": version, **data})


def json_text(data: object) -> str:
    """Data as JSON text, keys in order."""
    return json.dumps(data, indent=1, ensure_ascii=False, sort_keys=True) + "\n"
