"""
Reads TOML text, and tells what is wrong with text that is not TOML to people who do not know TOML.

tomllib stops at its first complaint. Where it is safe to leave out the faulty piece, it is left out
and the rest is read, so that one run shows all such mistakes.
"""

import re
import tomllib
from typing import Any

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.brackets import (
    balance,
    blank,
    depths,
    open_bracket,
    unclosed_text,
    without_texts,
)
from upgrade_planner.configuration.files.faults import quoted
from upgrade_planner.errors import Problem

DEEPEST_NESTING = 50
"""Source: our assumption; profiles nest five deep."""

MOST_DOTS = 200
"""Dots outside texts in one line. Source: our assumption; long dotted keys cost tomllib hours."""

READING_BUDGET = 3_000_000
"""Characters read again after mistakes. Source: our assumption; about a second of work."""

_AT = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)")
_KEY = re.compile(r"""[ \t]*+((?:[A-Za-z0-9_-]|"[^"\n]*"|'[^'\n]*'|[ \t]*+\.[ \t]*+)++)[ \t]*+=""")
_HEADER = re.compile(r"[ \t]*+(\[\[?[^\[\]\n]*+\]\]?+)[ \t]*+(?:#.*)?")
_WIRE_ID = re.compile(r"""\bid[ \t]*+=[ \t]*+["']([^"'\n]{1,60})["']""")
_REPEATED_INSIDE = re.compile(r"Duplicate inline table key (.*)")

_ONE_LINE = "and the whole table on one line"
_EXPECTED = {
    "Invalid value": 'a value: a text in "quotes", a bare number, a list [ … ] or a table { … }',
    "Expected '='": "= after the key",
    "Expected newline": 'the end of the line; a text stands in "quotes"',
    "Unclosed array": 'a comma or ] after the value; a text stands in "quotes"',
    "Unclosed inline": f'a comma or }} after the value; a text stands in "quotes", {_ONE_LINE}',
    "Illegal character '\\n'": 'a closing " on the same line',
    "Found invalid character '\\n'": "a closing ' on the same line",
    "Illegal character": "a text without control characters",
    "Found invalid character": "a text without control characters",
    "Unescaped": r"\\ for each \ in the text",
    "Invalid hex": r"\u and four hexadecimal digits",
    "Escaped character": r"\u and four hexadecimal digits of a character",
    "Invalid initial character": f"a key such as size, no comma before }}, {_ONE_LINE}",
    "Invalid statement": 'a line such as key = "text", or a header such as [wiring]',
    "Expected ']'": "] after the name of the table",
    "Expected ']]'": "]] after the name of the table",
    "Invalid date": "a date such as 2026-03-01",
}


@frozen
class _Mistake:
    """
    One mistake, and which piece of the text to leave out to read on.

    Attributes:
        piece: Start and end of that piece; None if reading on would only guess.
        is_repeated: True if the text without that piece still says all that was meant.
    """

    problem: Problem
    piece: tuple[int, int] | None = None
    is_repeated: bool = False


def parse_toml(name: str, text: str) -> tuple[dict[str, Any] | None, list[Problem]]:
    """The data of a TOML text, or None if too little of it can be read, and every mistake in it."""
    text = text.replace("\r\n", "\n")
    too_deep = _too_deep(name, text)
    if too_deep:
        return None, [too_deep]
    problems: list[Problem] = []
    is_whole, budget = True, READING_BUDGET
    while True:
        try:
            data = tomllib.loads(text)
        except tomllib.TOMLDecodeError as error:
            mistake = _mistake(name, text, error)
        except ValueError:  # an integer of more than 4300 digits
            huge = Problem(file=name, found="a number of thousands of digits", expected="a number")
            return None, [*problems, huge]
        else:
            return data if is_whole else None, problems
        problems.append(mistake.problem)
        budget -= len(text)
        if mistake.piece is None or budget < 0:
            return None, problems
        is_whole = is_whole and mistake.is_repeated
        start, end = mistake.piece
        # A faulty line becomes a comment, a repetition nothing; all else keeps its place.
        filled = blank(text[start:end]) if mistake.is_repeated else "#" * (end - start)
        if filled == text[start:end]:
            return None, problems
        text = text[:start] + filled + text[end:]


def _too_deep(name: str, text: str) -> Problem | None:
    bare = without_texts(text)
    for offset, depth in depths(bare):
        if depth > DEEPEST_NESTING:
            found = f"brackets nested more than {DEEPEST_NESTING} deep"
            return _problem(name, text, offset, "", found, "a flat table")
    start = 0
    for line in bare.split("\n"):
        if line.count(".") > MOST_DOTS:
            return _problem(name, text, start, "", f"more than {MOST_DOTS} dots", "a short key")
        start += len(line) + 1
    return None


def _mistake(name: str, text: str, error: tomllib.TOMLDecodeError) -> _Mistake:
    complaint, offset = _AT.sub("", str(error)), _offset(text, str(error))
    if complaint.startswith("Unescaped"):  # told where the reading went on, behind the backslash
        offset = text.rfind("\\", 0, offset)
    if complaint.startswith(("Expected \"'", "Unterminated")):  # told at the end of the file
        return _unclosed(name, text)
    repeated_inside = _REPEATED_INSIDE.fullmatch(complaint)
    if repeated_inside:
        return _repeated_inside(name, text, offset, repeated_inside[1].strip("'\""))
    if complaint.startswith("Cannot"):
        return _clash(name, text, offset)
    return _not_toml(name, text, offset, complaint)


def _offset(text: str, message: str) -> int:
    at = _AT.search(message)
    if at is None or at[1] is None:
        return len(text.rstrip())
    starts = [0, *(match.end() for match in re.finditer("\n", text))]
    return starts[int(at[1]) - 1] + int(at[2]) - 1


