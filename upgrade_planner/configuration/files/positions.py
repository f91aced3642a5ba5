"""
Where each key and value of a TOML text stands.

tomllib gives no positions, so a profile that turned out to be faulty is scanned once more here.
The scan finds places only; what the values mean, and whether they are right, is not its business.
"""

import re
import tomllib
from bisect import bisect_right
from collections.abc import Mapping
from contextlib import suppress

from attrs import define

from upgrade_planner.attributes import frozen

KeyPath = tuple[str | int, ...]


@frozen
class Origin:
    """Where in which file a value was written, so that an error can point at it."""

    file: str
    path: KeyPath


# Every path holds all of its parents, so unlimited depth would cost memory by its square.
# Profiles nest less than ten levels; what lies deeper than this is read, but not recorded.
DEEPEST_PATH = 100

# Possessive quantifiers (*+, ++) keep each pattern linear: what was read is never read again. A
# group that looks ahead repeats without one, for Python 3.11.2 then fails at its end; what stands
# in such a group cannot be read in two ways.
_SPACES = re.compile(r"[ \t]*+")
_BLANKS = re.compile(r"(?:[ \t\r\n]++|#[^\n]*+)*+")
_SEPARATOR = re.compile(rf"{_BLANKS.pattern}(?:,{_BLANKS.pattern}|(?=[\]}}]))")
_LINE_END = re.compile(r"[ \t]*+(?:#[^\n]*+)?+(?:\r?\n|\Z)")
_HEADER_START = re.compile(r"\[\[?+")
_ONE_LINE_STRING = r""" "(?:[^"\\\n]++|\\[^\n])*+" | '[^'\n]*+' """
_KEY_PART = re.compile(rf"[A-Za-z0-9_-]++ | {_ONE_LINE_STRING}", re.VERBOSE)
_VALUE_START = re.compile(
    rf"""
    [\[{{]
    # up to two quotes may touch the closing three
    | \"""[^"\\]*+(?:(?:\\.|"(?!""))[^"\\]*+)*\"""\"{{0,2}}+
    | '''[^']*+(?:'(?!'')[^']*+)*''''{{0,2}}+
    | {_ONE_LINE_STRING}
    | [0-9]{{4}}-[0-9]{{2}}-[0-9]{{2}}[ ][0-9]{{2}}:[0-9:.+Zz-]++    # date, one space, time
    | [A-Za-z0-9+._:-]++
    """,
    re.VERBOSE | re.DOTALL,
)
_CLOSING = {"[": "]", "{": "}"}


@frozen
class Position:
    """A place in a text: line and column, both counted from 1, the column in characters."""

    line: int
    column: int


@frozen
class Span:
    """
    Where a key and its value stand.

    Args:
        key: The key itself; None for an element of an array.
        value: Start of the value. For a table made by a header, the header's opening bracket;
            for a table that only a dotted key implies, the place of its name in that key.
    """

    key: Position | None
    value: Position


def positions(text: str) -> dict[KeyPath, Span]:
    r"""
    Every key path of a TOML document, with the place where it stands.

    A table that is only implied by longer keys stands where it is first mentioned; its own header,
    if there is one, goes before such a mention.
    Paths longer than DEEPEST_PATH are left out.

    Args:
        text: A document that tomllib accepts. In any other text, the scan stops at the first
            thing it does not understand.

    Returns:
        The place of each path, up to where the scan stopped.

    Example:
        >>> positions("[[wire]]\narea_mm2 = 2.5")[("wire", 0, "area_mm2")]
        Span(key=Position(line=2, column=1), value=Position(line=2, column=12))
    """
    scan = _Scan(text)
    # tomllib says better what is wrong with the text; the places found so far are still of use.
    with suppress(_NotUnderstoodError):
        scan.read_document()
    return scan.found


def nearest_position(found: Mapping[KeyPath, Span], path: KeyPath) -> Span | None:
    """
    Place of the path, or of the nearest enclosing path that has one.

    So a missing key points at its table.

    Example:
        >>> nearest_position(positions("[[wire]]"), ("wire", 0, "area_mm2"))
        Span(key=None, value=Position(line=1, column=1))
    """
    for length in range(len(path), 0, -1):
        if path[:length] in found:
            return found[path[:length]]
    return None


class _NotUnderstoodError(Exception):
    """The text does not go on as TOML would."""


@define
class _Container:
    """An array or inline table that has been opened, and not yet closed."""

    path: KeyPath
    closing: str
    length: int = 0


