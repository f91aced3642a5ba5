"""Single values of profiles: texts, names, numbers, choices; each fault says what is right."""

import re
from collections.abc import Callable, Iterable
from typing import Any, get_args

from upgrade_planner.configuration.files.faults import FieldFault, one_of, shown, with_article
from upgrade_planner.configuration.registry import circuits, kinds
from upgrade_planner.configuration.values.notation import NotationError
from upgrade_planner.configuration.values.quantities import Dimension, QuantityError, parse_quantity

LONGEST_TEXT = 2000
LARGEST_COUNT = 10_000
"""Both: our assumption; a note of one page, more steps in a walk than any vehicle has places."""

LARGEST, SMALLEST = 1e9, 1e-12
"""In the unit of the dimension; our assumption, nothing in a vehicle is larger or smaller."""

# Control characters, line and paragraph separators, marks that turn the direction of writing:
# none of them can be printed, and the last ones can make a line read as another.
_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069]")
_ROLE = re.compile(r"[a-z0-9_]{1,60}")
_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,59}")
_REFERENCE = re.compile(rf"{_ROLE.pattern}\.{_ROLE.pattern}")
PATTERNS = {
    "role": (_ROLE, "a name of small letters, digits and _ (at most 60)"),
    "name": (_NAME, "a name of letters, digits, - and _ (at most 60)"),
    "reference": (_REFERENCE, "role.terminal, such as alternator.output"),
    "words": (re.compile(r"\s*+\S.*", re.DOTALL), "a text that is not empty"),
}
"""Of each mark of a text: what it looks like, and the same in words."""


def text_from(value: Any, _: Any = None) -> str:
    """A text that can be printed."""
    if not isinstance(value, str):
        raise FieldFault(shown(value), "a text in quotes")
    if len(value) > LONGEST_TEXT:
        raise FieldFault(f"a text of {len(value)} characters", f"at most {LONGEST_TEXT}")
    unprintable = _UNPRINTABLE.search(value)
    if unprintable:
        found = f"the control character U+{ord(unprintable.group()):04X}"
        raise FieldFault(found, "a text that can be printed")
    return value


def is_role(value: object) -> bool:
    """True if the value can be a role or the name of a terminal."""
    return isinstance(value, str) and _ROLE.fullmatch(value) is not None


def count_from(value: Any, _: Any = None) -> int:
    """A whole number that counts something."""
    if isinstance(value, bool) or not isinstance(value, int) or abs(value) > LARGEST_COUNT:
        raise FieldFault(shown(value), f"a whole number up to {LARGEST_COUNT}, without quotes")
    return value


def number_between(value: Any, least: float, most: float) -> float:
    """A number in its range, both borders included."""
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    if not is_number or not least <= value <= most:
        raise FieldFault(shown(value), f"a number from {least:g} to {most:g}, without quotes")
    return float(value)


def marked_value(value: Any, cls: Any) -> Any:
    """A value of a field whose type carries a mark, such as `Annotated[str, "kind"]`."""
    marks = get_args(cls)[1:]
    if callable(marks[0]):
        return marks[0](value)
    if isinstance(marks[0], Dimension):
        return quantity_from(value, marks[0], may_be_zero="above zero" not in marks)
    if marks[0] == "between":
        return number_between(value, *marks[1:])
    text = text_from(value)
    if marks[0] == "choice":
        return choice_from(text, marks[1:])
    if marks[0] == "kind":
        return _kind_from(text)
    if marks[0] == "circuit":
        return choice_from(text, circuits())
    pattern, expected = PATTERNS[marks[0]]
    if not pattern.fullmatch(text):
        raise FieldFault(shown(text), expected)
    return text


def quantity_from(value: Any, dimension: Dimension, *, may_be_zero: bool) -> float:
    """A number with unit, within what vehicles have."""
    try:
        number = parse_quantity(value, dimension, allow_negative=True)
    except QuantityError as error:
        raise FieldFault(error.found, with_nearest(error)) from error
    if dimension is not Dimension.TEMPERATURE and not (number > 0 or (may_be_zero and number == 0)):
        bound = "of zero or more" if may_be_zero else "above zero"
        raise FieldFault(shown(value), f"{with_article(dimension.value)} {bound}")
    if number and not SMALLEST <= abs(number) <= LARGEST:
        size = "large" if abs(number) > LARGEST else "small"
        raise FieldFault(
            f"{shown(value)}, too {size} for any vehicle", with_article(dimension.value)
        )
    return number


def _kind_from(text: str) -> str:
    meant = next((kind.id for kind in kinds().values() if text.lower() in kind.spoken), "")
    if text not in kinds() and meant:
        raise FieldFault(
            shown(text), f"'{meant}' for that; 'upgrade-planner show --kinds' lists all"
        )
    return choice_from(text, kinds())


def choice_from(text: str, allowed: Iterable[str]) -> str:
    """One of the allowed words."""
    if text not in allowed:
        raise FieldFault(shown(text), one_of(text, [word for word in allowed if word], limit=40))
    return text


def notation_from(parse: Callable[[Any], Any]) -> Callable[[Any, Any], Any]:
    """A hook for a value that has a notation of its own, such as a size or a colour."""

    def hook(value: Any, _: Any) -> Any:
        if not isinstance(value, str):
            raise FieldFault(shown(value), "a text in quotes")
        try:
            return parse(value)
        except NotationError as error:
            raise FieldFault(error.found, with_nearest(error)) from error

    return hook


def member_from(value: Any, cls: Any) -> Any:
    """A member of an enumeration, by its text."""
    return cls(choice_from(text_from(value), [str(member) for member in cls]))


def with_nearest(error: NotationError) -> str:
    """What would be right, and the valid spellings nearest to what was found."""
    words = " or ".join(error.nearest)
    return f"{error.expected} (nearest: {words})" if words else error.expected
