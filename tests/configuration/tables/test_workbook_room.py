"""A workbook prints as it is opened: rows as high as their text, text off the figures beside it."""

import io
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from openpyxl import load_workbook

from upgrade_planner.configuration.tables.workbook_room import (
    LINE_HEIGHT,
    column_widths,
    row_height,
)
from upgrade_planner.configuration.tables.workbooks import (
    MoneyCells,
    WorkbookSheet,
    workbook_bytes,
)

LONG = "Ring terminal for a stud of ten millimetres, cable of two gauges, tinned, plain barrel"


@pytest.fixture(scope="module")
def page() -> Any:
    sheet = WorkbookSheet(
        title="List",
        rows=(("article", "price each", "unit"), (LONG, Decimal("1234.5"), "each"), ("Tie", 2, "")),
        is_list=True,
        money=(1,),
        currency=MoneyCells(before="£"),
        total=("Total", Decimal("1236.5")),
    )
    return load_workbook(io.BytesIO(workbook_bytes([sheet], date(2026, 1, 2))))["List"]


def test_a_row_is_as_high_as_its_longest_text(page: Any) -> None:
    assert page.row_dimensions[2].height == 2 * LINE_HEIGHT
    assert page.row_dimensions[3].height == LINE_HEIGHT


def test_running_text_is_wide_and_high_enough() -> None:
    (width,) = column_widths([[LONG * 3]], is_list=False)
    assert width < len(LONG * 3) / 2
    assert row_height([LONG * 3], [width]) >= LINE_HEIGHT * len(LONG * 3) / width


def test_a_figure_fits_its_column_with_its_currency(page: Any) -> None:
    assert page.column_dimensions["B"].width >= len("£1,234.50")


def test_words_of_a_head_stand_below_one_another() -> None:
    assert column_widths([["left over"], ["1"]], is_list=True)[0] < len("left over")


def test_text_keeps_off_the_figure_before_it_and_heads_stand_over_figures(page: Any) -> None:
    unit = page["C2"].alignment
    assert (unit.horizontal, unit.indent) == ("left", 1)
    assert page["B1"].alignment.horizontal == page["B2"].alignment.horizontal == "right"


def test_head_and_total_are_ruled_off(page: Any) -> None:
    assert all(cell.border.bottom.style == "thin" for cell in page[1])
    assert all(cell.border.top.style == "thin" and cell.font.bold for cell in page[4][:2])
