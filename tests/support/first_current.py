"""Proof that the first current flows through the test lamp, from the graph of joints alone."""

from collections import defaultdict

from carrying_out import carried_out

from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.planning.operations import Side, ends_joined, ends_taken_off


def assert_first_current_through_lamp(plan):
    """
    As the test lamp hangs, all joints are made but those of the grounded end of the batteries; they
    are the last ones. It hangs at that post, and until then no loose end is live.
    """
    after, operations = plan.comparison.after, plan.operations
    posts = grounded_ends(after)
    lamp = next(i for i, op in enumerate(operations) if op.id == "procedure:hold-test-lamp")
    done = operations[: lamp + 1]
    state = carried_out(plan.comparison.before, after, done, plan.comparison.spares)
    missing = missing_joints(plan, state)
    grounded = {(w.id, end) for w in after.wires for end in w.ends if end in posts}
    assert missing <= grounded
    assert missing == {(name, end) for name, end in grounded if not _links(name, posts, after)}
    last = [one for op in operations[lamp:] for one in ends_joined(op)]
    assert {(op.wire.id, op.end) for op in last} == missing
    if missing:
        assert operations[lamp].place in {after.component(end.role).place for _, end in missing}
    _assert_made_safe(plan, lamp)


def _assert_made_safe(plan, lamp):
    """What is grounded comes off first; from then until the lamp hangs no loose end is live."""
    before, after = plan.comparison.before, plan.comparison.after
    posts = grounded_ends(before)
    grounded = {(w.id, end) for w in before.wires for end in w.ends if end in posts}
    first = {(name, end) for name, end in grounded if not _links(name, posts, before)}
    moves = [
        (index, one)
        for index, op in enumerate(plan.operations)
        for one in (*ends_taken_off(op), *ends_joined(op))
    ]
    assert {(one.wire.id, one.end) for _, one in moves[: len(first)]} == first
    safe = moves[len(first) - 1][0] + 1 if first else 0
    batteries = {p.role for c in (before, after) for p in c.components if p.kind == "battery"}
    state = carried_out(before, after, plan.operations[:safe], plan.comparison.spares)
    joints = None
    for operation in plan.operations[safe:lamp]:
        state.carry_out(operation)
        before, joints = joints, _joints(state)
        if joints != before:  # most of the work joins and parts nothing
            assert live_loose_ends(state, batteries) == [], operation.id


def _joints(state):
    """What is joined where, and what is capped."""
    return [(key, {*c.joined}, c.capped) for key, c in state.conductors.items()]


def grounded_ends(configuration):
    """Posts on the grounded side that no cable joins to the other side of another battery."""
    ground = configuration.vehicle.ground
    roles = {part.role for part in configuration.components if part.kind == "battery"}
    posts = {TerminalRef(role, ground) for role in roles}
    return {
        post
        for post in posts
        if not any(
            ref.role in roles - {post.role} and ref.terminal != ground
            for ref in _along_cables(post, configuration)
        )
    }


def _along_cables(start, configuration):
    found = [start]
    for ref in found:
        kind = configuration.component(ref.role).kind
        if kind == "ground_point":
            continue
        inside = kind in ("junction", "splice", "switch", "fuse", "breaker")
        for wire in configuration.wires:
            for near, far in (wire.ends, wire.ends[::-1]):
                if far not in found and (near == ref or (inside and near.role == ref.role)):
                    found.append(far)
    return found


def _links(wire_id, posts, configuration):
    return set(configuration.wire_by_id[wire_id].ends) <= posts


def missing_joints(plan, state):
    """Joints of the target, as wire id and terminal, that are not made yet."""
    in_use = (Disposition.KEEP, Disposition.MOVE)
    old = {c.after.id: c.before.id for c in plan.comparison.wires if c.disposition in in_use}
    joined = {
        (key.wire_id if key.side is not Side.OLD else f"old {key.wire_id}", end)
        for key, conductor in state.conductors.items()
        for end in conductor.joined
    }
    return {
        (wire.id, end)
        for wire in plan.comparison.after.wires
        for end in wire.ends
        if (f"old {old[wire.id]}" if wire.id in old else wire.id, end) not in joined
    }


def live_loose_ends(state, batteries):
    """
    Wires with a loose end that has voltage against any part of the vehicle.

    Every part but a battery is taken to join all its terminals: it may be a closed contact.
    """
    loose = [c for c in state.conductors.values() if len(c.joined) == 1 and not c.capped]
    near = _Neighbours(state, batteries) if loose else None
    live = []
    for conductor in loose:
        levels = _levels(next(iter(conductor.joined)), near)
        if any(level for ref, level in levels.items() if ref.role not in batteries):
            live.append(conductor.wire.id)
    return live


class _Neighbours:
    """What each terminal is joined to in a state, with the step in voltage, in batteries."""

    def __init__(self, state, batteries):
        self.batteries = batteries
        self.by_wire, self.by_role = defaultdict(dict), defaultdict(dict)
        for conductor in state.conductors.values():
            if len(conductor.joined) == 2:
                joined = dict.fromkeys(conductor.joined, 0)
                for ref in joined:
                    self.by_wire[ref] |= joined
                    self.by_role[ref.role][ref] = 0

    def across(self, ref):
        """The other post of a battery, with the step to it."""
        other = {"positive": "negative", "negative": "positive"}[ref.terminal]
        return {TerminalRef(ref.role, other): 1 if other == "positive" else -1}


def _levels(start, near):
    """Each terminal that is joined to one, with the batteries between them counted with sign."""
    levels = {start: 0}
    queue, parts = [start], set()
    for ref in queue:
        ends = [*near.by_wire.get(ref, {}).items()]
        if ref.role in near.batteries:
            ends += near.across(ref).items()
        elif ref.role not in parts:  # the first terminal of a part leads to all others
            parts.add(ref.role)
            ends += near.by_role.get(ref.role, {}).items()
        for end, step in ends:
            if end not in levels:
                levels[end] = levels[ref] + step
                queue.append(end)
    return levels
