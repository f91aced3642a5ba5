"""What must hold for every plan, over generated configurations and the shipped pairs."""

import pytest
from generating import pairs
from hypothesis import given, settings
from hypothesis import strategies as st
from shipped_pairs import SHIPPED_PAIRS

from upgrade_planner.comparison.results import Disposition, PartDisposition, Policy
from upgrade_planner.comparison.reuse import shortfalls
from upgrade_planner.planning.operations import (
    AttachEnd,
    CapWire,
    DetachEnd,
    Phase,
    Procedure,
    Side,
)
from upgrade_planner.planning.plan import plan_upgrade
from upgrade_planner.planning.simulation import carried_out, state_of

POLICIES = st.sampled_from(list(Policy))


def assert_reaches(plan):
    """Carrying the plan out gives AFTER, wire for wire, plus capped wires joined to nothing."""
    before, after = plan.comparison.before, plan.comparison.after
    state = carried_out(before, after, plan.operations)
    live = {key: s for key, s in state.conductors.items() if not s.capped}
    in_use = (Disposition.KEEP, Disposition.MOVE)
    successor = {c.before.id: c.after.id for c in plan.comparison.wires if c.disposition in in_use}
    names = {key: successor[key.wire_id] if key.side is Side.OLD else key.wire_id for key in live}
    assert sorted(names.values()) == sorted(w.id for w in after.wires)
    for key, conductor in live.items():
        wanted = after.wire_by_id[names[key]]
        assert conductor.joined == set(wanted.ends)
        if key.side is Side.NEW:
            assert conductor.wire == wanted
        else:
            assert shortfalls(before.wire_by_id[key.wire_id], wanted) == ()
    capped = {key.wire_id for key, s in state.conductors.items() if s.capped}
    assert all(not s.joined for s in state.conductors.values() if s.capped)
    expected = {
        c.before.id
        for c in plan.comparison.wires
        if c.disposition is Disposition.CAP_OFF or c.old_stays
    }
    assert capped == expected
    wanted_parts = {p.role: p.kind for p in after.components if p.kind != "splice"}
    fitted = {role: kind for role, kind in state.parts.items() if kind != "splice"}
    assert fitted == wanted_parts


def assert_ordered(plan):
    """No step before one it waits for; phases in their order; no bare end at a late hold."""
    position = {op.id: i for i, op in enumerate(plan.operations)}
    assert len(position) == len(plan.operations)
    for operation in plan.operations:
        for dependency in operation.after:
            if dependency.operation_id in position:
                assert position[dependency.operation_id] < position[operation.id]
    phases = [op.phase for op in plan.operations]
    assert phases == sorted(phases)
    state = state_of(plan.comparison.before, plan.comparison.after)
    battery = {
        op.conductor
        for op in plan.operations
        if isinstance(op, AttachEnd) and op.phase is Phase.RECONNECT
    }
    for operation in plan.operations:
        state.carry_out(operation)
        late = operation.phase >= Phase.TEST_DEAD
        if late and isinstance(operation, Procedure) and operation.hold:
            assert set(state.bare_conductors()) <= battery


def facts(comparison):
    """A comparison without names: what happens to which conductor between which ends."""

    def wire(w):
        return w and (frozenset(w.ends), w.size.label, w.conductor, w.colour.code, w.circuit)

    return sorted(
        repr((c.disposition, wire(c.before), wire(c.after), c.old_stays)) for c in comparison.wires
    )


class TestGenerated:
    @given(pairs(), POLICIES)
    @settings(max_examples=120)
    def test_plan_leads_from_before_to_after(self, pair, policy):
        plan = plan_upgrade(*pair, policy)
        assert_reaches(plan)
        assert_ordered(plan)

    @given(pairs(), POLICIES)
    @settings(max_examples=60)
    def test_reverse_plan_leads_back(self, pair, policy):
        before, after = pair
        assert_reaches(plan_upgrade(after, before, policy))

    @given(pairs())
    @settings(max_examples=40)
    def test_same_configuration_needs_nothing(self, pair):
        plan = plan_upgrade(pair[0], pair[0])
        assert plan.operations == ()
        assert plan.comparison.is_empty

    @given(pairs())
    @settings(max_examples=60)
    def test_clean_policy_leaves_nothing_dead_behind(self, pair):
        plan = plan_upgrade(*pair, Policy.CLEAN)
        assert not any(isinstance(op, CapWire) for op in plan.operations)

    @given(pairs())
    @settings(max_examples=60)
    def test_every_wire_stands_once_in_the_comparison(self, pair):
        before, after = pair
        comparison = plan_upgrade(before, after).comparison
        olds = [c.before.id for c in comparison.wires if c.before]
        news = [c.after.id for c in comparison.wires if c.after]
        assert sorted(olds) == sorted(w.id for w in before.wires)
        assert sorted(news) == sorted(w.id for w in after.wires)

    @given(pairs())
    @settings(max_examples=60)
    def test_battery_ground_is_off_first_and_on_last(self, pair):
        plan = plan_upgrade(*pair)
        grounded = plan.comparison.before.vehicle.ground
        moves = [op for op in plan.operations if isinstance(op, AttachEnd | DetachEnd)]
        at_post = [op for op in moves if op.end.role == "battery" and op.end.terminal == grounded]
        off = [op for op in at_post if isinstance(op, DetachEnd)]
        on = [op for op in at_post if isinstance(op, AttachEnd)]
        if off:
            assert moves[: len(off)] == off
        if on:
            assert moves[-len(on) :] == on


@pytest.mark.parametrize("policy", list(Policy))
@pytest.mark.parametrize(("before", "after"), SHIPPED_PAIRS)
class TestShipped:
    def test_plan_leads_from_before_to_after(self, load, before, after, policy):
        plan = plan_upgrade(load(before), load(after), policy)
        assert_reaches(plan)
        assert_ordered(plan)

    def test_parts_that_leave_come_out_once(self, load, before, after, policy):
        plan = plan_upgrade(load(before), load(after), policy)
        gone = [
            c.role
            for c in plan.comparison.parts
            if c.disposition in (PartDisposition.REMOVE, PartDisposition.REPLACE)
            and c.part.kind != "splice"
        ]
        removed = [op.id for op in plan.operations if op.id.startswith("remove-part:")]
        assert sorted(removed) == sorted(f"remove-part:{role}" for role in gone)
