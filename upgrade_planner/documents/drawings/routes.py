"""The way of each conductor over the paper, once everything has its place."""

import itertools
from collections.abc import Sequence

from upgrade_planner.documents.drawings.lattice import Lattice, Pin, Stretch
from upgrade_planner.documents.drawings.marks import Point

_SAME = 1e-6


def route_of(lattice: Lattice, owner: str) -> tuple[Point, ...]:
    """Corners of a conductor or flag, from its upper end to its lower one."""
    points: list[Point] = []
    for piece in lattice.chains[owner]:
        points.extend(_points(piece))
    return tuple(_without_idle(points))


def ends_of(lattice: Lattice, owner: str) -> tuple[Pin, Pin]:
    """Where its route begins and ends."""
    chain = lattice.chains[owner]
    return chain[0].first, chain[-1].second


def _points(piece: Stretch) -> tuple[Point, ...]:
    first, second = piece.pins
    if piece.level is None:
        return (first.x, first.y), (second.x, second.y)
    return (first.x, first.y), (first.x, piece.y), (second.x, piece.y), (second.x, second.y)


def _without_idle(points: Sequence[Point]) -> list[Point]:
    """Without points that repeat the one before, or lie on a straight line."""
    kept: list[Point] = []
    for point in points:
        if kept and _near(kept[-1], point):
            continue
        if len(kept) > 1 and any(
            abs(kept[-2][axis] - point[axis]) < _SAME and abs(kept[-1][axis] - point[axis]) < _SAME
            for axis in (0, 1)
        ):
            kept[-1] = point
            continue
        kept.append(point)
    return kept


def _near(first: Point, second: Point) -> bool:
    return abs(first[0] - second[0]) < _SAME and abs(first[1] - second[1]) < _SAME


def length_of(start: Point, end: Point) -> float:
    """Length of an upright or sideways piece. [mm]"""
    return abs(end[0] - start[0]) + abs(end[1] - start[1])


def first_part(points: Sequence[Point], length: float) -> tuple[Point, ...]:
    """The beginning of a route."""
    found = [points[0]]
    for start, end in itertools.pairwise(points):
        here = length_of(start, end)
        if here >= length:
            share = length / here if here else 0.0
            return (*found, _between(start, end, share))
        found.append(end)
        length -= here
    return tuple(found)


def without_first(points: Sequence[Point], length: float) -> tuple[Point, ...]:
    """A route without its beginning; at least the end of its last piece is left."""
    rest = list(points)
    while len(rest) > 2 and length_of(rest[0], rest[1]) <= length:
        length -= length_of(rest[0], rest[1])
        rest.pop(0)
    here = length_of(rest[0], rest[1])
    share = min(1.0, length / here) if here else 0.0
    rest[0] = _between(rest[0], rest[1], share)
    return tuple(rest)


def _between(start: Point, end: Point, share: float) -> Point:
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def heading(points: Sequence[Point]) -> Point:
    """The direction in which a route begins: one of the four."""
    (x0, y0), (x1, y1) = points[0], points[1]
    return float((x1 > x0) - (x1 < x0)), float((y1 > y0) - (y1 < y0))
