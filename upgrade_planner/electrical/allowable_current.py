"""
Allowable continuous current of a conductor, by published tables.

The default is the table of the public boat regulation 33 CFR 183.425, with its factor for engine
spaces. A size that a table lacks is interpolated by its copper area and marked so. The tables are
in data/allowable_current_cfr.csv and data/allowable_current_other.csv; `heat_balance` computes the
same quantity from physics, as a check. Cranking cables and high-tension leads are outside the
regulation (33 CFR 183.425 paragraph g).
"""

from functools import cache
from itertools import pairwise
from math import exp, inf, log, sqrt

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.own_data import data_rows
from upgrade_planner.configuration.values.sizes import AWG, METRIC, WireSize, parse_wire_size

CFR = "cfr"
FREE_AIR = "free air"
VDE = "vde"
THIN_WALL = "thin wall"
TABLES = (CFR, FREE_AIR, VDE, THIN_WALL)

# Air that all four tables stand for. 33 CFR 183.425: as trade reprints of it state; NEC 310.17 and
# VDE 0298-4: stated there; thin wall: our assumption, the sheet states none. [°C]
TABLE_AIR_C = 30.0
# Air of an engine space; 33 CFR 183.425 table 5 note 1. [°C]
ENGINE_SPACE_C = 50.0

# Between two rows of the regulation a straight line in logarithms lies up to 6 % above what the
# regulation prints for 16, 8, 2 and 3/0 AWG, whose rows were not at hand. [1]
BETWEEN_ROWS_RATIO = 0.94

# From the best to the weakest: read in the source; quoted by another publication; not seen; ours.
STATUSES = ("seen", "secondary", "memory", "assumption")


@frozen(kw_only=True)
class Factor:
    """A ratio that a table current is multiplied by, with its source and status."""

    ratio: float
    source: str
    status: str


@frozen(kw_only=True)
class AllowableCurrent:
    """
    What a conductor may carry for good, with all that the figure was made from.

    Attributes:
        current_a: Allowable continuous current, factors included, not rounded. [A]
        table: One of `TABLES`.
        source: Table, column and factors in words.
        status: The weakest status among them: `seen`, `secondary`, `memory` or `assumption`.
        interpolated: The table lacks the size; the current follows from the copper area.
        factor: Product of the factors for air, insulation and bundle; 1 for the bare table. [1]
    """

    current_a: float
    table: str
    source: str
    status: str
    interpolated: bool
    factor: float


@frozen(kw_only=True)
class _Row:
    """One printed value."""

    size: WireSize
    insulation_c: float
    current_a: float
    source: str
    status: str


def allowable_current(
    size: WireSize,
    insulation_c: float,
    ambient_c: float = TABLE_AIR_C,
    *,
    table: str = CFR,
    bundle: int | None = None,
) -> AllowableCurrent:
    """
    Allowable continuous current of one conductor.

    The column of the insulation is the hottest one that is not hotter than the insulation. Sizes
    between two rows: straight line in log(area) and log(current), always by the copper area, so an
    SAE size gets less than the AWG size of its number; in the regulation's table less
    `BETWEEN_ROWS_RATIO`. Sizes below the first row: the current
    density of the first row, which lies below any sensible curve.

    Args:
        size: A standard size; its copper area counts.
        insulation_c: Conductor temperature that the insulation stands for good. [°C]
        ambient_c: Air around the conductor; `ENGINE_SPACE_C` in an engine space. [°C]
        table: One of `TABLES`.
        bundle: Count of conductors under current that lie together, or None to leave bundling out.
            Caution only: the factors belong to circuits of 50 V and more.

    Returns:
        The current and how it was found. 0 A if the air is as hot as the insulation may get.

    Raises:
        ValueError: No such table; the size is larger than its last row; insulation_c is not above
            30 °C; ambient_c is not finite; bundle is below 1.

    Source:
        33 CFR 183.425 table 5 (default), NEC table 310.17, VDE 0298-4:2013 table 11 column 2, or a
        UK thin-wall cable sheet; factors as at `ambient_factor` and `bundle_factor`. Interpolation
        and extension to small sizes: our assumption.

    Example:
        >>> from upgrade_planner.configuration.values.sizes import parse_wire_size
        >>> allowable_current(parse_wire_size("12 AWG"), 105, ENGINE_SPACE_C).current_a
        38.25
    """
    column_c = _column(table, insulation_c)
    listed, interpolated = _by_size(size, table, column_c)
    air = ambient_factor(insulation_c, ambient_c, table=table)
    factors = [air] if bundle is None else [air, bundle_factor(bundle)]
    ratio = 1.0
    for factor in factors:
        ratio *= factor.ratio
    notes = [factor for factor in factors if factor.source]
    return AllowableCurrent(
        current_a=listed.current_a * ratio,
        table=table,
        source="; ".join([listed.source, *(factor.source for factor in notes)]),
        status=weakest_status(listed.status, *(factor.status for factor in notes)),
        interpolated=interpolated,
        factor=ratio,
    )


