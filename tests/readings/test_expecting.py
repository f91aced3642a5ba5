"""Expectations of a whole job: complete, traceable, quick."""

import json
from time import process_time

from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.documents.worksheet.reading_rows import readings_data
from upgrade_planner.documents.worksheet.sheet import sheet_view
from upgrade_planner.documents.worksheet.title_block import SheetOptions
from upgrade_planner.electrical.states import MEASURED
from upgrade_planner.planning.plan import plan_upgrade
from upgrade_planner.planning.state_readings import survey
from upgrade_planner.readings import defects, predicting
from upgrade_planner.readings.expecting import expectations

MOST_S = 2.0
"""Of processor time, for a pair on any machine in use."""


def test_every_reading_of_a_plan_is_computed(pair):
    assert set(pair.expected) == {reading.id for reading in pair.readings}
    assert all(expectation.after.expected for expectation in pair.expected.values())


def test_a_pair_is_quick(pair):
    before, after = pair.comparison.before, pair.comparison.after
    predicting._ranges.cache_clear()
    defects._moves_in.cache_clear()
    start = process_time()
    expectations([reading.point for reading in pair.readings], before, after)
    assert process_time() - start < MOST_S


def test_every_figure_on_the_sheet_stands_in_the_data(pair):
    """Rounded outwards from low and high; a row without a range says so in words."""
    view = sheet_view(pair, SheetOptions(date="2026-01-01", with_record=True))
    data = readings_data(pair)
    names = {state.name for state in MEASURED}
    for row, datum in zip(view.record, data, strict=True):
        assert datum["operating_state"] in names
        assert set(datum["probes"]) == {"red", "black"}
        was, becomes = datum["before"], datum["after"]
        printed = [(row.predicted, becomes)]
        if row.before:
            printed.append((row.before, was))
        else:  # it tells nothing: not measured, or the same as after
            assert was is None or _overlap(was, becomes)
        for words, expected in printed:
            if expected is None:
                assert words.startswith("not ")
                continue
            low, high = _figures(words)
            step = 0.01 if max(abs(expected["low_v"]), abs(expected["high_v"])) < 1 else 0.1
            assert expected["low_v"] - step <= low <= expected["low_v"] + 1e-4
            assert expected["high_v"] - 1e-4 <= high <= expected["high_v"] + step


def _overlap(one, other):
    return one["low_v"] <= other["high_v"] and other["low_v"] <= one["high_v"]


def _figures(words):
    """Both ends of a range in words."""
    text = words.partition("\N{NO-BREAK SPACE}V")[0].replace("\N{MINUS SIGN}", "-")
    ends = [float(end) for end in text.split(" to ")]
    return ends[0], ends[-1]


def test_data_is_the_same_each_time(pair):
    again = plan_upgrade(load_configuration("van_as_found"), load_configuration("van_upgraded"))
    one, two = (json.dumps(readings_data(plan), sort_keys=True) for plan in (pair, again))
    assert one == two


def test_outside_words_begin_with_a_direction(pair):
    for told in readings_data(pair):
        assert told["if_not"].startswith(("Too low: ", "Too high: ")) or not told["if_not"]
        assert bool(told["look_if_low"]) == told["if_not"].startswith("Too low: ")
        assert bool(told["look_if_high"]) == ("Too high: " in told["if_not"])


def test_survey_of_one_state_has_only_that(load):
    seen = survey(load("van_upgraded"), "cranking")
    assert [state.name for state in seen.points] == ["cranking"]
    assert {reading.point.state for reading in seen.readings} == {"cranking"}
    assert set(seen.expected) == {reading.id for reading in seen.readings}
