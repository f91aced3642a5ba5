"""What driver and owner will notice: figures of before and after side by side, as a meter shows."""

from collections.abc import Callable, Iterable

from upgrade_planner.checks.examined import Examined
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.configuration.values.measures import celsius
from upgrade_planner.documents.words.quantities import quantity_words, without_dust
from upgrade_planner.documents.words.wording import NBSP
from upgrade_planner.documents.worksheet.views import SummaryRow
from upgrade_planner.electrical.performance import Performance, performance

NOT_COMPUTED = "not computed"

Figure = Callable[[Performance, str], str]


def volts(value: float | None) -> str:
    """As a hand-held meter shows it: two digits behind the point below 1 V, else one."""
    if value is None:
        return "–"
    shown = round(without_dust(value), 2 if abs(value) < 1 else 1) + 0.0  # no minus before zero
    return f"{_signed(shown, 2 if abs(value) < 1 else 1)}{NBSP}V"


def amperes(value: float | None) -> str:
    """Two digits behind the point below 1 A, one below 10 A, else none."""
    if value is None:
        return "–"
    size = abs(value)
    digits = 2 if size < 1 else 1 if size < 10 else 0
    return f"{_signed(round(without_dust(value), digits) + 0.0, digits)}{NBSP}A"


def _signed(shown: float, digits: int) -> str:
    """A number with the minus that print has, as readings have it."""
    return f"{shown:.{digits}f}".replace("-", "\N{MINUS SIGN}")


def spark_words(figures: Performance, index: int) -> str:
    """Primary current and energy at one speed."""
    if len(figures.sparks) <= index:
        return NOT_COMPUTED
    spark = figures.sparks[index]
    energy = f"{1000 * spark.energy_j:.0f}{NBSP}mJ"
    return energy if spark.current_a is None else f"{amperes(spark.current_a)}, {energy}"


def hottest_words(figures: Performance, units: str) -> str:
    """The hottest wire and how hot its conductor is."""
    return f"{figures.hottest_wire} {quantity_words(celsius(figures.hottest_c), '.0f', units)}"


RUNS_ON = "NO: it may run on"
TOLD_ALWAYS = (NOT_COMPUTED, RUNS_ON)
"""Figures that are printed though they stay as they were."""

ROWS: tuple[tuple[str, Figure], ...] = (
    ("ignition supply, running", lambda p, _: volts(p.ignition_run_v)),
    ("ignition supply, cranking", lambda p, _: volts(p.ignition_cranking_v)),
    ("mean current of coil or unit, running", lambda p, _: amperes(p.ignition_run_a)),
    ("coil at 1000 r/min", lambda p, _: spark_words(p, 0)),
    ("coil at 3000 r/min", lambda p, _: spark_words(p, 1)),
    ("battery voltage, idling", lambda p, _: volts(p.idle_battery_v)),
    ("battery voltage, loads on", lambda p, _: volts(p.loaded_battery_v)),
    ("charging current, idling", lambda p, _: amperes(p.idle_charge_a)),
    ("charging current, loads on", lambda p, _: amperes(p.loaded_charge_a)),
    ("output to spare, loads on", lambda p, _: amperes(p.spare_output_a)),
    ("lost on the way to the battery", lambda p, _: volts(p.output_drop_v)),
    ("hottest wire", hottest_words),
    ("drain with the ignition off", lambda p, _: amperes(p.standing_a)),
    ("stops by its switch", lambda p, _: "yes" if p.stops else RUNS_ON),
)


def notice_rows(before: Configuration, after: Configuration, units: str) -> tuple[SummaryRow, ...]:
    """
    One row for each figure that changes as printed, or that somebody must know of.

    A side whose network has no solution says so in every row.
    """
    old, new = _figures(before, units), _figures(after, units)
    return tuple(
        SummaryRow(subject=subject, before=shown, after=wanted)
        for (subject, _), shown, wanted in zip(ROWS, old, new, strict=True)
        if shown != wanted or wanted in TOLD_ALWAYS
    )


def _figures(configuration: Configuration, units: str) -> Iterable[str]:
    points = Examined(configuration=configuration).points
    if not points:
        return [NOT_COMPUTED] * len(ROWS)
    figures = performance(configuration, points)
    return [figure(figures, units) for _, figure in ROWS]
