"""
Where everything stands from top to bottom.

Minimises the total length of the uprights, exactly: what lies above one another keeps its order and
its gap, everything else may slip past. So a battery or a large box stands beside small parts.
"""

import itertools
import math
from collections.abc import Iterator, Sequence

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.drawings.lattice import Facing, Lattice, Node, NodeSort, Pin, Stretch
from upgrade_planner.documents.drawings.totals import Arc, least_total
from upgrade_planner.documents.drawings.tracks import PITCH

STEP = 0.25
"""Heights are multiples of this. [mm]"""
_TOP, _BOTTOM = "upper border", "lower border"
_HEIGHT_WEIGHT = 6
_HEAD_WEIGHT = 3
_MARGIN, _TRACK_MARGIN = 1.6, 2.0
"""What is nearer than this from side to side lies above one another. [mm]"""


@frozen(kw_only=True)
class Clearances:
    """Least free heights: between objects, and from a terminal to the first bend. [mm]"""

    objects: float = 2.1
    bend: float = 1.6


LOOSE = Clearances()
TIGHT = Clearances(objects=1.7, bend=1.2)


@frozen(kw_only=True)
class _Thing:
    """Something with room: a node or a sideways piece."""

    name: str
    left: float
    right: float
    top: float
    height: float
    node: Node | None = None
    piece: Stretch | None = None


def place_down(
    lattice: Lattice, gaps: Clearances, heads: Sequence[str], level: Sequence[str]
) -> None:
    """
    Gives each node its upper border and each sideways piece its height.

    Args:
        lattice: With places from left to right, and first heights from `tracks`.
        gaps: Least free heights.
        heads: Names of parts that are drawn to the top.
        level: Names of parts that stand at one height.
    """
    things = sorted(_things(lattice), key=lambda thing: (thing.top, thing.name))
    names = {id(thing.node or thing.piece): thing.name for thing in things}
    arcs = [
        *_stacked(things, gaps),
        *_uprights(lattice, names, gaps),
        *(Arc(_TOP, thing.name, 0) for thing in things),
        *(Arc(thing.name, _BOTTOM, _units(thing.height)) for thing in things),
        Arc(_TOP, _BOTTOM, 0, _HEIGHT_WEIGHT),
        *(Arc(_TOP, _node_name(name), 0, _HEAD_WEIGHT) for name in heads),
    ]
    for first, second in itertools.pairwise(level):
        arcs += [
            Arc(_node_name(a), _node_name(b), 0) for a, b in ((first, second), (second, first))
        ]
    places = least_total(arcs)
    least = min(places[thing.name] for thing in things)
    for thing in things:
        y = (places[thing.name] - least) * STEP
        if thing.node is not None:
            thing.node.top = y
        if thing.piece is not None:
            thing.piece.y = y


def _node_name(name: str) -> str:
    return f"node {name}"


def _things(lattice: Lattice) -> Iterator[_Thing]:
    for node in lattice.nodes.values():
        if node.sort is not NodeSort.PASSING:
            yield _Thing(
                name=_node_name(node.id),
                left=node.left,
                right=node.right,
                top=node.top,
                height=node.height,
                node=node,
            )
    for number, piece in enumerate(lattice.pieces):
        if piece.level is not None:
            left, right = piece.span
            yield _Thing(
                name=f"piece {number}", left=left, right=right, top=piece.y, height=0, piece=piece
            )


def _stacked(things: Sequence[_Thing], gaps: Clearances) -> Iterator[Arc]:
    """Order and gap of all that lies above one another, without what follows from others."""
    below: list[set[int]] = [set() for _ in things]
    for upper in range(len(things) - 1, -1, -1):
        for lower in range(upper + 1, len(things)):
            if lower not in below[upper] and _overlap(things[upper], things[lower]):
                below[upper] |= {lower} | below[lower]
                yield Arc(
                    things[upper].name,
                    things[lower].name,
                    _units(things[upper].height + _gap(things[upper], things[lower], gaps)),
                )


def _overlap(upper: _Thing, lower: _Thing) -> bool:
    margin = _TRACK_MARGIN if upper.piece and lower.piece else _MARGIN
    return upper.left - margin < lower.right and lower.left - margin < upper.right


def _gap(upper: _Thing, lower: _Thing, gaps: Clearances) -> float:
    return PITCH if upper.piece and lower.piece else gaps.objects


def _uprights(lattice: Lattice, names: dict[int, str], gaps: Clearances) -> Iterator[Arc]:
    """What a conductor pulls together: a terminal and its bend, or two ends of a straight piece."""
    for piece in lattice.pieces:
        uppers = [pin for pin in piece.pins if _is_object(pin) and pin.side is Facing.BOTTOM]
        lowers = [pin for pin in piece.pins if _is_object(pin) and pin.side is Facing.TOP]
        if piece.level is not None:
            bend = names[id(piece)]
            for pin in uppers:
                yield Arc(names[id(pin.node)], bend, _units(pin.node.reach + gaps.bend), 1)
            for pin in lowers:
                yield Arc(bend, names[id(pin.node)], _units(gaps.bend), 1)
        elif uppers and lowers:
            upper, lower = uppers[0].node, lowers[0].node
            distance = _units(upper.reach + gaps.objects)
            yield Arc(names[id(upper)], names[id(lower)], distance, 1)


def _is_object(pin: Pin) -> bool:
    return pin.node.sort is not NodeSort.PASSING


def _units(length_mm: float) -> int:
    return math.ceil(length_mm / STEP - 1e-9)
