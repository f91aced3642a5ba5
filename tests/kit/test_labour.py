"""Hours: sums over operations, setting up once a place, published figures as bounds."""

from itertools import pairwise

import pytest
from attrs import evolve
from drawn_once import of_each
from every_case import every_case
from generating import pairs
from pair_facts import planned, way_back_once
from shipped_pairs import SHIPPED_PAIRS

from upgrade_planner.comparison.results import Policy
from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.errors import ConfigurationError
from upgrade_planner.kit.harness import opened_looms_m
from upgrade_planner.kit.job_totals import job_totals
from upgrade_planner.kit.kinds_of_work import work_of
from upgrade_planner.kit.labour import is_opened, items_in_hand, labour
from upgrade_planner.kit.labour_table import (
    AgeAndFinds,
    Minutes,
    OwnFactors,
    added,
    read_labour_table,
    shipped_labour_table,
)
from upgrade_planner.kit.materials import consumption, totals
from upgrade_planner.kit.past_jobs import fitted_factors, read_past_jobs
from upgrade_planner.planning.operations import AttachEnd, CapWire, RemoveWire, RunWire
from upgrade_planner.planning.plan import plan_upgrade
from upgrade_planner.planning.standing_data import standing_step_ids


def close(one, other):
    return one.hours == pytest.approx(other.hours)


class TestMinutes:
    @every_case("wrong", [(2, 1, 3), (1, 3, 2), (-1, 0, 1)])
    def test_out_of_order_is_refused(self, wrong):
        with pytest.raises(ValueError, match="out of order"):
            Minutes(*wrong)

    def test_sum_and_factor(self):
        total = added([Minutes(1, 2, 3), Minutes(10, 20, 30)]).times(2)
        assert total == Minutes(22, 44, 66)
        assert total.hours == pytest.approx((22 / 60, 44 / 60, 66 / 60))