def weakest_status(*statuses: str) -> str:
    """
    The least trustworthy of several statuses; a result is no better than its weakest figure.

    Example:
        >>> weakest_status("seen", "memory", "secondary")
        'memory'
    """
    return max(statuses, key=STATUSES.index)


def square_root_ratio(insulation_c: float, ambient_c: float, base_c: float) -> float:
    """
    Ratio of allowable currents in two airs: √((Tc - Ta)/(Tc - Tbase)), not capped.

    Heating goes as the square of the current, so the ratio of the allowable rises is the square of
    the ratio of the currents.

    Args:
        insulation_c: Conductor temperature allowed, Tc. [°C]
        ambient_c: Air to convert to, Ta; at or above Tc the ratio is 0. [°C]
        base_c: Air that the current is known for, Tbase. [°C]

    Returns:
        Current in air of ambient_c over current in air of base_c. [1]

    Raises:
        ValueError: insulation_c is not above base_c, or a temperature is not finite.

    Source:
        Physics; meets the factors of VDE 0298-4:2013 table 17 and of the Canadian Electrical Code
        table 5A within 0.01, the step they are printed in.

    Example:
        >>> square_root_ratio(70, 60, 30)
        0.5
    """
    if not -inf < base_c < insulation_c < inf:
        raise ValueError(
            f"insulation_c: a finite temperature above {base_c:g} °C is wanted, "
            f"found {insulation_c:g}"
        )
    if not -inf < ambient_c < inf:
        raise ValueError(f"ambient_c: a finite temperature is wanted, found {ambient_c:g}")
    return sqrt(max(0.0, insulation_c - ambient_c) / (insulation_c - base_c))


def ambient_factor(insulation_c: float, ambient_c: float, *, table: str = CFR) -> Factor:
    """
    Factor on a table current for air of another temperature, never above 1.

    Air up to 30 °C: 1, the table value is never exceeded. `cfr`: the engine-space factor F of
    note 1 at 50 °C; hotter, F √((Tc - Ta)/(Tc - 50)); between 30 and 50 °C the same square-root
    rule drawn through 1 and F, √(1 - (1 - F²)(Ta - 30)/20). Other tables: √((Tc - Ta)/(Tc - 30)).
    Insulation below the first column of a table (60 °C on `vde`): the column's heat scaled down
    likewise, √((Tc - Ta)/(Tcolumn - 30)).

    Args:
        insulation_c: Conductor temperature that the insulation stands for good, Tc. [°C]
        ambient_c: Air around the conductor, Ta. [°C]
        table: One of `TABLES`.

    Returns:
        The factor, from 0 to 1; its source is empty where the bare table holds.

    Raises:
        ValueError: As at `allowable_current`.

    Source:
        data/engine_space_factors.csv; square-root rule as at `square_root_ratio`.
    """
    column_c = _column(table, insulation_c)
    if not -inf < ambient_c < inf:
        raise ValueError(f"ambient_c: a finite temperature is wanted, found {ambient_c:g}")
    plain_ratio = square_root_ratio(insulation_c, max(ambient_c, TABLE_AIR_C), TABLE_AIR_C)
    if insulation_c < column_c:
        ratio = plain_ratio * sqrt((insulation_c - TABLE_AIR_C) / (column_c - TABLE_AIR_C))
        source = f"scaled from {column_c:g} °C to insulation for {insulation_c:g} °C"
        return Factor(ratio=ratio, source=source, status="assumption")
    if ambient_c <= TABLE_AIR_C:
        return Factor(ratio=1.0, source="", status="seen")
    if table == CFR:
        return _regulation_factor(insulation_c, column_c, ambient_c)
    source = f"air of {ambient_c:g} °C by the square-root rule"
    status = "assumption" if table == THIN_WALL else "secondary"  # its sheet states no air
    return Factor(ratio=plain_ratio, source=source, status=status)


def _regulation_factor(insulation_c: float, column_c: float, ambient_c: float) -> Factor:
    engine = _engine_space_factors()[column_c]
    if ambient_c < ENGINE_SPACE_C:
        part = (ambient_c - TABLE_AIR_C) / (ENGINE_SPACE_C - TABLE_AIR_C)
        ratio = sqrt(1 - (1 - engine.ratio**2) * part)
    else:
        ratio = engine.ratio * square_root_ratio(insulation_c, ambient_c, ENGINE_SPACE_C)
    source = f"engine-space factor {engine.ratio:g} ({engine.source})"
    if ambient_c != ENGINE_SPACE_C:
        source += f", for air of {ambient_c:g} °C by the square-root rule"
    return Factor(ratio=ratio, source=source, status=engine.status)


