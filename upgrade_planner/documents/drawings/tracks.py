"""
How high each sideways piece lies in its channel.

Minimises crossings among the pieces of a channel, and forbids uprights that run into one another:
pair costs, then each piece is put where it costs least until nothing gains. Pieces that would
touch lie on different levels.
"""

from collections.abc import Sequence

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.drawings.lattice import Facing, Lattice, NodeSort, Stretch

PITCH = 3.5
"""From one level to the next. [mm]"""
PAD = 2.2
"""Free room above and below all levels. [mm]"""
_NO_LEVELS = 2.9
"""Height of a channel in which all is straight. [mm]"""

_RUN_INTO = 50
_NEAR = 1.6
"""Uprights nearer than this run into one another. [mm]"""
_APART = 2.5
"""Pieces of one level are at least so far apart. [mm]"""
_SAME = 0.01


@frozen
class Tally:
    """What a picture costs: crossings, uprights that run into one another, bends."""

    crossings: int = 0
    overlaps: int = 0
    bends: int = 0


def place_tracks(lattice: Lattice) -> Tally:
    """Gives each sideways piece its level, and each channel and row its height."""
    heights: dict[int, int] = {}
    crossings = overlaps = bends = 0
    for channel, pieces in lattice.by_channel().items():
        bent = [piece for piece in pieces if not piece.is_straight]
        ordered, costs = _ordered(bent)
        heights[channel] = _set_levels(ordered)
        for piece in pieces:
            if piece.is_straight:
                piece.level = None
                crossings += sum(one.span[0] < piece.first.x < one.span[1] for one in bent)
        pairs = _pair_costs(ordered, costs)
        crossings += sum(cost % _RUN_INTO for cost in pairs)
        overlaps += sum(cost // _RUN_INTO for cost in pairs)
        bends += 2 * len(bent)
    _stack(lattice, heights)
    return Tally(crossings, overlaps, bends)


Costs = dict[tuple[Stretch, Stretch], int]


def _ordered(bent: list[Stretch]) -> tuple[list[Stretch], Costs]:
    """Pieces from the highest to the lowest, and what it costs to have one above another."""
    costs = {(a, b): _cost(a, b) for a in bent for b in bent if a is not b}
    order = sorted(bent, key=lambda piece: piece.span)
    gained = True
    while gained:
        gained = False
        for here in range(len(order)):
            rest = [*order[:here], *order[here + 1 :]]
            best = _best_place(order[here], rest, here, costs)
            if best != here:
                order = [*rest[:best], order[here], *rest[best:]]
                gained = True
    return order, costs


def _best_place(piece: Stretch, rest: Sequence[Stretch], here: int, costs: Costs) -> int:
    """Where a piece costs least; where it is, if no other place is better."""
    cost = sum(costs[piece, other] for other in rest)
    totals = [cost]
    for other in rest:
        cost += costs[other, piece] - costs[piece, other]
        totals.append(cost)
    best = min(range(len(totals)), key=lambda place: (totals[place], abs(place - here)))
    return best if totals[best] < totals[here] else here


def _cost(above: Stretch, below: Stretch) -> int:
    """Crossings if one lies above the other, and much for uprights that run into one another."""
    downs = [pin.x for pin in above.pins if pin.side is Facing.TOP]
    ups = [pin.x for pin in below.pins if pin.side is Facing.BOTTOM]
    cost = sum(_hits(x, below.span) for x in downs) + sum(_hits(x, above.span) for x in ups)
    return cost + _RUN_INTO * sum(abs(x - other) < _NEAR for x in downs for other in ups)


def _hits(x: float, span: tuple[float, float]) -> int:
    """One for an upright that crosses a piece, two for one that touches its corner."""
    if any(abs(x - end) < _SAME for end in span):
        return 2
    return int(span[0] < x < span[1])


def _pair_costs(ordered: Sequence[Stretch], costs: Costs) -> list[int]:
    return [
        costs[above, below]
        for number, above in enumerate(ordered)
        for below in ordered[number + 1 :]
    ]


def _set_levels(ordered: Sequence[Stretch]) -> int:
    """The lowest level for each that keeps the order where pieces would touch; how many."""
    count = 0
    for number, piece in enumerate(ordered):
        left, right = piece.span
        touched = [
            other.level
            for other in ordered[:number]
            if left - _APART < other.span[1] and other.span[0] - _APART < right
        ]
        piece.level = 1 + max((level for level in touched if level is not None), default=-1)
        count = max(count, piece.level + 1)
    return count


def _stack(lattice: Lattice, levels: dict[int, int]) -> None:
    """Rows and channels below one another: the first heights, before they are drawn together."""
    y = 0.0
    above: dict[int, float] = {}
    for row in range(min(lattice.rows), max(lattice.rows) + 2):
        if row in levels:
            above[row] = y + PAD
            y += 2 * PAD + (levels[row] - 1) * PITCH if levels[row] else _NO_LEVELS
        nodes = lattice.rows.get(row, [])
        height = max((node.height for node in nodes), default=0.0)
        for node in nodes:
            node.top = y if node.sort is NodeSort.PART else y + (height - node.height) / 2
        y += height
    for piece in lattice.pieces:
        piece.y = above[piece.channel] + (piece.level or 0) * PITCH