class TestPublished:
    """lab-002, lab-017: alternator, replace, 1.0 and 0.3 h; lab-006, 011, 019: starter."""

    @every_case(
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
    @of_each(60, pairs, policies=True)
    def test_the_total_is_the_sum_of_its_operations_and_places(self, pair, policy):
        plan = plan_upgrade(*pair, policy)
        for one in (plan, way_back_once(plan).plan):
            time = labour(one)
            assert [line.operation_id for line in time.lines] == [o.id for o in one.operations]
            opened = {op.place for op in one.operations if op.place and is_opened(op, one)}
            assert set(time.setting_up) == opened
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
        steps = shipped_labour_table().steps
        assert {*steps.longer, *steps.each} <= set(standing_step_ids())

    def test_the_key_is_turned_from_the_seat(self):
        plan = planned("van_upgraded", "van_isolator")
        assert any(op.place == "steering_column" for op in plan.operations)
        assert "steering_column" not in labour(plan).setting_up

    @every_case("pair", SHIPPED_PAIRS[::4])
    def test_minutes_of_laid_and_removed_wires_by_another_sum(self, pair):
        """Wires, metres and looms counted from the configurations, not from the operations."""
        plan, table = planned(*pair), shipped_labour_table()
        times, before, after = table.operations, plan.comparison.before, plan.comparison.after
        found = {line.operation_id: line.minutes.likely for line in labour(plan).lines}
        for op in plan.operations:
            is_run = isinstance(op, RunWire)
            if not isinstance(op, RunWire | RemoveWire):
                continue
            run = (after if is_run else before).runs[op.wire.id]
            each, metre = (
                (times.run_wire, times.run_metre)
                if is_run
                else (times.take_out_wire, times.take_out_metre)
            )
            bare = each.likely + metre.likely * run.length_m * (1.2 if run.in_loom else 1)
            place = before.place_by_id.get(op.place) or after.place_by_id[op.place]
            loom = (times.open_loom_metre + times.close_loom_metre).likely
            extra = found[op.id] / table.access.at(place) - bare
            assert extra >= -1e-9
            assert extra <= loom * sum(r.length_m for r in {*after.routes, *before.routes}) + 1e-9
        opened = sum(m.quantity for m in _tape(plan))
        assert bool(opened) == any(length for length in opened_looms_m(plan).values())


def _tape(plan):
    return [m for found in consumption(plan).values() for m in found if m.article.sort == "tape"]


class TestProportion:
    """What an honest shop would take; the ceilings: common practice."""

    @every_case(
        ("before", "after", "most_h"),
        [
            ("van_upgraded", "van_isolator", 2.5),
            ("tractor_upgraded", "tractor_isolator", 2.5),
            ("van_upgraded", "van_voltmeter", 2.6),
            ("truck_as_found", "truck_straps_renewed", 4.5),
        ],
    )
    def test_small_jobs_are_short(self, before, after, most_h):
        plan = planned(before, after)
        _, likely, _ = labour(plan).total.hours
        assert likely <= most_h

    @every_case("pair", SHIPPED_PAIRS[::5])
    def test_recording_grows_with_what_is_in_hand(self, pair):
        plan, table = planned(*pair), shipped_labour_table()
        code = "procedure:compare-vehicle"
        (minutes,) = (line.minutes for line in labour(plan).lines if line.operation_id == code)
        step, each = table.steps.longer["compare-vehicle"], table.steps.each["compare-vehicle"]
        assert minutes == step + each.times(len(items_in_hand(plan)))

    def test_what_is_in_hand_are_wires_and_parts_that_change_or_come_off(self):
        held = items_in_hand(planned("van_upgraded", "van_isolator"))
        assert {"isolator", "isolator-cable", "battery-ground", "body-ground"} <= held
        assert len(held) <= 6


class TestLooms:
    def test_pulling_wires_out_of_a_loom_takes_longer_than_capping_them(self):
        """Four wires in one taped loom: opened, pulled and wound again, against two caps each."""
        before, after = "van_original_resistance", "van_upgraded"
        kept = planned(before, after)
        pulled = planned(before, after, Policy.CLEAN)
        capped = {op.wire.id for op in kept.operations if isinstance(op, CapWire)}
        assert capped
        time = {
            name: sum(
                line.minutes.likely
                for op, line in zip(plan.operations, labour(plan).lines, strict=True)
                if getattr(op, "wire", None) and op.wire.id in capped
                if isinstance(op, CapWire | RemoveWire)
            )
            for name, plan in (("kept", kept), ("pulled", pulled))
        }
        assert time["pulled"] > time["kept"]


class TestOwnTimes:
    def test_a_factor_multiplies_its_kind_of_work_alone(self):
        plan, table = planned("van_upgraded", "van_isolator"), shipped_labour_table()
        own = evolve(table, own=OwnFactors(testing=1.5))
        for op, one, two in zip(
            plan.operations, labour(plan, table).lines, labour(plan, own).lines, strict=True
        ):
            factor = 1.5 if work_of(op) == "testing" else 1.0
            assert two.minutes.likely == pytest.approx(factor * one.minutes.likely)

    def test_few_past_jobs_change_little_and_many_decide(self):
        factors = [fitted_factors({"wiring": [2.0] * n})["wiring"] for n in (0, 1, 4, 100)]
        assert factors == sorted(factors)
        assert factors[0] == 1
        assert factors[1] < 1.35
        assert factors[3] == pytest.approx(2, abs=0.07)

    def test_one_job_done_in_half_and_one_in_twice_the_time_change_nothing(self):
        found = fitted_factors({"wiring": [2.0, 0.5]})
        assert all(factor == pytest.approx(1) for factor in found.values())

    @pytest.mark.parametrize("text", ["job;work;planned;real\nA;wiring;2,5;5\n"])
    def test_a_list_of_past_jobs_beside_the_table_is_used(self, tmp_path, text):
        (tmp_path / "past.csv").write_text(text, encoding="cp1252")
        shipped = shipped_folder("profiles") / "shop" / "labour.toml"
        table = shipped.read_text(encoding="utf-8").replace("[own]", '[own]\nhistory = "past.csv"')
        (tmp_path / "labour.toml").write_text(table, encoding="utf-8")
        own = read_labour_table(tmp_path / "labour.toml").own
        assert own.wiring == pytest.approx(fitted_factors({"wiring": [2.0]})["wiring"])

    @every_case(
        ("row", "found"),
        [
            ("A,wood,2,3", "'wood'"),
            ("A,wiring,0,3", "'0'"),
            ("A,wiring,two,3", "'two'"),
            ("A,wiring,1,9", "9 times"),
            ("A,wiring,2,=1+1", "'=1+1'"),
        ],
    )
    def test_a_faulty_row_is_told(self, tmp_path, row, found):
        path = tmp_path / "past.csv"
        path.write_text(f"job,work,planned,real\n{row}\n")
        with pytest.raises(ConfigurationError, match=r"past\.csv:2") as caught:
            read_past_jobs(path)
        assert found in caught.value.problems[0].found


class TestCommonFactor:
    def test_its_spread_follows_age_and_finds(self):
        table = shipped_labour_table().old_vehicle
        highs = [
            table.factor_of(AgeAndFinds(finds=finds, age_years=age))[2]
            for finds, age in ((0, None), (0, 10), (0, 60), (3, 60), (999, 60))
        ]
        assert highs[0] == highs[1] < highs[2] < highs[3] < highs[4] == table.most

    @every_case(("before", "after"), SHIPPED_PAIRS)
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
