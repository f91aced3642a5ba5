"""The key below each page of pictures: a sample of every line, and what a number behind & means."""

from collections.abc import Iterator

from upgrade_planner.comparison.wire_changes import NAMED_IF_ANY, Disposition
from upgrade_planner.documents.drawings.lettering import SMALL, width_of
from upgrade_planner.documents.drawings.lines import by_action
from upgrade_planner.documents.drawings.marks import Box, Mark, Text

HEIGHT = 9.6
_SAMPLE = 15.0
_MEANINGS = {Disposition.KEEP: "stays", Disposition.MOVE: "to this end"}
_AND = "more wires here, unchanged or in another picture"
_DASHED = "dashed frame: wire from elsewhere"


def key_marks(width: float, actions: frozenset[Disposition]) -> Iterator[Mark]:
    """
    The key.

    Args:
        width: Room from left to right. [mm]
        actions: What happens to conductors of the page; those of a way back are shown only then.
    """
    yield Box(x=0.15, y=0.15, width=width - 0.3, height=HEIGHT - 0.3, line=0.3)
    shown = [action for action in Disposition if action in actions or action not in NAMED_IF_ANY]
    room = (width - 4) / len(shown)
    for number, action in enumerate(shown):
        x = 3 + number * room
        route = ((x, 3.2), (x + min(_SAMPLE, room - 14), 3.2))
        yield from by_action(route, action, (False, True))
        yield from _words(x + min(_SAMPLE, room - 14) + 1.6, action)
    yield from _counts()


def pair_key_marks(width: float) -> Iterator[Mark]:
    """The key of a page that shows before and after; arguments as at `key_marks`."""
    yield Box(x=0.15, y=0.15, width=width - 0.3, height=HEIGHT - 0.3, line=0.3)
    x = 3.0
    for action, told in (
        (Disposition.KEEP, "in both states"),
        (Disposition.ADD, "in this state only"),
    ):
        yield from by_action(((x, 3.2), (x + _SAMPLE, 3.2)), action, (False, False))
        yield Text(x=x + _SAMPLE + 1.6, y=4.1, text=told)
        x += width / 2
    yield from _counts()


def _counts() -> Iterator[Mark]:
    """What stands behind a terminal, and what a dashed frame is."""
    yield Text(x=3, y=8.2, text="15 &2", bold=True)
    yield Text(x=3 + width_of("15 &2", SMALL, bold=True) + 2, y=8.2, text=f"2 {_AND};   {_DASHED}")


def _words(x: float, action: Disposition) -> Iterator[Mark]:
    word = "" if action is Disposition.KEEP else str(action).upper()
    yield Text(x=x, y=4.1, text=word or _MEANINGS[action], bold=bool(word))
