"""Proofs that a plan does what it is for; several tests use them."""

from carrying_out import carried_out

from upgrade_planner.comparison.reuse import shortfalls
from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.planning.operations import Phase, Procedure, Side, ends_joined
from upgrade_planner.planning.simulation import state_of


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
    assert capped == {wire.id for wire in plan.comparison.capped_wires}
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
        one.conductor
        for op in plan.operations
        if op.phase is Phase.RECONNECT
        for one in ends_joined(op)
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
        repr((c.disposition, [wire(w) for w in c.wires], wire(c.capped_wire)))
        for c in comparison.wires
    )
