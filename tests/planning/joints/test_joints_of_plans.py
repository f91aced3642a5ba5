"""What meets at one terminal is one operation, holds there, and every end is joined once."""

from collections import Counter

import pytest
from drawn_once import of_each
from generating import pairs
from pair_facts import planned, way_back_once

from upgrade_planner.comparison.cut_links import LINK_CUT
from upgrade_planner.comparison.results import Policy
from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.configuration.end_fittings import Fastening, capacity_of
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Conductor, Joint
from upgrade_planner.documents.worksheet.phases import tick_means
from upgrade_planner.documents.worksheet.steps import StepWriter
from upgrade_planner.kit.materials import consumption
from upgrade_planner.library.pairs import ready_pairs
from upgrade_planner.planning.joints.loosening import UNDER_A_NUT
from upgrade_planner.planning.joints.meeting import connection_at
from upgrade_planner.planning.operations import (
    AttachEnd,
    JoinEnds,
    Phase,
    RemoveWire,
    TakeOffEnds,
    ends_joined,
    ends_taken_off,
)
from upgrade_planner.planning.plan import plan_upgrade
from upgrade_planner.planning.simulation import ImpossibleStep, state_of


def assert_joints_hold(plan):
    assert_each_end_once(plan)
    assert_one_operation_a_terminal(plan)
    assert_nothing_is_too_full(plan)
    assert_a_nut_is_loosened_once(plan)


def assert_each_end_once(plan):
    joined = [(one.conductor, one.end) for op in plan.operations for one in ends_joined(op)]
    off = [(one.conductor, one.end) for op in plan.operations for one in ends_taken_off(op)]
    assert len(joined) == len(set(joined))
    assert len(off) == len(set(off))


def assert_one_operation_a_terminal(plan):
    """One nut, one crimp; at a battery post the grounded cable is joined behind the lamp."""
    after = plan.comparison.after
    at = Counter((ends_joined(op)[0].end, op.phase) for op in plan.operations if ends_joined(op))
    for (end, _), count in at.items():
        is_post = after.component(end.role).family is Family.BATTERY
        assert count == 1 or (is_post and count == 2), end
    splices = Counter(end for end, _ in at if connection_at(end, after).joint is Joint.SPLICE)
    assert all(count == 1 for count in splices.values())


def assert_nothing_is_too_full(plan):
    for meeting in plan.meetings.values():
        clamps = [f for f in meeting.fittings if f.fastening is Fastening.CLAMP]
        is_post = meeting.connection.joint is Joint.POST
        assert len(clamps) == is_post
        capacity = capacity_of(meeting.connection)
        if meeting.connection.joint in (Joint.BLADE, Joint.BULLET):
            assert meeting.adapters <= capacity.adapters
            assert len(meeting.fittings) <= capacity.fittings + capacity.adapters
            assert all(len(f.wires) <= capacity.in_one for f in meeting.made)
        if meeting.connection.joint is Joint.SPLICE:
            assert len(meeting.fittings) == 1
            assert meeting.fittings[0].is_new


def assert_a_nut_is_loosened_once(plan):
    """In a phase; wires that are taken out come off a shared stud together with the others."""
    before = plan.comparison.before
    off = {(one.wire.id, one.end) for op in plan.operations for one in ends_taken_off(op)}
    times = Counter()
    for op in plan.operations:
        ends = {one.end for one in ends_taken_off(op)}
        if isinstance(op, RemoveWire):
            ends = {end for end in op.wire.ends if (op.wire.id, end) not in off}
        nuts = (end for end in ends if connection_at(end, before).joint in UNDER_A_NUT)
        times.update((op.phase, end) for end in nuts)
    assert max(times.values(), default=0) <= 1, times.most_common(1)


@pytest.mark.parametrize("pair", ready_pairs(), ids=lambda pair: f"{pair.before}-{pair.after}")
def test_joints_of_ready_pairs(pair):
    plan = planned(pair.before, pair.after)
    assert_joints_hold(plan)
    assert_joints_hold(way_back_once(plan).plan)


@of_each(40, pairs)
def test_joints_of_generated_pairs(pair):
    for policy in Policy:
        plan = plan_upgrade(*pair, policy)
        assert_each_end_once(plan)
        assert_one_operation_a_terminal(plan)


def joining(plan, end):
    """The operations that join wires at a terminal, or at the only one of a part."""
    return [op for op in plan.operations if any(end in (str(ref), ref.role) for ref in at(op))]


def at(operation):
    return {one.end for one in ends_joined(operation)}


