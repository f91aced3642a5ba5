"""
What a shop's own past jobs say of its hours: planned and real ones, by kind of work.

The factor of a kind is exp((n m + K g) / (n + K)): m is the mean of ln(real / planned) of its n
jobs, g the same of all N rows, drawn to zero: g = N M / (N + K). Few jobs change little; many
decide. Source: common practice (shrinkage of a mean towards a prior one, of equal variances).
"""

import math
from collections import defaultdict
from collections.abc import Mapping
from pathlib import Path

from upgrade_planner.configuration.files.faults import one_of, quoted
from upgrade_planner.configuration.files.texts import read_bytes
from upgrade_planner.configuration.tables.list_table import list_text
from upgrade_planner.configuration.tables.spreadsheet import Row, read_table
from upgrade_planner.errors import ConfigurationError, Problem
from upgrade_planner.kit.kinds_of_work import WORKS
from upgrade_planner.kit.prices.price_numbers import number_of, wanted_number

PRIOR_JOBS = 4.0
"""K: so many jobs the table of times is worth. Source: our assumption."""

LARGEST_RATIO = 5.0
"""Of real to planned hours; more is a slip or another job. Source: our assumption."""

COLUMNS = ("job", "work", "planned", "real")

Ratios = Mapping[str, list[float]]


def fitted_factors(ratios: Ratios) -> Mapping[str, float]:
    """
    A factor for each kind of work, those without a row of their own too.

    Args:
        ratios: Real to planned hours, by kind of work.

    Example:
        >>> found = fitted_factors({"wiring": [1.5] * 4})
        >>> round(found["wiring"], 3), round(found["testing"], 3)
        (1.355, 1.225)
    """
    logs = {work: [math.log(one) for one in own] for work, own in ratios.items()}
    every = [one for own in logs.values() for one in own]
    common = math.fsum(every) / (len(every) + PRIOR_JOBS)
    return {
        work: math.exp((math.fsum(own) + PRIOR_JOBS * common) / (len(own) + PRIOR_JOBS))
        for work in WORKS
        for own in [logs.get(work, [])]
    }


def read_past_jobs(path: Path) -> Ratios:
    """
    Ratios of real to planned hours from a CSV file with the columns job, work, planned, real.

    Raises:
        ConfigurationError: it cannot be read, or rows with faults; all of them.
    """
    name = str(path)
    text = list_text(name, read_bytes(path, "a list of past jobs"))
    table = read_table(name, text, COLUMNS, COLUMNS[1:], "a list of past jobs")
    found: dict[str, list[float]] = defaultdict(list)
    problems: list[Problem] = []
    for row in table.rows:
        work, ratio = _work(row, problems), _ratio(row, problems, is_european=table.is_european)
        if work and ratio:
            found[work].append(ratio)
    if problems:
        raise ConfigurationError(problems)
    return found


def _work(row: Row, problems: list[Problem]) -> str:
    work = row.cells.get("work", "").casefold().replace(" ", "_")
    if work not in WORKS:
        problems.append(row.problem("work", quoted(work), one_of(work, WORKS)))
        return ""
    return work


def _ratio(row: Row, problems: list[Problem], *, is_european: bool) -> float:
    """Real to planned hours; 0 with a fault."""
    mark = "," if is_european else "."
    hours = {}
    for name in ("planned", "real"):
        text = row.cells.get(name, "")
        number = number_of(text, mark)
        if not number:
            problems.append(row.problem(name, quoted(text), wanted_number(text, mark)))
            return 0.0
        hours[name] = float(number)
    ratio = hours["real"] / hours["planned"]
    if not 1 / LARGEST_RATIO <= ratio <= LARGEST_RATIO:
        found = f"{ratio:.2g} times what was planned"
        wanted = f"{1 / LARGEST_RATIO:g} to {LARGEST_RATIO:g} times; leave out what is no such job"
        problems.append(row.problem("real", found, wanted))
        return 0.0
    return ratio
