"""How a conductor is drawn: by what happens to it, or in the colour of its insulation."""

import math
from collections.abc import Callable, Iterator, Sequence

from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.configuration.model import Wire
from upgrade_planner.documents.drawings.marks import (
    CHAIN,
    DASHED,
    INK,
    PAPER,
    Disc,
    Mark,
    Point,
    Stroke,
    cross,
    line,
)
from upgrade_planner.documents.drawings.routes import first_part, heading, without_first

KEPT, THIN, THICK, DOUBLE, CORE = 0.4, 0.6, 1.4, 2.1, 1.0
"""Widths of lines. [mm]"""
HALO = 1.1
"""White beside a line, so that a crossing shows which one passes. [mm]"""
_CROSS_AT = 3.0
_CAP_AT = 2.6
_CAP = 1.2
_ARROW, _ARROW_GAP = 9.0, 1.0

ORDER = (
    Disposition.KEEP,
    Disposition.CAP_OFF,
    Disposition.REMOVE,
    Disposition.MOVE,
    Disposition.RESIZE,
    Disposition.RENEW,
    Disposition.ADD,
    Disposition.REFIT,
    Disposition.REJOIN,
)
"""What is drawn first lies below."""

Route = Sequence[Point]


def by_action(route: Route, action: Disposition, arrows: Sequence[bool]) -> Iterator[Mark]:
    """
    A conductor by what happens to it.

    Args:
        route: Its corners.
        action: What happens to it.
        arrows: Of a moved one, whether it goes to its first and to its last end.
    """
    if action is Disposition.MOVE:
        yield from _moved(route, arrows)
    else:
        yield from _STYLES[action](route)


def _halo(route: Route, width: float) -> Mark:
    return line(route, width + HALO, colour=PAPER, sort="halo")


def _kept(route: Route) -> Iterator[Mark]:
    yield _halo(route, KEPT)
    yield line(route, KEPT, sort="wire keep")


def _added(route: Route) -> Iterator[Mark]:
    yield _halo(route, THICK)
    yield line(route, THICK, sort="wire add")


def _rejoined(route: Route) -> Iterator[Mark]:
    yield _halo(route, THICK)
    yield line(route, THICK, sort="wire rejoin")
    for way in (route, route[::-1]):
        x, y = first_part(way, _CROSS_AT)[-1]
        yield Disc(x=x, y=y, radius=1.3, line=0.6)


def _resized(route: Route) -> Iterator[Mark]:
    yield _halo(route, DOUBLE)
    yield line(route, DOUBLE, sort="wire resize")
    yield line(route, CORE, colour=PAPER)


def _removed(route: Route) -> Iterator[Mark]:
    yield _halo(route, THIN)
    yield line(route, THIN, dashes=DASHED, sort="wire remove")
    for way in (route, route[::-1]):
        yield from cross(*first_part(way, _CROSS_AT)[-1])


def _capped(route: Route) -> Iterator[Mark]:
    shorter = without_first(without_first(route, _CAP_AT)[::-1], _CAP_AT)[::-1]
    yield _halo(shorter, THIN)
    yield line(shorter, THIN, dashes=CHAIN, sort="wire cap")
    for way in (shorter, shorter[::-1]):
        yield _cap(way)


def _cap(route: Route) -> Mark:
    """A half-round cap over the end of a conductor, drawn as a polygon."""
    (x, y), (right, down) = route[0], heading(route)
    points = [(x + right * _CAP - down * _CAP, y + down * _CAP - right * _CAP)]
    for step in range(9):
        angle = math.pi * step / 8
        along, across = -math.sin(angle) * _CAP, -math.cos(angle) * _CAP
        points.append((x + right * along + down * across, y + down * along + right * across))
    points.append((x + right * _CAP + down * _CAP, y + down * _CAP + right * _CAP))
    return Stroke(points=tuple(points), width=0, fill=INK, closed=True, sort="cap")


def _moved(route: Route, arrows: Sequence[bool]) -> Iterator[Mark]:
    yield _halo(route, KEPT)
    yield line(route, KEPT, sort="wire move")
    for way, goes_there in zip((route, route[::-1]), arrows, strict=True):
        if goes_there:
            yield from _arrow(way)


