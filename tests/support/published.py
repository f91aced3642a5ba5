"""Published figures of tests/reference, the oracles of calculations; rows from memory never are."""

import csv
import re
from functools import cache

import pytest
from places import REFERENCE


@cache
def all_rows(file_name):
    """Every row, those from memory too."""
    with (REFERENCE / file_name).open(encoding="utf-8", newline="") as lines:
        return tuple(csv.DictReader(lines))


@cache
def table(file_name):
    """Rows by id, those from memory left out."""
    return {row["id"]: row for row in all_rows(file_name) if row["status"] != "memory"}


def rows(file_name, start="", without=(), **columns):
    """Rows whose id starts so and whose columns contain the texts, as parameters named by id."""
    return [
        pytest.param(row, id=row_id)
        for row_id, row in table(file_name).items()
        if row_id.startswith(start)
        and row_id not in without
        and all(text in row[column] for column, text in columns.items())
    ]


def approx_row(row):
    """The published value within the tolerance stated beside it."""
    tolerance = row["tolerance"]
    if tolerance == "exact":
        return pytest.approx(float(row["value"]), rel=1e-12)
    if tolerance.endswith("%"):
        return pytest.approx(float(row["value"]), rel=float(tolerance.removesuffix("%")) / 100)
    return pytest.approx(float(row["value"]), abs=float(tolerance.split()[0]))


def number(row, pattern, column="conditions"):
    """The first number that a pattern with one group finds in a column."""
    match = re.search(pattern, row[column])
    assert match is not None, f"{row['id']}: no {pattern} in {row[column]}"
    return float(match[1])
