"""What a slot of a car may get, on the screen."""

from collections.abc import Iterator, Sequence
from textwrap import fill

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.terminal.spoken import said

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


def choice_lines(slot: str, found: Sequence[SlotChoice], english: str = "") -> Iterator[str]:
    """
    What is there, what fits with its number, and what does not with its reason.

    Args:
        slot: The slot.
        found: What there is for it.
        english: `us` or `uk`; "" as it is written.
    """
    number = 0
    for one in found:
        if one.is_there:
            yield said(f"{slot} now: {one.title} ({one.system})", english)
    for one in found:
        if not one.is_there and not one.missing:
            number += 1
            text = f"{number:2} {one.title} ({one.system}): {one.changes}."
            yield fill(said(text, english), WIDEST, subsequent_indent="   ")
    for one in found:
        if one.missing:
            text = f" – {one.title} ({one.system}): not for this car as it is: {one.missing}"
            yield fill(said(text, english), WIDEST, subsequent_indent="   ")
