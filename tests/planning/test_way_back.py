"""The way back: what a job did is undone, wire by wire, with what the job itself left."""

import pytest
from chains import carried_on, spec, vehicle_of
from drawn_once import of_each
from every_case import every_case
from generating import pairs
from pair_facts import planned, way_back_once
from shipped_pairs import SHIPPED_PAIRS

from upgrade_planner.comparison.cut_links import is_crimped_link
from upgrade_planner.comparison.part_changes import PartDisposition
from upgrade_planner.comparison.results import Policy
from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.documents.words.operations import operation_words
from upgrade_planner.documents.words.traces import trace_words
from upgrade_planner.kit.materials import consumption
from upgrade_planner.planning.operations import (
    AttachEnd,
    CapWire,
    ConductorKey,
    FitPart,
    Phase,
    RemovePart,
    RemoveWire,
    RunWire,
    Side,
    UncapWire,
    ends_joined,
)
from upgrade_planner.planning.plan import plan_upgrade
from upgrade_planner.planning.simulation import ConductorState, ImpossibleStep, VehicleState
from upgrade_planner.planning.way_back import Trace, bag_of, lasting_traces, way_back


def there_and_back(before, after, policy):
    """The reverse job, and the vehicle after both, the second begun where the first one ended."""
    forward = plan_upgrade(before, after, policy)
    way = way_back_once(forward)
    return way, carried_on(way.plan, carried_on(forward, vehicle_of(before)))


def assert_as_before(before, back):
    """Every wire of BEFORE stands between its ends, of its own size and colour; nothing else."""
    assert back.spares == {}
    assert set(back.conductors) == {wire.id for wire in before.wires}
    for wire in before.wires:
        assert back.conductors[wire.id].joined == set(wire.ends)
        assert spec(back.conductors[wire.id].wire) == spec(wire)
    wanted = {part.role: part.kind for part in before.components if part.kind != "splice"}
    assert {role: kind for role, kind in back.parts.items() if kind != "splice"} == wanted


class TestGenerated:
    @of_each(120, pairs, policies=True)
    def test_forward_then_back_is_before_wire_by_wire(self, pair, policy):
        _, back = there_and_back(*pair, policy)
        assert_as_before(pair[0], back)

    @of_each(60, pairs, policies=True)
    def test_the_bag_holds_what_the_way_back_takes_out_of_it(self, pair, policy):
        way = way_back_once(plan_upgrade(*pair, policy))
        wires = {item.mark for item in way.bag if item.wire and item.reusable}
        parts = {item.mark for item in way.bag if item.part}
        refitted = [op for op in way.plan.operations if isinstance(op, RunWire) and op.from_bag]
        fitted = [op for op in way.plan.operations if isinstance(op, FitPart) and op.from_bag]
        assert {op.wire.id for op in refitted} == wires
        assert {op.part.role for op in fitted} <= parts

    @of_each(60, pairs)
    def test_capped_wires_are_joined_again_and_not_bought(self, pair):
        forward = plan_upgrade(*pair)
        way = way_back_once(forward)
        capped = {wire.id for wire in forward.comparison.capped_wires}
        uncapped = {op.wire.id for op in way.plan.operations if isinstance(op, UncapWire)}
        assert uncapped == capped
        assert not capped & set(way.new_wires)

    @of_each(60, pairs, policies=True)
    def test_only_wires_of_looms_and_connectors_and_crimped_links_are_made_new(self, pair, policy):
        way = way_back_once(plan_upgrade(*pair, policy))
        for wire_id in way.new_wires:
            run = pair[0].runs[wire_id]
            is_link = is_crimped_link(pair[0].wire_by_id[wire_id], pair[0])
            assert run.in_loom or run.connectors or is_link

    @of_each(60, pairs)
    def test_the_grounded_post_is_joined_last(self, pair):
        way = way_back_once(plan_upgrade(*pair))
        grounded = pair[0].vehicle.ground
        joined = [one for op in way.plan.operations for one in ends_joined(op)]
        at_post = [op for op in joined if str(op.end) == f"battery.{grounded}"]
        assert joined[len(joined) - len(at_post) :] == at_post

    @of_each(20, pairs)
    def test_nothing_done_is_nothing_to_undo(self, pair):
        way = way_back(plan_upgrade(pair[0], pair[0]))
        assert (way.plan.operations, way.bag, way.lasting, way.new_wires) == ((), (), (), ())


@every_case("policy", list(Policy))
@every_case(("before", "after"), SHIPPED_PAIRS)
def test_shipped_vehicles_come_back(load, before, after, policy):
    _, back = there_and_back(load(before), load(after), policy)
    assert_as_before(load(before), back)


@pytest.fixture(scope="module")
def reversible():
    return way_back(planned("van_original_resistance", "van_upgraded"))


@pytest.fixture(scope="module")
def clean(load):
    pair = load("van_original_resistance"), load("van_upgraded")
    return way_back(plan_upgrade(*pair, Policy.CLEAN))


