"""What is written differently in two configurations, a line each."""

from typing import Any

from upgrade_planner.comparison.structure import StructuralChange
from upgrade_planner.documents.words.wording import role_words

_TABLES = {"wires": "wire", "parts": "part", "switches": "switch positions", "vehicle": "vehicle"}
_DIGITS = 6


def structural_words(change: StructuralChange) -> str:
    """
    One line: what it concerns, what was written, what is written now.

    Example:
        >>> change = StructuralChange(path=("wires", "horn", "size"), before="14 SAE", after=None)
        >>> structural_words(change)
        'wire horn, size: 14 SAE, now nothing'
    """
    table, *keys = change.path
    subject = " ".join((_TABLES[table], *keys[:1]))
    if isinstance(change.before, dict) or isinstance(change.after, dict):
        inner = "".join(f", {role_words(key)}" for key in keys[1:])
        return f"{subject}{inner}: {'new' if change.before is None else 'gone'}"
    inner = " ".join(map(role_words, keys[1:]))
    before, after = _value_words(change.before), _value_words(change.after)
    return f"{subject}, {inner}: {before}, now {after}"


def _value_words(value: Any) -> str:
    if value is None:
        return "nothing"
    return f"{value:.{_DIGITS}g}" if isinstance(value, float) else str(value)