@cache
def _engine_space_factors() -> dict[float, Factor]:
    return {
        float(row["insulation_c"]): Factor(
            ratio=float(row["factor"]), source=row["source"], status=row["status"]
        )
        for row in data_rows(__package__, "engine_space_factors.csv")
    }


def bundle_factor(conductors: int) -> Factor:
    """
    Factor for conductors under current that lie together.

    A caution, no rule, for 6 to 24 V: the source asks for no reduction under 50 V.

    Args:
        conductors: How many of them carry current at the same time.

    Returns:
        1 for one or two conductors, down to 0.4 for 25 and more.

    Raises:
        ValueError: conductors is below 1.

    Source:
        US Coast Guard electrical compliance guideline, as reprinted; data/bundle_factors.csv.

    Example:
        >>> bundle_factor(5).ratio
        0.6
    """
    if conductors < 1:
        raise ValueError(f"bundle: one conductor or more is wanted, found {conductors}")
    found = Factor(ratio=1.0, source="", status="seen")
    for row in data_rows(__package__, "bundle_factors.csv"):
        if conductors >= int(row["from_conductors"]):
            source = f"bundle of {conductors}, as caution: {row['source']}"
            found = Factor(ratio=float(row["factor"]), source=source, status=row["status"])
    return found


def _column(table: str, insulation_c: float) -> float:
    """Hottest column not hotter than the insulation, else the coolest there is."""
    columns = _tables().get(table)
    if columns is None:
        raise ValueError(f"a table is wanted ({', '.join(TABLES)}), found {table}")
    if not TABLE_AIR_C < insulation_c < inf:
        raise ValueError(
            f"insulation_c: a finite temperature above {TABLE_AIR_C:g} °C is wanted, "
            f"found {insulation_c:g}"
        )
    fitting = [column_c for column_c in columns if column_c <= insulation_c]
    return max(fitting, default=min(columns))


def _by_size(size: WireSize, table: str, column_c: float) -> tuple[_Row, bool]:
    """The row of a size, and whether it had to be made from its neighbours."""
    rows = _tables()[table][column_c]
    for row in rows:
        if row.size == size:
            return row, False
    first, last = rows[0], rows[-1]
    if size.area_mm2 > last.size.area_mm2:
        raise ValueError(f"table {table} ends at {last.size.label}, found {size.label}")
    if size.area_mm2 < first.size.area_mm2:
        current_a = first.current_a * size.area_mm2 / first.size.area_mm2
        return _made(size, current_a, first, f"at the current density of {first.size.label}"), True
    lower, upper = next(pair for pair in pairwise(rows) if size.area_mm2 <= pair[1].size.area_mm2)
    part = log(size.area_mm2 / lower.size.area_mm2) / log(upper.size.area_mm2 / lower.size.area_mm2)
    current_a = exp(log(lower.current_a) + part * log(upper.current_a / lower.current_a))
    if table == CFR:
        current_a = max(lower.current_a, BETWEEN_ROWS_RATIO * current_a)
    between = f"interpolated between {lower.size.label} and {upper.size.label}"
    return _made(size, current_a, lower, between), True


def _made(size: WireSize, current_a: float, neighbour: _Row, how: str) -> _Row:
    return _Row(
        size=size,
        insulation_c=neighbour.insulation_c,
        current_a=current_a,
        source=f"{neighbour.source}, {how}",
        status="assumption",
    )


@cache
def _tables() -> dict[str, dict[float, list[_Row]]]:
    """Rows by table and column, smallest size first."""
    tables: dict[str, dict[float, list[_Row]]] = {}
    for name in ("allowable_current_cfr.csv", "allowable_current_other.csv"):
        for row in data_rows(__package__, name):
            column_c = float(row["insulation_c"])
            rows = tables.setdefault(row["table"], {}).setdefault(column_c, [])
            rows.append(_printed(row, column_c))
    for columns in tables.values():
        for rows in columns.values():
            rows.sort(key=lambda row: row.size)
    return tables


def _printed(row: dict[str, str], column_c: float) -> _Row:
    return _Row(
        size=_table_size(row["system"], row["size"]),
        insulation_c=column_c,
        current_a=float(row["current_a"]),
        source=f"{row['source']}, {column_c:g} °C column",
        status=row["status"],
    )


def _table_size(system: str, designation: str) -> WireSize:
    """A size as a table has it; metric tables have sizes that are no standard sizes of ours."""
    if system == AWG:
        return parse_wire_size(f"{designation} {AWG}")
    return WireSize(system=METRIC, designation=designation, area_mm2=float(designation))
