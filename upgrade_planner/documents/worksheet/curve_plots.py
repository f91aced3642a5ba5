"""What driver and owner notice as plots: spark over speed, charge over load, heat of the wires."""

from collections.abc import Callable, Iterator

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.documents.drawings.marks import Mark
from upgrade_planner.documents.drawings.plots import (
    HEIGHT,
    HeatBar,
    Plot,
    Series,
    bar_marks,
    bars_height,
    plot_marks,
)
from upgrade_planner.electrical.curves import ChargePoint, Curves, curves
from upgrade_planner.electrical.network.unsolvable import NetworkError

MOST_BARS = 12
"""Wires whose heat is shown, the nearest to their limit first."""


@frozen(kw_only=True)
class DrawnPlot:
    """A plot, its height [mm], and what it shows in words."""

    marks: tuple[Mark, ...]
    height: float
    told: str


def curve_plots(comparison: Comparison) -> tuple[DrawnPlot, ...]:
    """The plots of a job; () if the network of a side has no solution."""
    try:
        old, new = curves(comparison.before), curves(comparison.after)
    except NetworkError:
        return ()
    return (*_spark_plots(old, new), *_charge_plots(old, new), *_heat_plot(comparison, old, new))


def _plot(plot: Plot) -> Iterator[DrawnPlot]:
    """Nothing if there is nothing to show."""
    shown = tuple(series for series in plot.series if series.points)
    if not shown:
        return
    told = "; ".join(
        f"{'after' if one.is_after else 'before'}: "
        + ", ".join(f"{y:.3g} at {x:.3g}" for x, y in one.points)
        for one in shown
    )
    marks = plot_marks(Plot(title=plot.title, across=plot.across, series=shown, legend=plot.legend))
    yield DrawnPlot(
        marks=tuple(marks), height=HEIGHT, told=f"{plot.title} ({plot.across}). {told}."
    )


def _spark_plots(old: Curves, new: Curves) -> Iterator[DrawnPlot]:
    sides = ((old, False), (new, True))
    yield from _plot(
        Plot(
            title="Coil current when the spark is made, A",
            across="engine speed, r/min",
            series=tuple(
                Series(
                    points=tuple(
                        (one.speed_rpm, one.current_a)
                        for one in side.sparks
                        if one.current_a is not None
                    ),
                    is_after=is_after,
                )
                for side, is_after in sides
            ),
        )
    )
    yield from _plot(
        Plot(
            title="Energy stored for a spark, mJ",
            across="engine speed, r/min",
            series=tuple(
                Series(
                    points=tuple((one.speed_rpm, 1000 * one.energy_j) for one in side.sparks),
                    is_after=is_after,
                )
                for side, is_after in sides
            ),
        )
    )


def _charge_plots(old: Curves, new: Curves) -> Iterator[DrawnPlot]:
    for title, figure in (
        ("Volts across the battery, V", lambda one: one.battery_v),
        ("Current into the battery, A", lambda one: one.charge_a),
    ):
        yield from _plot(
            Plot(
                title=title,
                across="consumers take, A",
                legend="square: idling; ring: at speed",
                series=tuple(_charge_series(old, new, figure)),
            )
        )


def _charge_series(
    old: Curves, new: Curves, figure: Callable[[ChargePoint], float]
) -> Iterator[Series]:
    for side, is_after in ((old, False), (new, True)):
        for charges, is_idle in ((side.running, False), (side.idle, True)):
            points = tuple((one.load_a, figure(one)) for one in charges)
            yield Series(points=points, is_after=is_after, is_other=is_idle)


def _heat_plot(comparison: Comparison, old: Curves, new: Curves) -> Iterator[DrawnPlot]:
    limits = _limits(comparison.before) | _limits(comparison.after)
    bars = [
        HeatBar(
            name=wire, before=old.heat_c.get(wire), after=new.heat_c.get(wire), limit=limits[wire]
        )
        for wire in sorted({*old.heat_c, *new.heat_c})
    ]
    bars = sorted(bars, key=_nearness, reverse=True)[:MOST_BARS]
    if not bars:
        return
    title = "Hottest wires in any state, °C"
    told = "; ".join(f"{bar.name}, limit {bar.limit:.0f}" for bar in bars)
    yield DrawnPlot(
        marks=tuple(bar_marks(title, "conductor, °C", bars)),
        height=bars_height(bars),
        told=f"{title}: {told}.",
    )


def _nearness(bar: HeatBar) -> float:
    """How near to its limit a wire comes before or after."""
    return max(value / bar.limit for value in (bar.before, bar.after) if value is not None)


def _limits(configuration: Configuration) -> dict[str, float]:
    return {wire.id: wire.insulation.rated_c for wire in configuration.wires}
