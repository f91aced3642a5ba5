"""Writes small TOML texts: strings, lists, tables in one line, comments that stay comments."""

from collections.abc import Iterable, Mapping
from textwrap import wrap
from typing import Any

LINE_LENGTH = 96
_ESCAPES = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r"}


def quoted_text(text: str) -> str:
    r"""
    The text as a TOML string.

    Example:
        >>> print(quoted_text('a "b" \\ c'))
        "a \"b\" \\ c"
    """
    return '"' + "".join(_escaped(character) for character in text) + '"'


def _escaped(character: str) -> str:
    if character in _ESCAPES:
        return _ESCAPES[character]
    if character.isprintable() or character == "\N{NO-BREAK SPACE}":
        return character
    return f"\\U{ord(character):08X}"


def value_text(value: Any) -> str:
    """A text, a list of them, or a table of them, in one line."""
    if isinstance(value, Mapping):
        pairs = ", ".join(f"{key_text(key)} = {value_text(item)}" for key, item in value.items())
        return f"{{ {pairs} }}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(value_text(item) for item in value) + "]"
    return quoted_text(str(value))


def key_text(key: str) -> str:
    """A key, in quotes only if it must be."""
    is_bare = key.isascii() and key.replace("_", "").replace("-", "").isalnum()
    return key if is_bare else quoted_text(key)


def table_list(key: str, tables: Iterable[Mapping[str, Any]]) -> list[str]:
    """A list of tables, one a line; nothing for an empty one."""
    lines = [f"  {value_text(table)}," for table in tables]
    return [f"{key} = [", *lines, "]"] if lines else []


def comment(text: str, indent: str = "") -> list[str]:
    """
    The text as lines of comment.

    Line ends and characters that cannot be printed become spaces, so none of it is ever read as
    TOML.
    """
    one_line = "".join(c if c.isprintable() else " " for c in text)
    width = LINE_LENGTH - len(indent)
    return [f"# {indent}{line}" for line in wrap(one_line, width, subsequent_indent="  ")] or ["#"]