class _Scan:
    """One pass over a text; containers wait on a stack of our own, so depth does no harm."""

    def __init__(self, text: str) -> None:
        self.found: dict[KeyPath, Span] = {}
        self._text = text
        self._offset = 0
        # str.splitlines would also break at form feeds and U+2028, which end no line in TOML.
        self._line_starts = [0, *(match.end() for match in re.finditer("\n", text))]
        self._table: KeyPath = ()
        self._array_table_lengths: dict[KeyPath, int] = {}
        self._open: list[_Container] = []

    def read_document(self) -> None:
        """Read headers and pairs, line by line, to the end of the text."""
        self._take(_BLANKS)
        while self._offset < len(self._text):
            if self._text.startswith("[", self._offset):
                self._read_header()
            else:
                self._read_pair(self._table)
            while self._open:
                self._read_next_in(self._open[-1])
            self._take(_LINE_END)
            self._take(_BLANKS)

    def _read_header(self) -> None:
        """Read a [table] or [[array table]] header, and make it the table of the next pairs."""
        start = self._position_of(self._offset)
        brackets = self._take(_HEADER_START)
        *parents, (name, name_offset) = self._read_key()
        self._expect("]" * len(brackets))
        path: KeyPath = ()
        for parent, offset in parents:
            path = _child(path, parent)
            self._record_first(path, Span(self._position_of(offset), start))
            path = self._in_last_element(path)
        span = Span(self._position_of(name_offset), start)
        enter = self._enter_array_table if brackets == "[[" else self._enter_table
        self._table = enter(_child(path, name), span)

    def _enter_table(self, path: KeyPath, span: Span) -> KeyPath:
        """Record a table at its own header, even if a header of a sub-table came before it."""
        self.found.pop(path, None)
        self._record_first(path, span)
        return path

    def _enter_array_table(self, path: KeyPath, span: Span) -> KeyPath:
        """Record the array at its first header, and the new element at this one."""
        self._record_first(path, span)
        self._array_table_lengths[path] = self._array_table_lengths.get(path, 0) + 1
        element = self._in_last_element(path)
        self._record_first(element, Span(None, span.value))
        return element

    def _in_last_element(self, path: KeyPath) -> KeyPath:
        """Path of the last element if the path is an array table, else the path itself."""
        length = self._array_table_lengths.get(path)
        return path if length is None else _child(path, length - 1)

    def _read_pair(self, table: KeyPath) -> None:
        """Read a key, an equals sign, and the start of the value."""
        *parents, (name, name_offset) = self._read_key()
        self._expect("=")
        self._take(_SPACES)
        path = table
        for parent, offset in parents:
            path = _child(path, parent)
            if self._is_new(path):
                position = self._position_of(offset)
                self.found[path] = Span(position, position)
        self._read_value(_child(path, name), self._position_of(name_offset))

    def _read_key(self) -> list[tuple[str, int]]:
        """Read a key that may be dotted: the name and the offset of each part."""
        parts: list[tuple[str, int]] = []
        while not parts or self._accept("."):
            self._take(_SPACES)
            offset = self._offset
            parts.append((_name_in(self._take(_KEY_PART)), offset))
            self._take(_SPACES)
        return parts

    def _read_value(self, path: KeyPath, key: Position | None) -> None:
        """Read a whole scalar, or only the opening bracket of an array or inline table."""
        offset = self._offset
        token = self._take(_VALUE_START)
        if self._is_new(path):
            self.found[path] = Span(key, self._position_of(offset))
        if token in _CLOSING:
            self._open.append(_Container(path, _CLOSING[token]))

    def _read_next_in(self, container: _Container) -> None:
        """Read one element or pair of the innermost open container, or its end."""
        self._take(_SEPARATOR if container.length else _BLANKS)
        if self._accept(container.closing):
            self._open.pop()
            return
        container.length += 1
        if container.closing == "]":
            self._read_value(_child(container.path, container.length - 1), None)
        else:
            self._read_pair(container.path)

    def _record_first(self, path: KeyPath, span: Span) -> None:
        """Keep the place of a path, unless it has one or is too deep."""
        if self._is_new(path):
            self.found[path] = span

    def _is_new(self, path: KeyPath) -> bool:
        return len(path) <= DEEPEST_PATH and path not in self.found

    def _position_of(self, offset: int) -> Position:
        line = bisect_right(self._line_starts, offset)
        return Position(line, offset - self._line_starts[line - 1] + 1)

    def _take(self, pattern: re.Pattern[str]) -> str:
        """Move past the pattern, and give what it matched."""
        match = pattern.match(self._text, self._offset)
        if match is None:
            raise _NotUnderstoodError
        self._offset = match.end()
        return match[0]

    def _accept(self, mark: str) -> bool:
        """Move past the mark if it comes next, and tell whether it did."""
        is_next = self._text.startswith(mark, self._offset)
        self._offset += len(mark) * is_next
        return is_next

    def _expect(self, mark: str) -> None:
        if not self._accept(mark):
            raise _NotUnderstoodError


def _child(path: KeyPath, part: str | int) -> KeyPath:
    """Path of a part inside a path; a path that is already too deep grows no further."""
    return (*path, part) if len(path) <= DEEPEST_PATH else path


def _name_in(token: str) -> str:
    """Name that a key as written stands for, without its quotes and escapes."""
    if token[0] not in "\"'":
        return token
    if "\\" not in token:
        return token[1:-1]
    try:
        # Escapes are tomllib's to decode, so that both always see the same name.
        return str(tomllib.loads(f"key = {token}")["key"])
    except tomllib.TOMLDecodeError as error:
        raise _NotUnderstoodError from error
