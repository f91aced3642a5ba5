"""What a slot of a car may get, on the screen."""

from collections.abc import Iterator, Sequence
from textwrap import fill

from upgrade_planner.attributes import frozen

WIDEST = 100
"""Characters of a line for reading."""


@frozen(kw_only=True)
class SlotChoice:
    """
    One system that a slot may get.

    Attributes:
        is_there: True if the car has it now.
        changes: What it changes, hours and dangers, in words; "" if it does not fit.
        missing: Why it does not fit; "" if it does.
    """

    system: str
    title: str
    is_there: bool
    changes: str = ""
    missing: str = ""


def choice_lines(slot: str, found: Sequence[SlotChoice]) -> Iterator[str]:
    """What is there, what fits with its number, and what does not with its reason."""
    number = 0
    for one in found:
        if one.is_there:
            yield f"{slot} now: {one.title} ({one.system})"
    for one in found:
        if not one.is_there and not one.missing:
            number += 1
            text = f"{number:2} {one.title} ({one.system}): {one.changes}."
            yield fill(text, WIDEST, subsequent_indent="   ")
    for one in found:
        if one.missing:
            text = f" – {one.title} ({one.system}): not for this car as it is: {one.missing}"
            yield fill(text, WIDEST, subsequent_indent="   ")
