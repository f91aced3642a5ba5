"""How often conductors cross: counted channel by channel from the order of their ends."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from upgrade_planner.documents.drawings.lattice import Facing, Node, Pin, Stretch

Positions = Mapping[Pin, float]

Ends = tuple[list[tuple[Pin, int]], list[tuple[Pin, int]]]
"""Ends of a channel's pieces at the row above and at the row below, with the piece's number."""


def ends_in(pieces: Iterable[Stretch]) -> Ends:
    """Where the pieces of a channel end."""
    upper: list[tuple[Pin, int]] = []
    lower: list[tuple[Pin, int]] = []
    for number, piece in enumerate(pieces):
        for pin in piece.pins:
            (upper if pin.side is Facing.BOTTOM else lower).append((pin, number))
    return upper, lower


def crossings_in(ends: Ends, at: Positions) -> int:
    """
    Crossings that a channel cannot avoid.

    The ends stand on a circle, those of the row above from left to right, those of the row below
    from right to left; two conductors cross if their ends alternate. So one that turns back
    counts rightly, too.
    """
    upper, lower = ends
    above = sorted([(at[pin], number) for pin, number in upper])
    below = sorted([(-at[pin], number) for pin, number in lower])
    return alternating([number for _, number in (*above, *below)])


def alternating(numbers: Iterable[int]) -> int:
    """
    How many pairs of pieces alternate on a circle.

    Args:
        numbers: Each piece's number twice, where it begins and where it ends.

    Example:
        >>> alternating([1, 2, 1, 2, 3, 4, 4, 3])
        1
    """
    opened: list[int] = []
    count = 0
    for number in numbers:
        if number in opened:
            since = opened.index(number)
            count += len(opened) - 1 - since
            del opened[since]
        else:
            opened.append(number)
    return count


def positions_in(row: Sequence[Node], start: int = 0) -> Iterator[tuple[Pin, float]]:
    """
    Where pins of a row stand: at the place of their node, and between it and the next one.

    Args:
        row: Neighbours, from left to right.
        start: The place of the first.
    """
    for place, node in enumerate(row, start):
        for pins in node.pins.values():
            share = 0.9 / (len(pins) + 1)
            for number, pin in enumerate(pins, start=1):
                yield pin, place + number * share
