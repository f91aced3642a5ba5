"""
Where everything stands from left to right.

Minimises the weighted sideways length of all conductors, exactly, the order of each row kept. It
is done several times: each time the pieces that are nearly straight weigh more, so that they
become straight and bends go.
"""

import itertools
from collections.abc import Iterator, Mapping
from types import MappingProxyType

from upgrade_planner.documents.drawings.lattice import Lattice, Node, NodeSort, Stretch
from upgrade_planner.documents.drawings.lettering import GRID
from upgrade_planner.documents.drawings.totals import Arc, least_total

ROUNDS = 6
PART_GAP, LABEL_GAP, WIRE_GAP = 3.0, 2.0, 2.5
"""Free room between parts, between labels, at each side of a conductor that passes. [mm]"""

NO_WISHES: Mapping[str, float] = MappingProxyType({})

_WISH_WEIGHT = 8
_LEFT, _RIGHT = "left border", "right border"
_PICTURE_WEIGHT = 4
_STRAIGHTENING, _NEARLY = 30, 0.75
"""More weight of a piece, divided by its offset and this. [mm]"""
_TURNED_BACK = 20.0


def place_across(lattice: Lattice, rounds: int, wishes: Mapping[str, float] = NO_WISHES) -> None:
    """
    Gives each node its left border.

    Args:
        lattice: With sizes and offsets.
        rounds: How often it is done at most; each time straightens more, or nothing changes.
        wishes: Where the middle of a node should lie, by its name, if it lies anywhere. [mm]
    """
    extra: Mapping[Stretch, int] = {}
    for _ in range(rounds):
        _place_once(lattice, extra, wishes)
        before, extra = extra, {piece: _more_weight(piece) for piece in lattice.pieces}
        if extra == before:
            break


def _more_weight(piece: Stretch) -> int:
    first, second = piece.pins
    offset = _TURNED_BACK if first.side is second.side else abs(first.x - second.x)
    return max(1, round(_STRAIGHTENING / (offset + _NEARLY)))


def _place_once(
    lattice: Lattice, extra: Mapping[Stretch, int], wishes: Mapping[str, float]
) -> None:
    arcs = [*_neighbours(lattice), Arc(_LEFT, _RIGHT, 0, _PICTURE_WEIGHT)]
    for number, piece in enumerate(lattice.pieces):
        weight = _weight(piece) + extra.get(piece, 0)
        for pin in piece.pins:
            arcs.append(Arc(f"piece {number}", pin.node.id, -_units(pin.offset), weight))
    for name, middle in wishes.items():
        half = _units(lattice.nodes[name].width / 2)
        arcs.append(Arc(f"wish {name}", name, -half, _WISH_WEIGHT))
        arcs.append(Arc(f"wish {name}", _LEFT, -_units(middle), _WISH_WEIGHT))
    places = least_total(arcs)
    least = min(places[name] for name in lattice.nodes)
    for name, node in lattice.nodes.items():
        node.left = (places[name] - least) * GRID


def _neighbours(lattice: Lattice) -> Iterator[Arc]:
    for row in lattice.rows.values():
        yield Arc(_LEFT, row[0].id, 0)
        yield Arc(row[-1].id, _RIGHT, _units(row[-1].width))
        for left, right in itertools.pairwise(row):
            yield Arc(left.id, right.id, _units(left.width) + _units(_gap(left, right)))


def _gap(left: Node, right: Node) -> float:
    sorts = {left.sort, right.sort}
    if sorts == {NodeSort.PASSING}:
        return 2 * WIRE_GAP
    if NodeSort.PASSING in sorts:
        return WIRE_GAP
    return LABEL_GAP if sorts == {NodeSort.LABEL} else PART_GAP


def _weight(piece: Stretch) -> int:
    """Pieces between labels are held straighter than those at parts."""
    parts = sum(pin.node.sort is NodeSort.PART for pin in piece.pins)
    return (4, 2, 1)[parts]


def _units(length_mm: float) -> int:
    return round(length_mm / GRID)
