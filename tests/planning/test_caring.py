"""What was found worn is looked after, renewed or taken out before it is joined."""

import pytest
from attrs import evolve
from chains import carried_on, vehicle_of
from every_case import every_case
from pair_facts import planned, sized

from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.configuration.conditions import Condition
from upgrade_planner.kit.materials import consumption
from upgrade_planner.planning.operations import (
    CareForPart,
    CareForWire,
    FindCause,
    Phase,
    RunWire,
    ends_joined,
    ends_taken_off,
)
from upgrade_planner.planning.plan import plan_upgrade
from upgrade_planner.planning.way_back import way_back

BEFORE, AFTER = "pickup_as_found", "pickup_upgraded"


def worn(conditions, name=BEFORE):
    """A shipped configuration in which wires and parts are in these conditions."""
    before = sized(name)
    return evolve(
        before,
        digest=str(sorted(conditions.items())),
        wires=tuple(evolve(w, condition=conditions.get(w.id, ())) for w in before.wires),
        components=tuple(
            evolve(p, condition=conditions.get(p.role, ())) for p in before.components
        ),
    )


def plan_of(conditions):
    return plan_upgrade(worn(conditions), sized(AFTER))


def positions(plan, of):
    return [i for i, operation in enumerate(plan.operations) if of(operation)]


def handles(ends, wire_id):
    return any(end.wire.id == wire_id for end in ends)


def disposition(plan, wire_id):
    return next(c.disposition for c in plan.comparison.wires if c.mark == wire_id)


def taken(plan, wire_id):
    return [
        (material.article.sort, material.quantity)
        for found in consumption(plan).values()
        for material in found
        if wire_id in material.wires
    ]


@pytest.fixture(scope="module")
def corroded():
    return plan_of({"battery-ground": (Condition.CORRODED,)})


class TestCorrodedEnds:
    def test_both_ends_come_off_are_cared_for_and_joined_with_new_terminals(self, corroded):
        off = positions(corroded, lambda o: handles(ends_taken_off(o), "battery-ground"))
        (care,) = positions(corroded, lambda o: isinstance(o, CareForWire))
        on = positions(corroded, lambda o: handles(ends_joined(o), "battery-ground"))
        assert len(off) == len(on) == 2
        assert max(off) < care < min(on)
        ends = [end for i in on for end in ends_joined(corroded.operations[i])]
        assert all(end.remade for end in ends if end.wire.id == "battery-ground")

    def test_the_kit_has_its_terminals(self, corroded):
        sorts = {sort for sort, _ in taken(corroded, "battery-ground")}
        assert {"ring terminal", "battery clamp", "heat-shrink"} <= sorts

    def test_sound_wire_takes_nothing(self):
        assert taken(planned(BEFORE, AFTER), "battery-ground") == []

    def test_cut_ends_last_beyond_the_way_back(self, corroded):
        concerned = {name for trace in way_back(corroded).lasting for name in trace.concerned}
        assert "battery-ground" in concerned


@pytest.fixture(scope="module")
def burnt():
    return plan_of({"body-ground": (Condition.BURNT,)})


class TestBurntWire:
    def test_it_is_renewed_in_its_size(self, burnt):
        assert disposition(planned(BEFORE, AFTER), "body-ground") is Disposition.KEEP
        assert disposition(burnt, "body-ground") is Disposition.RENEW
        assert any(isinstance(o, RunWire) and o.wire.id == "body-ground" for o in burnt.operations)
        assert ("cable") in {sort for sort, _ in taken(burnt, "body-ground")}

    def test_its_cause_is_found_and_held_before_current(self, burnt):
        (cause,) = positions(burnt, lambda o: isinstance(o, FindCause))
        (hold,) = positions(burnt, lambda o: getattr(o, "code", "") == "hold-burnt")
        first = min(positions(burnt, lambda o: o.phase is Phase.RECONNECT))
        assert cause < hold < first
        assert burnt.operations[hold].hold
        assert burnt.operations[hold].facts["burnt"] == ("body-ground",)

    def test_it_does_not_come_back_out_of_the_bag(self, burnt):
        assert "body-ground" in way_back(burnt).new_wires

    def test_burnt_wire_that_nobody_wants_leaves_the_loom(self):
        capped = {
            change.mark
            for change in planned(BEFORE, AFTER).comparison.wires
            if change.disposition is Disposition.CAP_OFF
        }
        plan = plan_of(dict.fromkeys(capped, (Condition.BURNT,)))
        assert capped
        assert {disposition(plan, mark) for mark in capped} == {Disposition.REMOVE}

    def test_there_is_no_hold_where_nothing_burnt(self):
        plan = planned(BEFORE, AFTER)
        assert not [o for o in plan.operations if isinstance(o, FindCause | CareForWire)]
        assert "hold-burnt" not in {getattr(o, "code", "") for o in plan.operations}


class TestOtherConditions:
    @every_case("condition", [Condition.CRACKED, Condition.RENEW])
    def test_wire_beyond_saving_is_renewed(self, condition):
        assert disposition(plan_of({"dome-lamp": (condition,)}), "dome-lamp") is Disposition.RENEW

    @every_case("condition", [Condition.STIFF, Condition.REPAIRED, Condition.MEASURED_OFF])
    def test_wire_that_may_be_saved_is_looked_after(self, condition):
        plan = plan_of({"dome-lamp": (condition,)})
        (care,) = [o for o in plan.operations if isinstance(o, CareForWire)]
        assert care.conditions == (condition,)
        assert disposition(plan, "dome-lamp") is Disposition.KEEP

    def test_repair_takes_a_splice(self):
        plan = plan_of({"dome-lamp": (Condition.REPAIRED,)})
        assert "crimp splice" in {sort for sort, _ in taken(plan, "dome-lamp")}

    def test_part_that_stays_is_looked_after(self):
        plan = plan_of({"lamp_switch": (Condition.CORRODED,)})
        (care,) = [o for o in plan.operations if isinstance(o, CareForPart)]
        assert care.part.role == "lamp_switch"
        assert taken(plan, "lamp_switch")

    def test_part_to_be_renewed_is_fitted_new(self):
        plan = plan_of({"lamp_switch": (Condition.RENEW,)})
        assert "part" in {sort for sort, _ in taken(plan, "lamp_switch")}
        assert not [o for o in plan.operations if isinstance(o, CareForPart)]

    def test_nothing_else_to_do_is_a_job_all_the_same(self):
        before = worn({"battery-ground": (Condition.CORRODED,)})
        plan = plan_upgrade(before, before)
        assert [o for o in plan.operations if isinstance(o, CareForWire)]
        assert plan_upgrade(sized(BEFORE), sized(BEFORE)).operations == ()


class TestWayBack:
    def test_everything_worn_still_leads_there_and_back(self):
        before = sized(BEFORE)
        every = {item.id: tuple(Condition)[:4] for item in before.wires[::3]}
        every |= {item.id: (Condition.CORRODED, Condition.STIFF) for item in before.wires[1::3]}
        every |= {part.role: (Condition.BURNT, Condition.STIFF) for part in before.components}
        forward = plan_of(every)
        back = way_back(forward)
        done = carried_on(back.plan, carried_on(forward, vehicle_of(worn(every))))
        assert set(done.conductors) == set(before.wire_by_id)