class TestVan:
    @pytest.fixture
    def plan(self):
        return planned("van_original_resistance", "van_upgraded")

    def test_a_shared_stud_is_tightened_once_with_the_thickest_at_the_bottom(self, plan):
        (joined,) = joining(plan, "main_junction.stud")
        assert [one.wire.id for one in joined.ends] == [
            "battery-main",
            "charge-output",
            "link",
            "sensing-link",
        ]
        fittings = plan.meetings[joined.id].fittings
        areas = [f.wires[0].size.area_mm2 for f in fittings]
        assert areas == sorted(areas, reverse=True)
        assert all(f.is_new for f in fittings)

    def test_a_splice_waits_for_all_its_wires(self, plan):
        (joined,) = joining(plan, "battery_link_joint")
        assert isinstance(joined, JoinEnds)
        position = {op.id: i for i, op in enumerate(plan.operations)}
        for one in joined.ends:
            assert position[f"run-wire:{one.wire.id}"] < position[joined.id]
        sorts = [m.article.sort for m in consumption(plan)[joined.id]]
        assert sorts.count("crimp splice") == 1

    def test_a_second_wire_at_a_post_gets_a_ring_under_the_clamp_bolt(self, plan):
        (joined,) = joining(plan, "battery.positive")
        assert [f.fastening for f in plan.meetings[joined.id].fittings] == [
            Fastening.CLAMP,
            Fastening.BOLT_RING,
        ]
        articles = {m.article for m in consumption(plan)[joined.id]}
        assert "battery clamp" not in {one.sort for one in articles}
        (ring,) = [one for one in articles if one.sort == "ring terminal"]
        assert ring.trait("stud") == "5/16 in"

    def test_a_terminal_is_loosened_once(self, plan):
        (off,) = [op for op in plan.operations if isinstance(op, TakeOffEnds) and op.phase == "A"]
        assert {one.wire.id for one in off.ends} == {"battery-ground", "body-ground"}


class TestBlades:
    def test_a_new_wire_beside_a_kept_one_takes_an_adapter(self):
        plan = planned("roadster_original", "roadster_trigger")
        (joined,) = joining(plan, "start_interlock.out")
        meeting = plan.meetings[joined.id]
        assert len(meeting.fittings) == 1 + meeting.adapters

    def test_no_clamp_has_a_coded_barrel(self):
        for pair in ready_pairs():
            for found in consumption(planned(pair.before, pair.after)).values():
                for material in found:
                    if material.article.sort == "battery clamp":
                        assert "plain barrel" in material.article.trait("barrel")


class TestDischargeUnit:
    @pytest.fixture
    def plan(self):
        return planned("van_original_ballast", "van_discharge_unit")

    def test_its_return_goes_on_last(self, plan):
        (joined,) = joining(plan, "battery.negative")
        assert [one.wire.id for one in joined.ends][-1] == "unit-return"

    def test_its_return_comes_off_first(self, plan):
        back = way_back_once(plan).plan
        off = next(op for op in back.operations if ends_taken_off(op))
        assert isinstance(off, TakeOffEnds)
        assert next(one.wire.id for one in off.ends) == "unit-return"


class TestSimulation:
    @pytest.fixture
    def plan(self):
        return planned("van_original_resistance", "van_upgraded")

    def carried(self, plan, stop):
        state = state_of(plan.comparison.before, plan.comparison.after)
        for operation in plan.operations:
            if operation.id == stop.id:
                return state
            state.carry_out(operation)
        raise AssertionError(stop.id)

    def test_a_splice_that_is_closed_takes_no_further_wire(self, plan):
        (joined,) = joining(plan, "battery_link_joint")
        first, second = joined.ends
        state = self.carried(plan, joined)
        state.carry_out(first)
        with pytest.raises(ImpossibleStep, match="closed"):
            state.carry_out(second)

    def test_a_nut_is_not_tightened_twice_in_a_phase(self, plan):
        (joined,) = joining(plan, "main_junction.stud")
        first, second, *_ = joined.ends
        state = self.carried(plan, joined)
        state.carry_out(first)
        assert isinstance(first, AttachEnd)
        assert second.phase is Phase.RUN_WIRES
        with pytest.raises(ImpossibleStep, match="twice"):
            state.carry_out(second)


class TestLinks:
    """A link that is cut out of a splice is too short: it is renewed, and hangs free."""

    @pytest.fixture
    def plan(self):
        return planned("van_original_resistance", "van_upgraded")

    def test_a_link_at_a_splice_that_is_made_anew_is_renewed(self, plan):
        (change,) = [c for c in plan.comparison.wires if c.mark == "link"]
        assert change.disposition is Disposition.RENEW
        (piece,) = [m for m in consumption(plan)["run-wire:link"] if m.article.shelf == "cable"]
        assert piece.article.sort == "fusible link"

    def test_so_it_is_on_the_way_back(self, plan):
        back = way_back_once(plan).plan
        (change,) = [
            c for c in back.comparison.wires if c.mark == "link" and c.disposition == "add"
        ]
        assert change.reasons == (LINK_CUT,)

    def test_a_link_stays_where_its_splice_is_not_touched(self):
        comparison = planned("van_upgraded", "van_headlamp_relays").comparison
        links = {
            c.mark: c.disposition for c in comparison.wires if c.wire.conductor is Conductor.LINK
        }
        assert links["link"] is Disposition.KEEP
        assert links["sensing-link"] is Disposition.MOVE
        plan = planned("van_upgraded", "van_headlamp_relays")
        assert not joining(plan, "sensing_joint")

    def test_the_rules_stand_at_the_head_of_its_phase(self, plan):
        step = next(s for s in plan.steps if s.operation.id == "run-wire:link").operation
        means = " ".join(tick_means(step.phase, "metric", operations=[step]))
        assert "hanging free and straight" in means
        assert "at most 225" in means
        assert "never lengthened, never of plain wire" in means

    def test_the_old_one_is_cut_out(self, plan):
        step = next(s for s in plan.steps if s.operation.id == "remove-wire:link")
        words = StepWriter(plan, "metric").step(step.number, step.operation)
        assert any("Cut it out of the link joint" in line for line in words.details)

    def test_it_takes_neither_ties_nor_tape(self, plan):
        taken = {m.article.sort for m in consumption(plan)["run-wire:link"]}
        assert not taken & {"tie", "tape", "clamp", "sleeve"}
