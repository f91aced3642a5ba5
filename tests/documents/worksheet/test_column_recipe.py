"""The recipe of the contributor guide for a printed column, followed to the letter."""

import re

import pytest
from attrs import asdict, evolve
from jinja2 import ChoiceLoader, DictLoader
from places import ROOT
from recipes import blocks_of_recipe
from sample import sheet

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.shared import html
from upgrade_planner.documents.worksheet import front_heights
from upgrade_planner.documents.worksheet.views import ScheduleRow

FOLDER = ROOT / "templates" / "worksheet"
TEMPLATE = "worksheet/changed.html.jinja"
MARKUP, STYLE = blocks_of_recipe("A printed column")
COLUMN, CELL = MARKUP.splitlines()
LAST_COLUMN, LAST_CELL = ")] %}", "</td></tr>"
CLASSES = re.compile(r'\("([\w-]*)", "[^"]*"\)')


@frozen(kw_only=True)
class RowWithCut(ScheduleRow):
    cut: str


def template():
    return (FOLDER / "changed.html.jinja").read_text(encoding="utf-8")


@pytest.fixture
def page(monkeypatch):
    """The sample's sheet with the column of the recipe."""
    told = template().replace(LAST_COLUMN, f"), {COLUMN}] %}}", 1)
    told = told.replace(LAST_CELL, f"</td>{CELL}</tr>")
    made = html._environment()
    loader = ChoiceLoader([DictLoader({TEMPLATE: told}), made.loader])
    other = made.overlay(loader=loader, bytecode_cache=None)
    monkeypatch.setattr(html, "_environment", lambda: other)
    rows = (
        RowWithCut(**{**asdict(row), "cut": f"{number} in"})
        for number, row in enumerate(sheet().changed)
    )
    return html.worksheet_html(evolve(sheet(), changed=tuple(rows)))


def test_each_row_has_its_cell_under_the_heading(page):
    table = page.partition('<table class="changed">')[2].partition("</table>")[0]
    head, *rows = table.split("<tr>")[1:]
    assert re.findall(r"<th[^>]*>([^<]*)", head)[-1] == "Cut"
    assert 'class="w-cut"' in table
    for number, row in enumerate(rows):
        cells = re.findall(r"<t[hd][^>]*>", row)
        assert len(cells) == head.count("<th ")
        assert f"<td>{number}\N{NO-BREAK SPACE}in</td>" in row


def test_its_width_is_taken_from_the_style_sheet_and_leaves_less_to_the_others(monkeypatch):
    others = {name: text for name, text in front_heights.CHANGED.items() if name != "w-cut"}
    monkeypatch.setattr(front_heights, "CHANGED", others)
    before = dict(front_heights._changed_cells(sheet().changed[0]))
    styles = (FOLDER / "worksheet.css").read_text(encoding="utf-8") + STYLE
    widths = {name: float(mm) for name, mm in front_heights._COLUMN_STYLE.findall(styles)}
    assert widths["w-cut"] == 16.0
    monkeypatch.setattr(front_heights, "_column_widths", lambda: widths)
    with_cut = {**others, "w-cut": lambda row: "8.7 in"}
    monkeypatch.setattr(front_heights, "CHANGED", with_cut)
    now = dict(front_heights._changed_cells(sheet().changed[0]))
    lost = {text: round(before[text] - room, 6) for text, room in now.items() if text in before}
    assert sorted(filter(None, lost.values())) == [16.0]


def test_every_column_of_the_template_is_reckoned_with():
    head = template().partition("%}\n{% set columns")[2].partition("%}")[0]
    assert CLASSES.findall(head) == list(front_heights.CHANGED)
    assert set(front_heights.CHANGED) - {""} <= set(front_heights._column_widths())
