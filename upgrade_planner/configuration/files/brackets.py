"""Texts, comments and brackets of a TOML file, whether the rest of it makes sense or not."""

import re
from collections.abc import Iterator

# Possessive, and content with an end that is missing: every character is looked at once.
_TEXTS = re.compile(
    r'"""(?:[^"\\]++|\\.|"(?!""))*+(?:"{3,5}+)?+'
    r"|'''(?:[^']++|'(?!''))*+(?:'{3,5}+)?+"
    r'|"(?:[^"\\\n]++|\\[^\n])*+"?+'
    r"|'[^'\n]*+'?+"
    r"|\#[^\n]*+",
    re.DOTALL,
)
_BRACKETS = re.compile(r"[\[{\]}]")
_THREE_QUOTES = ('"""', "'''")


def without_texts(text: str) -> str:
    """
    The same text with every string and comment blanked, so that only its structure is left.

    Example:
        >>> without_texts('a = ["]"] # [')
        'a = [   ]    '
    """
    return _TEXTS.sub(lambda match: blank(match.group()), text)


def blank(text: str) -> str:
    """As many spaces and line ends as the text has."""
    return "\n".join(" " * len(line) for line in text.split("\n"))


def depths(bare: str) -> Iterator[tuple[int, int]]:
    """Offset of each bracket of a text without strings, and how deep it is inside others then."""
    depth = 0
    for match in _BRACKETS.finditer(bare):
        depth += 1 if match.group() in "[{" else -1
        yield match.start(), depth


def balance(bare: str) -> int:
    """Brackets that open less brackets that close, in a text without strings."""
    return sum(1 if bracket in "[{" else -1 for bracket in _BRACKETS.findall(bare))


def open_bracket(text: str) -> int | None:
    """Offset of the innermost bracket that is still open at the end of the text."""
    stack: list[int] = []
    for match in _BRACKETS.finditer(without_texts(text)):
        if match.group() in "[{":
            stack.append(match.start())
        elif stack:
            stack.pop()
    return stack[-1] if stack else None


def unclosed_text(text: str) -> tuple[int, str] | None:
    """
    The first string without its closing quotes.

    Returns:
        The end of its line and one quote, or its start and three quotes; None if there is none.

    Example:
        >>> unclosed_text("name = 'van")
        (11, "'")
    """
    for match in _TEXTS.finditer(text):
        token = match.group()
        quotes = token[:3] if token[:3] in _THREE_QUOTES else token[:1]
        is_closed = token.endswith(quotes) and len(token) >= 2 * len(quotes)
        if quotes != "#" and not is_closed:
            return (match.start() if len(quotes) == 3 else match.end()), quotes
    return None
