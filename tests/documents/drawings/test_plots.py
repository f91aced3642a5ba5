"""Plots show what the figures say, without colour, and no word on another."""

from itertools import combinations

import pytest
from drawn import rectangles_meet
from pair_facts import compared, loaded

from upgrade_planner.documents.drawings.lettering import SMALL
from upgrade_planner.documents.drawings.marks import Box, Disc, Stroke, Text
from upgrade_planner.documents.drawings.plots import WIDTH
from upgrade_planner.documents.worksheet.curve_plots import curve_plots
from upgrade_planner.electrical.curves import curves
from upgrade_planner.electrical.operating_points import operating_points
from upgrade_planner.electrical.performance import performance

VAN = ("van_original_resistance", "van_upgraded")


@pytest.fixture(scope="module")
def plots():
    return curve_plots(compared(*VAN))


def test_both_states_are_drawn_in_their_own_styles(plots):
    assert len(plots) == 5
    for plot in plots[:4]:
        sorts = {mark.sort for mark in plot.marks if isinstance(mark, Stroke)}
        assert {"before", "after"} <= sorts
        colours = {m.colour for m in plot.marks if isinstance(m, Stroke)}
        fills = {m.fill for m in plot.marks if isinstance(m, Box | Disc)}
        assert colours | fills <= {"#000", "#fff"}


def test_words_can_be_read_and_lie_on_no_other(plots):
    for plot in plots:
        texts = [mark for mark in plot.marks if isinstance(mark, Text) and mark.text]
        assert all(text.points >= SMALL for text in texts)
        for text in texts:
            left, top, right, bottom = text.rectangle
            assert 0 <= left < right <= WIDTH
            assert 0 <= top < bottom <= plot.height
        pairs = combinations(texts, 2)
        assert not [(a.text, b.text) for a, b in pairs if rectangles_meet(a.rectangle, b.rectangle)]


def test_curves_agree_with_the_figures_of_the_sheet():
    car = loaded(VAN[1])
    drawn, points = curves(car), operating_points(car)
    figures = performance(car, points)
    at = {one.speed_rpm: one for one in drawn.sparks}
    assert [at[one.speed_rpm] for one in figures.sparks] == list(figures.sparks)
    assert max(drawn.heat_c.values()) == pytest.approx(figures.hottest_c)
    assert drawn.running[-1].battery_v == pytest.approx(figures.loaded_battery_v)
    assert drawn.idle[0].charge_a == pytest.approx(figures.idle_charge_a)
