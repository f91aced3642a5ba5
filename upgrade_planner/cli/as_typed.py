"""
Arguments that need no conversion, or next to none: words, paths and choices as they are typed.

Typer converts with a library whose import costs a short command a sixth of its time. What is not
as it should be goes to typer all the same, for its words are those that people know.
"""

from collections.abc import Callable
from enum import StrEnum
from pathlib import Path
from typing import Any

NOT_PLAIN = object()


class AsTyped:
    """A command, or the group of all, that asks typer only for what is not plain."""

    def get_params(self, context: Any) -> list[Any]:
        """The parameters, each with a conversion of its own."""
        found: list[Any] = super().get_params(context)  # type: ignore[misc]
        for parameter in found:
            vars(parameter).setdefault("process_value", _plainly(parameter))
        return found


def _plainly(parameter: Any) -> Callable[[Any, Any], Any]:
    """The conversion of a parameter's values, by typer only where they are not plain."""
    by_typer = parameter.process_value
    wanted = getattr(getattr(parameter, "type_descriptor", None), "annotation", None)

    def value_of(context: Any, value: Any) -> Any:
        found = _as_typed(value, wanted)
        if found is NOT_PLAIN or (not found and parameter.required):
            return by_typer(context, value)
        return parameter.callback(context, parameter, found) if parameter.callback else found

    return value_of


def _as_typed(value: Any, wanted: Any) -> Any:
    """What was typed as what is wanted, where that is plain."""
    if wanted == list[str]:
        words = list(value or ())
        return words if all(type(each) is str for each in words) else NOT_PLAIN
    if not isinstance(wanted, type):
        return NOT_PLAIN
    if value is None or type(value) is wanted:
        return value
    if wanted is Path and isinstance(value, str | Path):
        return Path(value)
    if issubclass(wanted, StrEnum) and value in list(wanted):
        return wanted(value)
    return NOT_PLAIN