class TestVan:
    def test_a_reversible_job_needs_no_new_cable_but_a_link_and_no_new_part(self, reversible):
        assert reversible.new_wires == ("link",)
        bought = [m for found in consumption(reversible.plan).values() for m in found]
        assert [m.article.sort for m in bought if m.article.shelf == "cable"] == ["fusible link"]
        shelves = {m.article.shelf for m in bought}
        assert "terminals" in shelves
        assert not shelves & {"parts", "protection"}

    def test_after_a_clean_job_the_wires_of_looms_are_made_new(self, clean):
        wanted = ["charge-lamp", "ignition-resistance", "link", "start-bypass"]
        assert list(clean.new_wires) == wanted
        cable = [
            m.wires
            for found in consumption(clean.plan).values()
            for m in found
            if m.article.shelf == "cable"
        ]
        assert sorted(cable) == [(name,) for name in wanted]

    def test_caps_go_before_the_ends_are_joined_with_new_terminals(self, reversible):
        operations = reversible.plan.operations
        uncap = next(op for op in operations if op.id == "uncap-wire:ignition-resistance")
        ends = [
            (index, one)
            for index, op in enumerate(operations)
            for one in ends_joined(op)
            if one.conductor == uncap.conductor
        ]
        assert len(ends) == 2
        assert all(end.remade for _, end in ends)
        assert all(index > operations.index(uncap) for index, _ in ends)

    def test_a_wire_from_the_bag_keeps_its_terminals_except_in_a_splice(self, reversible):
        remade = {
            (one.wire.id, one.end.role): one.remade
            for op in reversible.plan.operations
            for one in ends_joined(op)
            if one.conductor.side is Side.NEW
        }
        assert remade["charge-output", "alternator"] is False
        assert remade["main-feed", "link_joint"] is True

    def test_upgrade_parts_come_off_and_old_ones_out_of_the_bag(self, reversible):
        off = {op.part.kind for op in reversible.plan.operations if isinstance(op, RemovePart)}
        assert off == {"integral_coil_distributor", "alternator_internal_regulator"}
        back = {op.part.role for op in reversible.plan.operations if isinstance(op, FitPart)}
        assert back == {"coil", "distributor", "alternator", "regulator"}
        assert all(
            change.from_bag for change in reversible.plan.comparison.parts if change.role in back
        )

    def test_what_cannot_be_undone_follows_the_operations(self, reversible, clean):
        def concerned(way, trace):
            return {n for item in way.lasting if item.trace is trace for n in item.concerned}

        assert concerned(reversible, Trace.TAPE_OPENED) == set()
        assert concerned(clean, Trace.TAPE_OPENED) == set(clean.new_wires) - {"link"}
        assert concerned(reversible, Trace.CAPS_CUT) == {
            op.wire.id for op in reversible.forward.operations if isinstance(op, CapWire)
        }
        assert concerned(clean, Trace.CAPS_CUT) == set()
        assert concerned(reversible, Trace.ENDS_CUT) == {"tachometer"}
        assert "bulkhead connector" in " ".join(map(trace_words, reversible.lasting))

    def test_new_parts_leave_holes_replaced_ones_do_not(self):
        forward = planned("tractor_original", "tractor_upgraded")
        holes = next(t for t in lasting_traces(forward) if t.trace is Trace.HOLES_DRILLED)
        added = {
            c.role
            for c in forward.comparison.parts
            if c.disposition is PartDisposition.ADD and c.part.kind != "splice"
        }
        assert set(holes.concerned) == added

    def test_the_bag_has_step_length_and_place(self, reversible):
        forward = reversible.forward
        for item in reversible.bag:
            operation = next(s.operation for s in forward.steps if s.number == item.step)
            assert isinstance(operation, RemoveWire | RemovePart)
            assert item.place == operation.place
            if item.wire:
                run = forward.comparison.before.runs[item.mark]
                assert item.length_m == run.length_m

    def test_a_relocated_part_is_not_in_the_bag(self, load):
        from attrs import evolve

        before = load("van_original_resistance")
        parts = tuple(
            evolve(p, place="engine_left") if p.role == "coil" else p for p in before.components
        )
        after = evolve(before, components=parts, digest="moved")
        forward = plan_upgrade(before, after)
        assert "remove-part:coil" in {op.id for op in forward.operations}
        assert "coil" not in {item.mark for item in bag_of(forward)}

    def test_dispositions_say_what_is_used_again(self, reversible):
        counts = {d: reversible.plan.comparison.count(d) for d in Disposition}
        assert counts[Disposition.ADD] == 1
        assert counts[Disposition.RESIZE] == 0
        assert counts[Disposition.REJOIN] == 3
        assert counts[Disposition.REFIT] == 8


class TestSimulation:
    @pytest.fixture
    def wire(self, load):
        return load("van_original_resistance").wire_by_id["horn"]

    def state(self, wire, *, capped):
        key = ConductorKey(Side.CAPPED, wire.id)
        parts = {end.role: "motor" for end in wire.ends}
        return key, VehicleState(parts, {key: ConductorState(wire, capped=capped)})

    def test_a_wire_without_caps_cannot_be_uncapped(self, wire):
        key, state = self.state(wire, capped=False)
        with pytest.raises(ImpossibleStep):
            state.carry_out(
                UncapWire(id="u", phase=Phase.RUN_WIRES, place="", conductor=key, wire=wire)
            )

    def test_a_capped_end_cannot_be_joined(self, wire):
        key, state = self.state(wire, capped=True)
        with pytest.raises(ImpossibleStep, match="caps are still on"):
            state.carry_out(
                AttachEnd(
                    id="a",
                    phase=Phase.RUN_WIRES,
                    place="",
                    conductor=key,
                    wire=wire,
                    end=wire.start,
                    remade=True,
                )
            )

    def test_capping_and_uncapping_undo_each_other_in_words(self, wire):
        key = ConductorKey(Side.CAPPED, wire.id)
        common = {"phase": Phase.RUN_WIRES, "place": "", "conductor": key, "wire": wire}
        cap, uncap = CapWire(id="c", **common), UncapWire(id="u", **common)
        assert operation_words(cap) == operation_words(uncap)[::-1]
