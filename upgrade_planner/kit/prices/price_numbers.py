"""Numbers in a price list, with the decimal mark that the shop uses."""

import re

MARKS = {"point": ".", "comma": ","}
_OTHER = {".": ",", ",": "."}
_DIGITS = r"\d{1,9}%s\d{1,6}|\d{1,9}"
_NUMBERS = {mark: re.compile(_DIGITS % re.escape(mark), re.ASCII) for mark in MARKS.values()}


def is_plain_number(text: str, mark: str) -> bool:
    """True for figures with at most one decimal mark, `.` or `,`, and nothing else."""
    return _NUMBERS[mark].fullmatch(text) is not None


def wanted_number(text: str, mark: str) -> str:
    """What should stand in place of a text that is no plain number."""
    other = _OTHER[mark]
    words = {sign: word for word, sign in MARKS.items()}
    if other in text and is_plain_number(text.lstrip("-"), other):
        return (
            f"a decimal {words[mark]}: {text.replace(other, mark)}"
            f' (or decimal = "{words[other]}" in the settings of the shop)'
        )
    if text.startswith("-") and is_plain_number(text[1:], mark):
        return "zero or more, or an empty cell if it is not known"
    return f"a plain number such as 12{mark}5, or an empty cell"
