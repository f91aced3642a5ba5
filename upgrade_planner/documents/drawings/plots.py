"""Small plots that need no colour: before is dashed with open rings, after thick with full ones."""

import math
from collections.abc import Iterable, Iterator, Sequence

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.drawings.lettering import NAME, SMALL, width_of
from upgrade_planner.documents.drawings.marks import (
    DASHED,
    FINE_DASHES,
    INK,
    PAPER,
    Box,
    Disc,
    Mark,
    Point,
    Text,
    line,
)

WIDTH, HEIGHT = 86.0, 56.0
"""Of every plot. [mm]"""
_LEFT, _RIGHT, _TOP, _BOTTOM = 11.0, 3.0, 13.0, 9.0
_NAMES = 33.0
"""Room for the names of bars. [mm]"""
_STEPS = 5
_BAR = 4.2


@frozen(kw_only=True)
class Series:
    """One line of a plot: its points in the units of the axes, from left to right."""

    points: tuple[Point, ...]
    is_after: bool
    is_other: bool = False
    """True for the second line of the same state: its points are squares."""


@frozen(kw_only=True)
class Plot:
    """
    Lines over one quantity.

    Attributes:
        across: What the horizontal axis shows, with its unit.
        legend: What a ring and what a square is; "" if there are rings only.
    """

    title: str
    across: str
    series: tuple[Series, ...]
    legend: str = ""


@frozen(kw_only=True)
class HeatBar:
    """A name, its value before and after, and what it must not exceed; None where there is none."""

    name: str
    before: float | None
    after: float | None
    limit: float


def plot_marks(plot: Plot) -> Iterator[Mark]:
    """The plot, `WIDTH` by `HEIGHT`."""
    xs = [x for series in plot.series for x, _ in series.points]
    ys = [y for series in plot.series for _, y in series.points]
    across, up = _Axis.over(xs), _Axis.over(ys)
    yield from _head(plot.title, plot.legend)
    yield from _grid(across, up)
    yield Text(x=WIDTH - _RIGHT, y=HEIGHT - 1.0, text=plot.across, anchor="end")
    for series in plot.series:
        yield from _drawn(series, [(_x(across, x), _y(up, y)) for x, y in series.points])


def bars_height(bars: Sequence[HeatBar]) -> float:
    """Height of a plot of bars. [mm]"""
    return _TOP + 2 * _BAR * len(bars) + 6.0


def bar_marks(title: str, across: str, bars: Sequence[HeatBar]) -> Iterator[Mark]:
    """Two bars a name, and a stroke where its limit is; `WIDTH` by `bars_height`."""
    figures = [v for bar in bars for v in (bar.before, bar.after, bar.limit) if v is not None]
    axis = _Axis.over([0.0, *figures])
    yield from _head(title, "stroke: limit")
    bottom = _TOP + 2 * _BAR * len(bars)
    room = WIDTH - _RIGHT - _NAMES
    for tick in axis.ticks:
        x = _NAMES + axis.share(tick) * room
        yield line(((x, _TOP), (x, bottom)), 0.12)
        yield Text(x=x, y=bottom + 3.0, text=f"{tick:g}", anchor="middle")
    yield Text(x=1.0, y=bottom + 3.0, text=across)
    for number, bar in enumerate(bars):
        y = _TOP + 2 * _BAR * number
        yield Text(x=_NAMES - 1.0, y=y + _BAR + 1.0, text=_cut(bar.name), anchor="end")
        for value, fill, place in ((bar.before, PAPER, 0.5), (bar.after, INK, _BAR)):
            if value is not None:
                width = max(0.3, axis.share(value) * room)
                yield Box(
                    x=_NAMES, y=y + place, width=width, height=_BAR - 1.0, line=0.3, fill=fill
                )
        x = _NAMES + axis.share(bar.limit) * room
        yield line(((x, y + 0.2), (x, y + 2 * _BAR - 0.4)), 0.8)


def _cut(name: str) -> str:
    """A name in the room that there is."""
    while width_of(name, SMALL) > _NAMES - 2.0:
        name = name[:-2].rstrip("-… ") + "…"
    return name


@frozen
class _Axis:
    """From the first to the last tick, at round numbers."""

    ticks: tuple[float, ...]

    @classmethod
    def over(cls, values: Sequence[float]) -> "_Axis":
        low, high = min(values), max(values)
        wide = max(high - low, abs(high) * 0.1, 1e-9)
        raw = wide / _STEPS
        power = 10.0 ** math.floor(math.log10(raw))
        step = next(power * one for one in (1, 2, 5, 10) if power * one >= raw)
        first, last = math.floor(low / step), math.ceil(high / step)
        return cls(tuple(round(n * step, 9) for n in range(first, max(last, first + 1) + 1)))

    def share(self, value: float) -> float:
        return (value - self.ticks[0]) / (self.ticks[-1] - self.ticks[0])


def _x(axis: _Axis, value: float) -> float:
    return _LEFT + axis.share(value) * (WIDTH - _LEFT - _RIGHT)


def _y(axis: _Axis, value: float) -> float:
    return HEIGHT - _BOTTOM - axis.share(value) * (HEIGHT - _TOP - _BOTTOM)


def _head(title: str, legend: str) -> Iterator[Mark]:
    yield Text(x=1.0, y=3.5, text=title, points=NAME, bold=True)
    yield from _drawn(Series(points=(), is_after=False), [(2.5, 7.2), (11.5, 7.2)])
    yield Text(x=14.0, y=8.2, text="before")
    yield from _drawn(Series(points=(), is_after=True), [(27.5, 7.2), (36.5, 7.2)])
    yield Text(x=39.0, y=8.2, text="after")
    yield Text(x=WIDTH - _RIGHT, y=8.2, text=legend, anchor="end")


def _grid(across: _Axis, up: _Axis) -> Iterator[Mark]:
    for tick in across.ticks:
        x = _x(across, tick)
        yield line(((x, _TOP), (x, HEIGHT - _BOTTOM)), 0.12)
        yield Text(x=x, y=HEIGHT - _BOTTOM + 3.2, text=f"{tick:g}", anchor="middle")
    for tick in up.ticks:
        y = _y(up, tick)
        pen, dashes = (0.4, "") if tick == 0 else (0.12, FINE_DASHES)
        yield line(((_LEFT, y), (WIDTH - _RIGHT, y)), pen, dashes=dashes)
        yield Text(x=_LEFT - 1.0, y=y + 1.0, text=f"{tick:g}", anchor="end")


def _drawn(series: Series, points: Sequence[Point]) -> Iterable[Mark]:
    if len(points) > 1:
        pen, dashes = (0.9, "") if series.is_after else (0.45, DASHED)
        yield line(points, pen, dashes=dashes, sort="after" if series.is_after else "before")
    fill = INK if series.is_after else PAPER
    for x, y in points:
        if series.is_other:
            yield Box(x=x - 1.0, y=y - 1.0, width=2.0, height=2.0, line=0.4, fill=fill)
        else:
            yield Disc(x=x, y=y, radius=1.1, line=0.4, fill=fill)
