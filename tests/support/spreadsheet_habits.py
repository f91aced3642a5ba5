"""What spreadsheets and people do to a CSV file without meaning to."""

import csv
import io
import re

from attrs import frozen
from hypothesis import strategies as st

WITH_NUMBERS = ("size", "resistance", "length", "size_found", "length_measured", "measured")


@frozen(kw_only=True)
class Habit:
    separator: str
    mark: str
    line_end: str
    quoting: int
    more_columns: int
    more_rows: int
    first_rows: int
    order: int
    capitals: bool
    decimal_commas: bool


def habits():
    return st.builds(
        Habit,
        separator=st.sampled_from(",;\t"),
        mark=st.sampled_from(["", "\N{BYTE ORDER MARK}"]),
        line_end=st.sampled_from(["\n", "\r\n"]),
        quoting=st.sampled_from([csv.QUOTE_MINIMAL, csv.QUOTE_ALL]),
        more_columns=st.integers(0, 3),
        more_rows=st.integers(0, 3),
        first_rows=st.integers(0, 2),
        order=st.integers(0, 1000),
        capitals=st.booleans(),
        decimal_commas=st.booleans(),
    )


def spoilt(text, habit):
    """The same table after a spreadsheet had it."""
    rows = list(csv.reader(io.StringIO(text.removeprefix("\N{BYTE ORDER MARK}"), newline="")))
    header, body = rows[0], rows[1:]
    if habit.decimal_commas and habit.separator != ",":
        body = [[_comma(key, cell) for key, cell in zip(header, r, strict=True)] for r in body]
    shift = habit.order % len(header)
    turned = [row[shift:] + row[:shift] for row in (header, *body)]
    if habit.capitals:
        turned[0] = [name.upper() for name in turned[0]]
    empty = [""] * (len(header) + habit.more_columns)
    table = [
        *[empty] * habit.first_rows,
        *(row + [""] * habit.more_columns for row in turned),
        *[empty] * habit.more_rows,
    ]
    out = io.StringIO()
    writer = csv.writer(out, delimiter=habit.separator, quoting=habit.quoting, lineterminator="\n")
    writer.writerows(table)
    return habit.mark + out.getvalue().replace("\n", habit.line_end)


def _comma(key, cell):
    return re.sub(r"(\d)\.(\d)", r"\1,\2", cell) if key in WITH_NUMBERS else cell
