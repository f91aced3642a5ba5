"""How often conductors cross: counted channel by channel from the order of their ends."""

from collections.abc import Iterable, Mapping, Sequence

from upgrade_planner.documents.drawings.lattice import Facing, Node, Pin, Stretch

Positions = Mapping[Pin, float]


def crossings_in(pieces: Iterable[Stretch], at: Positions) -> int:
    """
    Crossings that a channel cannot avoid.

    The ends stand on a circle, those of the row above from left to right, those of the row below
    from right to left; two conductors cross if their ends alternate. So one that turns back
    counts rightly, too.
    """
    upper: list[tuple[float, int, Stretch]] = []
    lower: list[tuple[float, int, Stretch]] = []
    for number, piece in enumerate(pieces):
        for pin in piece.pins:
            if pin.side is Facing.BOTTOM:
                upper.append((at[pin], number, piece))
            else:
                lower.append((-at[pin], number, piece))
    upper.sort(key=_place)
    lower.sort(key=_place)
    opened: dict[int, int] = {}
    spans: list[tuple[int, int]] = []
    for place, (_, number, _) in enumerate((*upper, *lower)):
        if number in opened:
            spans.append((opened.pop(number), place))
        else:
            opened[number] = place
    return alternating(sorted(spans))


def _place(entry: tuple[float, int, Stretch]) -> tuple[float, int]:
    return entry[:2]


def alternating(spans: Sequence[tuple[int, int]]) -> int:
    """
    How many pairs of spans overlap without one lying inside the other.

    Args:
        spans: Start and end of each, by their starts.

    Example:
        >>> alternating([(0, 2), (1, 3), (4, 5)])
        1
    """
    count = 0
    for number, (start, end) in enumerate(spans):
        for other_start, other_end in spans[number + 1 :]:
            if other_start >= end:
                break
            if start < other_start and end < other_end:
                count += 1
    return count


def positions_in(row: Sequence[Node]) -> dict[Pin, float]:
    """Where the pins of a row stand: the place of their node, and between it and the next one."""
    found: dict[Pin, float] = {}
    for place, node in enumerate(row):
        for pins in node.pins.values():
            share = 0.9 / (len(pins) + 1)
            for number, pin in enumerate(pins, start=1):
                found[pin] = place + number * share
    return found
