"""One limit, one expectation: what a good vehicle shows lies inside its printed limit."""

import random
from functools import cache

import pytest
from every_case import every_case
from pair_facts import compared, found, sized

from upgrade_planner.configuration.kinds import Family
from upgrade_planner.documents.words.standing import reading_words
from upgrade_planner.electrical.models import assumptions as assumed
from upgrade_planner.electrical.operating_points import operating_point
from upgrade_planner.electrical.states import LIT, LOADED, UNLOADED, position_of
from upgrade_planner.library.pairs import ready_pairs
from upgrade_planner.planning.facts import facts_of
from upgrade_planner.planning.standing_data import readings
from upgrade_planner.planning.state_readings import survey
from upgrade_planner.readings.predicting import METER_RATIO, Range, predicted

PAIRS = [(pair.before, pair.after) for pair in ready_pairs()]
TARGETS = sorted({after for _, after in PAIRS})


@cache
def surveyed(name):
    return survey(sized(name))


def limits_of(name):
    """The printed limits of a target, by reading."""
    return {reading.id: reading.limit for reading in surveyed(name).readings}


@every_case("name", TARGETS)
def test_a_good_target_lies_inside_every_printed_limit(name):
    outside = {r.id: shown for r, shown in shown_v(name) if not _allows(r.limit, shown)}
    assert not outside


def shown_v(name):
    """Readings with a limit, each with what it shows if nothing strays. [V]"""
    taken = surveyed(name)
    limited = [reading for reading in taken.readings if reading.limit]
    points = {state.name: point for state, point in taken.points.items() if point is not None}
    values = predicted([r.point for r in limited], taken.configuration, points, width=0)
    return [(reading, values[reading.id].nominal_v) for reading in limited]


def test_a_survey_tells_what_is_shown_if_nothing_strays():
    expected = surveyed("van_upgraded").expected
    shown = {reading.id: value_v for reading, value_v in shown_v("van_upgraded")}
    assert shown == {name: expected[name].nominal_v for name in shown}


def _allows(limit, value_v):
    least = float("-inf") if limit.min_v is None else limit.min_v
    most = float("inf") if limit.max_v is None else limit.max_v
    return least - 1e-9 <= value_v <= most + 1e-9


@every_case(("before", "after"), PAIRS)
def test_the_sheet_of_a_job_has_the_limits_of_its_target(before, after):
    on_paper = {r.id: r.limit for r in readings(facts_of(compared(before, after)), sized(after))}
    assert on_paper == {name: limits_of(after)[name] for name in on_paper}


@every_case("name", TARGETS)
def test_check_and_paper_judge_the_ground_side_of_the_starter_alike(name):
    """No finding where the reading passes; the limit of a finding is the printed one."""
    if limits_of(name)["starter-ground-path"] is not None:
        assert not {"GND-CRANKING", "STA-DROP-LIVE"} & {finding.code for finding in found(name)}


def test_an_isolator_in_the_ground_cable_has_the_share_of_a_switch():
    # TM 5-3820-256-24-4, p. 8: ground side 0.2 V, mechanical switch 0.1 V
    for name, most_v in (("van_upgraded", 0.2), ("van_isolator", 0.3)):
        limits = {r.id: r.limit for r in survey(sized(name), "cranking").readings}
        assert limits["starter-ground-path"].max_v == most_v, name


def test_bolted_joints_show_nothing_on_a_meter_while_cranking():
    # TM 5-3820-256-24-4, p. 8: each connection 0.0 V, that is less than 0.05 V; 250 A at most
    assert 250 * assumed.BOLTED_OHM < 0.05
    assert 4 * assumed.POINTS_OHM < 0.1 / 2  # NAVEDTRA 14329: 0.1 V with lead and ground


class TestRegulators:
    def test_the_voltage_unit_of_a_dynamo_is_tested_without_loads(self):
        states = {r.id: r.point.state for r in survey(sized("saloon_original")).readings}
        assert states["dynamo-voltage"] == UNLOADED.name

    def test_an_alternator_is_tested_with_lamps_on_and_the_heater_off(self):
        configuration = sized("van_upgraded")
        on = {
            part.role
            for part in configuration.parts_of(Family.SWITCH)
            if position_of(part, LIT, configuration) == position_of(part, LOADED, configuration)
            and position_of(part, LIT, configuration) != position_of(part, UNLOADED, configuration)
        }
        assert "lamp_switch" in on
        assert "heater_switch" not in on
        point = operating_point(configuration, LIT)
        assert abs(point.element_current_a("headlamp_left_low")) > 3
        assert abs(point.element_current_a("heater_blower:supply")) < 0.1

    def test_the_limit_is_told_at_three_temperatures(self):
        # TM 10-3930-621-12: 65, 86 and 125 °F
        taken = {r.id: r for r in survey(sized("van_upgraded"), "lit").readings}
        words = reading_words(taken["charging-voltage"], "us").limit.replace(
            "\N{NO-BREAK SPACE}", " "
        )
        assert words == (
            "13.9 to 14.7 V at 86 °F, 14.1 to 14.9 V at 65 °F, 13.5 to 14.3 V at 125 °F"
        )


class TestMeter:
    """A sound vehicle read with a sound meter lies inside its expected ranges."""

    def test_noise_of_the_meter_leaves_no_nominal_value_outside(self):
        chance = random.Random(7)
        taken = survey(sized("van_upgraded"))
        for _ in range(200):
            for expected in taken.expected.values():
                error = METER_RATIO * chance.uniform(-1, 1)
                assert expected.nominal_v * (1 + error) in expected

    def test_a_range_grows_by_one_per_cent_and_two_digits(self):
        low, high = Range(12.0, 13.0, 14.0).shown.ends
        assert (low, high) == pytest.approx((12 - 0.12 - 0.02, 14 + 0.14 + 0.02))
        low, high = Range(0.1, 0.15, 0.2).shown.ends  # on the 2 V range
        assert (low, high) == pytest.approx((0.1 - 0.003, 0.2 + 0.004))
