"""What must hold for every plan, over generated configurations and the shipped pairs."""

import pytest
from drawn_once import of_each
from generating import pairs
from pair_facts import planned
from proving import assert_ordered, assert_reaches
from shipped_pairs import SHIPPED_PAIRS

from upgrade_planner.comparison.part_changes import PartDisposition
from upgrade_planner.comparison.results import Policy
from upgrade_planner.comparison.wire_changes import FromVehicle, IntoTarget
from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.planning.operations import (
    AttachEnd,
    CapWire,
    DetachEnd,
    ends_joined,
    ends_taken_off,
)
from upgrade_planner.planning.plan import plan_upgrade


class TestGenerated:
    @of_each(120, pairs, policies=True)
    def test_plan_leads_from_before_to_after(self, pair, policy):
        plan = plan_upgrade(*pair, policy)
        assert_reaches(plan)
        assert_ordered(plan)

    @of_each(60, pairs, policies=True)
    def test_reverse_plan_leads_back(self, pair, policy):
        before, after = pair
        assert_reaches(plan_upgrade(after, before, policy))

    @of_each(40, pairs)
    def test_same_configuration_needs_nothing(self, pair):
        plan = plan_upgrade(pair[0], pair[0])
        assert plan.operations == ()
        assert plan.comparison.is_empty

    @of_each(60, pairs)
    def test_clean_policy_leaves_nothing_dead_behind(self, pair):
        plan = plan_upgrade(*pair, Policy.CLEAN)
        assert not any(isinstance(op, CapWire) for op in plan.operations)

    @of_each(60, pairs)
    def test_every_wire_stands_once_in_the_comparison(self, pair):
        before, after = pair
        comparison = plan_upgrade(before, after).comparison
        olds = [c.before.id for c in comparison.wires if isinstance(c, FromVehicle)]
        news = [c.after.id for c in comparison.wires if isinstance(c, IntoTarget)]
        assert sorted(olds) == sorted(w.id for w in before.wires)
        assert sorted(news) == sorted(w.id for w in after.wires)

    @of_each(60, pairs)
    def test_battery_ground_is_off_first_and_on_last(self, pair):
        plan = plan_upgrade(*pair)
        moves = [one for op in plan.operations for one in (*ends_taken_off(op), *ends_joined(op))]
        old, new = (
            TerminalRef("battery", one.vehicle.ground)
            for one in (plan.comparison.before, plan.comparison.after)
        )
        off = [op for op in moves if isinstance(op, DetachEnd) and op.end == old]
        on = [op for op in moves if isinstance(op, AttachEnd) and op.end == new]
        if off:
            assert moves[: len(off)] == off
        if on:
            assert moves[-len(on) :] == on


@pytest.mark.parametrize("policy", list(Policy))
@pytest.mark.parametrize(("before", "after"), SHIPPED_PAIRS)
class TestShipped:
    def test_plan_leads_from_before_to_after(self, before, after, policy):
        plan = planned(before, after, policy)
        assert_reaches(plan)
        assert_ordered(plan)

    def test_parts_that_leave_come_out_once(self, before, after, policy):
        plan = planned(before, after, policy)
        gone = [
            c.role
            for c in plan.comparison.parts
            if c.disposition in (PartDisposition.REMOVE, PartDisposition.REPLACE)
            and c.part.kind != "splice"
        ]
        removed = [op.id for op in plan.operations if op.id.startswith("remove-part:")]
        assert sorted(removed) == sorted(f"remove-part:{role}" for role in gone)
