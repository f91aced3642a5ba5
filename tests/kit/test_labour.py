"""Hours: sums over operations, setting up once a place, published figures as bounds."""

from itertools import pairwise

import pytest
from generating import pairs
from hypothesis import given, settings
from hypothesis import strategies as st
from pair_facts import planned
from shipped_pairs import SHIPPED_PAIRS

from upgrade_planner.comparison.results import Policy
from upgrade_planner.kit.job_totals import job_totals
from upgrade_planner.kit.labour import labour
from upgrade_planner.kit.labour_table import Minutes, added, shipped_labour_table
from upgrade_planner.kit.materials import consumption, totals
from upgrade_planner.planning.operations import AttachEnd
from upgrade_planner.planning.plan import plan_upgrade
from upgrade_planner.planning.standing_data import standing_step_ids
from upgrade_planner.planning.way_back import way_back


def close(one, other):
    return one.hours == pytest.approx(other.hours)


class TestMinutes:
    @pytest.mark.parametrize("wrong", [(2, 1, 3), (1, 3, 2), (-1, 0, 1)])
    def test_out_of_order_is_refused(self, wrong):
        with pytest.raises(ValueError, match="out of order"):
            Minutes(*wrong)

    def test_sum_and_factor(self):
        total = added([Minutes(1, 2, 3), Minutes(10, 20, 30)]).times(2)
        assert total == Minutes(22, 44, 66)
        assert total.hours == pytest.approx((22 / 60, 44 / 60, 66 / 60))


class TestPublished:
    """lab-002, lab-017: alternator, replace, 1.0 and 0.3 h; lab-006, 011, 019: starter."""

    @pytest.mark.parametrize(
        ("kind", "least_h", "most_h"),
        [
            ("alternator_external_regulator", 0.3, 1.0),
            ("alternator_internal_regulator", 0.3, 1.0),
            ("starter", 0.5, 1.0),
        ],
    )
    def test_replacing_spans_the_published_hours(self, kind, least_h, most_h):
        table = shipped_labour_table()
        low, likely, high = added([table.taking_off(kind), table.fitting(kind)]).hours
        assert (low, high) == pytest.approx((least_h, most_h))
        assert least_h < likely < most_h

    def test_other_parts_span_the_published_hours(self):
        """lab-013: starting aid, replace, 0.4 h: a part without a table of its own."""
        table = shipped_labour_table()
        low, _, high = added([table.taking_off("relay"), table.fitting("relay")]).hours
        assert low < 0.4 < high

    def test_one_inspection_spans_the_published_hours(self):
        """lab-001, 005, 009, 014: inspect, 0.1 h: a hold point."""
        low, _, high = shipped_labour_table().steps.hold.hours
        assert low < 0.1 < high


class TestPlans:
    @given(pairs(), st.sampled_from(list(Policy)))
    @settings(max_examples=60)
    def test_the_total_is_the_sum_of_its_operations_and_places(self, pair, policy):
        plan = plan_upgrade(*pair, policy)
        for one in (plan, way_back(plan).plan):
            time = labour(one)
            assert [line.operation_id for line in time.lines] == [o.id for o in one.operations]
            assert set(time.setting_up) == {op.place for op in one.operations if op.place}
            assert close(
                time.total,
                added(line.minutes for line in time.lines) + added(time.setting_up.values()),
            )
            assert all(line.minutes.low > 0 for line in time.lines)

    def test_nothing_to_do_takes_no_time(self, load):
        van = load("van_upgraded")
        assert labour(plan_upgrade(van, van)).total == Minutes()

    def test_access_makes_the_same_work_longer(self):
        plan = planned("van_original_resistance", "van_upgraded")
        lines = {line.operation_id: line.minutes for line in labour(plan).lines}
        places = plan.comparison.before.place_by_id
        table = shipped_labour_table()
        times = table.operations
        made = [op for op in plan.operations if isinstance(op, AttachEnd) and op.remade]
        assert made
        spaces = {places[op.place].space for op in made}
        assert {"engine", "cabin"} <= spaces
        for op in made:
            factor = table.access.at(places[op.place])
            assert lines[op.id] == (times.attach_end + times.make_end).times(factor)

    def test_setting_up_counts_once_however_often_one_comes_back(self):
        plan = planned("van_original_resistance", "van_upgraded")
        visits = [op.place for op in plan.operations if op.place]
        comes_back = len([p for p, q in pairwise(visits) if p != q]) + 1
        time = labour(plan)
        assert comes_back > len(time.setting_up)
        for place, minutes in time.setting_up.items():
            assert minutes == shipped_labour_table().setting_up.at(
                plan.comparison.before.place_by_id[place]
            )

    def test_every_named_standing_step_exists(self):
        assert set(shipped_labour_table().steps.longer) <= set(standing_step_ids())

    @pytest.mark.parametrize(("before", "after"), SHIPPED_PAIRS)
    def test_two_plans_take_what_each_of_them_takes(self, before, after):
        plan = planned(before, after)
        one, two = job_totals([plan]), job_totals([plan, plan])
        assert two.steps == 2 * one.steps
        assert two.cable_m == pytest.approx(2 * one.cable_m)
        assert (two.parts, two.terminals) == (2 * one.parts, 2 * one.terminals)
        assert two.minutes.likely == pytest.approx(2 * one.minutes.likely)

    def test_totals_are_those_of_the_parts_list(self):
        plan = planned("van_original_resistance", "van_upgraded")
        listed = totals(m for found in consumption(plan).values() for m in found)
        made = job_totals([plan])
        cable = [m.quantity for m in listed if m.article.shelf == "cable"]
        assert made.cable_m == pytest.approx(float(sum(cable)))
        bought = ("parts", "protection")
        assert made.parts == sum(m.quantity for m in listed if m.article.shelf in bought)
        assert made.terminals == sum(m.quantity for m in listed if m.article.shelf == "terminals")