def _repeated_inside(name: str, text: str, offset: int, key: str) -> _Mistake:
    """The same key twice between { and }; `offset` is where its second value ends."""
    line_start = _line_start(text, offset)
    line = text[line_start:offset]
    start = line_start + max((m.start() for m in re.finditer(re.escape(key), line)), default=0)
    comma = text.rfind(",", line_start, start)
    problem = _problem(
        name,
        text,
        start,
        _subject(text, offset),
        f"{quoted(key)} given a second time",
        f"{quoted(key)} once",
    )
    piece = (comma, offset) if comma >= 0 and not text[comma + 1 : start].strip() else None
    return _Mistake(problem, piece, is_repeated=True)


def _clash(name: str, text: str, offset: int) -> _Mistake:
    """A key or table whose name is taken."""
    header = _HEADER.match(text, _line_start(text, offset))
    if header:
        found = f"{header[1]}, which stands above already"
        expected = "all its keys in one place"
        return _Mistake(_problem(name, text, header.start(1), "", found, expected))
    start, key = _pair_before(text, offset)
    if start is None:
        problem = _problem(name, text, offset, "", "a key given a second time", "each key once")
        return _Mistake(problem)
    found, expected = f"{quoted(key)} given a second time", _once(text[:start], key)
    return _Mistake(_problem(name, text, start, key, found, expected), (start, offset), True)


def _once(before: str, key: str) -> str:
    headers = [line.strip() for line in before.split("\n") if _HEADER.fullmatch(line)]
    if headers and headers[-1] == "[systems]":
        return f"one system for the slot {quoted(key)}"
    return f"{quoted(key)} once" + (f" under {headers[-1][:60]}" if headers else "")


def _pair_before(text: str, offset: int) -> tuple[int | None, str]:
    """Start and key of the pair whose value ends at `offset`."""
    bare = without_texts(text[:offset])
    depth, end = 0, offset
    while end >= 0:
        start = bare.rfind("\n", 0, end) + 1
        depth += balance(bare[start:end])
        key = _KEY.match(text, start)
        if depth == 0 and key and key.end() <= offset:
            return key.start(1), key[1].strip()
        end = start - 1
    return None, ""


def _not_toml(name: str, text: str, offset: int, complaint: str) -> _Mistake:
    start, end = _line_at(text, offset)
    line = text[start:end]
    header = _HEADER.fullmatch(line)
    is_end = offset >= len(text.rstrip())
    opened = open_bracket(text[:offset] if is_end else text[:start])
    if opened is not None and (header or is_end):
        found = f"the header {header[1][:60]} inside a list" if header else "the end of the file"
        closing = "]" if text[opened] == "[" else "}"
        expected = f"{closing} for the {text[opened]} in line {text.count(chr(10), 0, opened) + 1}"
        return _Mistake(_problem(name, text, offset, "", found, expected))
    found, expected = _rest(text, offset), _expected(complaint)
    problem = _problem(name, text, offset, _subject(text, offset), found, expected)
    return _Mistake(problem, _line_apart(text, offset))


def _expected(complaint: str) -> str:
    fitting = [start for start in _EXPECTED if complaint.startswith(start)]
    return _EXPECTED[max(fitting, key=len)] if fitting else 'TOML, such as key = "text"'


def _unclosed(name: str, text: str) -> _Mistake:
    """The first text without its closing quote; those of one line end with it."""
    offset, quotes = unclosed_text(text) or (len(text.rstrip()), '"')
    found = f"{quotes} without its end" if len(quotes) == 3 else _rest(text, offset)
    expected = f"a closing {quotes}" + (" on the same line" if len(quotes) == 1 else "")
    problem = _problem(name, text, offset, _subject(text, offset), found, expected)
    return _Mistake(problem, _line_apart(text, offset) if len(quotes) == 1 else None)


def _rest(text: str, offset: int) -> str:
    """What stands where the reading stopped, in words."""
    character = text[offset : offset + 1]
    if not character:
        return "the end of the file"
    if character == "\n":
        return "the end of the line"
    if not character.isprintable():
        return f"the character U+{ord(character):04X}"
    return quoted(text[offset : offset + 80].split("\n", maxsplit=1)[0].rstrip(), longest=40)


def _line_apart(text: str, offset: int) -> tuple[int, int] | None:
    """Start and end of a line that can be left out without changing what the others mean."""
    start, end = _line_at(text, offset)
    line = text[start:end].strip()
    pairs = (("[", "]"), ("{", "}"))
    is_even = all(line.count(opening) == line.count(closing) for opening, closing in pairs)
    is_apart = is_even and not line.startswith("[") and '"""' not in line and "'''" not in line
    return (start, end) if line and is_apart else None


def _subject(text: str, offset: int) -> str:
    """The wire or the key that a line is about."""
    start, end = _line_at(text, offset)
    line = text[start:end]
    wire, key = _WIRE_ID.search(line), _KEY.match(line)
    return wire[1] if wire else (key[1].strip() if key else "")


def _line_at(text: str, offset: int) -> tuple[int, int]:
    end = text.find("\n", offset)
    return _line_start(text, offset), end if end >= 0 else len(text)


def _line_start(text: str, offset: int) -> int:
    return text.rfind("\n", 0, offset) + 1


def _problem(name: str, text: str, offset: int, subject: str, found: str, expected: str) -> Problem:
    line = text.count("\n", 0, offset) + 1
    column = offset - _line_start(text, offset) + 1
    return Problem(
        file=name, line=line, column=column, subject=subject, found=found, expected=expected
    )
