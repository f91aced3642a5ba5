"""Six sheets keep their pages on both papers, with pictures too, and break them where one may."""

from functools import lru_cache

import pytest
from page_layout import Layout, faults_of
from pair_facts import planned
from sheet_jobs import JOBS, OWN_SALOON

from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.documents.shared.html import worksheet_html
from upgrade_planner.documents.worksheet.sheet import sheet_view
from upgrade_planner.documents.worksheet.title_block import SheetOptions
from upgrade_planner.planning.plan import plan_upgrade

MOST_STEPS = (110, 150, 190, 140, 145, 55)
CASES = [
    pytest.param(number, paper, is_drawn, id=f"{job[1]}-{paper}{'-drawn' * is_drawn}")
    for number, job in enumerate(JOBS)
    for paper, is_drawn in (("A4", False), ("Letter", False), ("A4", True))
]


@pytest.fixture(scope="module")
def plans(tmp_path_factory):
    own = tmp_path_factory.mktemp("own") / "own_saloon.toml"
    own.write_text(OWN_SALOON, encoding="utf-8")
    return [
        planned(before, after)
        if not after.endswith(".toml")
        else plan_upgrade(load_configuration(before), load_configuration(str(own)))
        for before, after, *_ in JOBS
    ]


def test_every_operation_has_one_tick_and_steps_are_no_more(plans):
    for plan, most in zip(plans, MOST_STEPS, strict=True):
        ticks = [number for row in plan.rows for number in row.step_numbers]
        assert sorted(ticks) == sorted(step.number for step in plan.steps)
        assert len(plan.operations) == len(ticks) <= most


@lru_cache(1)
def view_of(plan, drawn_on):
    """What the sheet of a plan says: it is printed on one paper after the other."""
    return sheet_view(plan, SheetOptions(date="2026-03-01", drawn_on=drawn_on))


@pytest.mark.parametrize(("number", "paper", "is_drawn"), CASES)
def test_pages_are_few_and_no_row_is_cut(plans, number, paper, is_drawn):
    _, _, plain, drawn = JOBS[number]
    view = view_of(plans[number], paper if is_drawn else "")
    layout = Layout(worksheet_html(view, paper=paper))
    assert len(layout.lines) <= (drawn if is_drawn else plain) + (paper == "Letter")
    assert faults_of("", layout) == []
    if is_drawn:
        (page,) = layout.pages_with("view")
        assert page < 2, "where it is stands on the first or second page"
    for page, filled in enumerate(layout.filled[:-1]):
        assert filled > 0.5, f"page {page + 1} is less than half full"
