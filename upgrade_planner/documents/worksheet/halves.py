"""
Lists in two halves beside each other, the lower the better; lines are broken as paper breaks them.

The PDF engine can balance columns, too: it lays all of them out again for each millimetre it tries,
which took a sixth of a sheet. Type, room and padding are those of `.part` in the style sheet.
"""

from collections.abc import Collection, Iterable, Sequence

from upgrade_planner.documents.drawings.lettering import MM_PER_POINT, wrapped
from upgrade_planner.documents.worksheet.views import PartGroup, Tool

_ROOM = 80.5
"""For a line beside its box. [mm]"""
_POINTS, _LEADING = 9.0, 1.1
_PADDING = 0.4
_LEAST = 5.6
"""Height of an entry of one line: that of its box. [mm]"""
_HEADING = 5.7


def tools_left(tools: Iterable[Tool], conditions: Iterable[str]) -> int:
    """How many of the tools, and conditions after them, stand in the left half."""
    texts = [*(f"{tool.name}: {tool.use}" for tool in tools), *conditions]
    return left_of([_entry(text) for text in texts])


def parts_left(groups: Iterable[PartGroup]) -> int:
    """How many of the headings and rows of a list of parts stand in the left half."""
    heights: list[float] = []
    heads = set()
    for group in groups:
        heads.add(len(heights))
        heights += [_HEADING, *(_entry(f"{row.quantity} {row.item}") for row in group.rows)]
    return left_of(heights, heads)


def left_of(heights: Sequence[float], heads: Collection[int] = ()) -> int:
    """
    Where the right half begins.

    Args:
        heights: Of the entries. [mm]
        heads: Numbers of those that stay with the entry after them.

    Example:
        >>> left_of([5.0, 5.0, 5.0, 12.0])
        3
        >>> left_of([5.0, 5.0, 5.0, 5.0], heads=[1])
        1
    """
    ends = [number for number in range(1, len(heights) + 1) if number - 1 not in heads]
    return min(ends, key=lambda n: max(sum(heights[:n]), sum(heights[n:])), default=0)


def _entry(text: str) -> float:
    lines = len(wrapped(text, _ROOM, _POINTS))
    return max(_LEAST, lines * _POINTS * MM_PER_POINT * _LEADING + _PADDING)