def _arrow(route: Route) -> Iterator[Mark]:
    """Thick towards its new end, with an open arrow."""
    yield line(without_first(first_part(route, _ARROW), 1.6), THICK)
    (x, y), (right, down) = route[0], heading(route)
    x, y = x + right * _ARROW_GAP, y + down * _ARROW_GAP
    sides = [(x + right * 2.4 + down * way, y + down * 2.4 + right * way) for way in (-1.6, 1.6)]
    yield line((sides[0], (x, y), sides[1]), 0.6, sort="arrow")


def old_end(route: Route) -> Iterator[Mark]:
    """The stub of the end that a moved conductor leaves."""
    yield _halo(route, THIN)
    yield line(route, THIN, dashes=DASHED, sort="old end")
    yield from cross(*first_part(route, _CROSS_AT - 0.4)[-1])


def flag_line(route: Route) -> Iterator[Mark]:
    """The line of a flag."""
    yield _halo(route, KEPT)
    yield line(route, KEPT, sort="flag line")


_STYLES: dict[Disposition, Callable[[Route], Iterator[Mark]]] = {
    Disposition.KEEP: _kept,
    Disposition.CAP_OFF: _capped,
    Disposition.REMOVE: _removed,
    Disposition.RESIZE: _resized,
    Disposition.RENEW: _resized,
    Disposition.ADD: _added,
    Disposition.REFIT: _added,
    Disposition.REJOIN: _rejoined,
}


# By current -------------------------------------------------------------------------------------

_IDLE, _LEAST, _WIDEST, _PER_ROOT = 0.25, 0.5, 3.0, 0.28
_HEAD = 3.2


def flowing(route: Route, amperes: float, arrows: Sequence[bool]) -> Iterator[Mark]:
    """
    A conductor by its current.

    Args:
        route: Its corners.
        amperes: Current without sign; the width grows with its root. [A]
        arrows: Whether the current goes to the first and to the last end.
    """
    if not amperes:
        yield _halo(route, _IDLE)
        yield line(route, _IDLE, dashes=DASHED, sort="wire idle")
        return
    width = min(_WIDEST, _LEAST + _PER_ROOT * math.sqrt(amperes))
    yield _halo(route, width)
    yield line(route, width, sort="wire flow")
    for way, goes_there in zip((route, route[::-1]), arrows, strict=True):
        if goes_there:
            yield _flow_head(way, width)


def _flow_head(route: Route, width: float) -> Mark:
    """A white triangle with a black edge, pointing to where the route begins."""
    (x, y), (right, down) = route[0], heading(route)
    half = max(1.2, width / 2 + 0.5)
    tip = (x + right * 1.2, y + down * 1.2)
    back = [
        (x + right * (1.2 + _HEAD) + down * side, y + down * (1.2 + _HEAD) + right * side)
        for side in (-half, half)
    ]
    return Stroke(points=(tip, *back), width=0.4, fill=PAPER, closed=True, sort="flow head")


# In colour --------------------------------------------------------------------------------------

_PAINT = {
    "BK": "#000000",
    "BN": "#8a5a2b",
    "RD": "#d5281e",
    "OG": "#f08a1c",
    "YE": "#f6e04b",
    "GN": "#2d9a3c",
    "BU": "#2c62c9",
    "VT": "#8a3fa6",
    "GY": "#9a9a9a",
    "WH": "#ffffff",
    "PK": "#f39bb6",
    "GD": "#b8923a",
    "TQ": "#3fb8af",
    "SR": "#c8c8c8",
    "GNYE": "#2d9a3c",
}
"""How the colours of IEC 60757 look on our paper; the letters beside them are what counts."""

_EDGE, _WIRE, _CABLE = 0.22, 1.5, 2.3
_HEAVY_MM2 = 10.0
"""Conductors from this area are drawn as cables."""


def in_colour(route: Route, wire: Wire) -> Iterator[Mark]:
    """A conductor in the colour of its insulation, black at its edges, its tracer in dashes."""
    width = _CABLE if wire.size.area_mm2 >= _HEAVY_MM2 else _WIRE
    inner = width - 2 * _EDGE
    yield _halo(route, width)
    yield line(route, width, sort="wire colour")
    yield line(route, inner, colour=_PAINT[wire.colour.main])
    tracer = "YE" if wire.colour.main == "GNYE" else wire.colour.tracer
    if tracer:
        yield line(route, inner * 0.55, dashes="2 2", colour=_PAINT[tracer])
