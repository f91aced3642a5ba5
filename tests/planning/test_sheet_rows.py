"""Rows of a sheet: nothing lost, nothing doubled, no order broken."""

from every_case import every_case
from pair_facts import planned
from shipped_pairs import SHIPPED_PAIRS as PAIRS

from upgrade_planner.planning.operations import (
    AttachEnd,
    DetachEnd,
    LeadAcross,
    Phase,
    Procedure,
    RemovePart,
    RemoveWire,
    RunWire,
    SwitchOn,
    UncapWire,
    Work,
    ends_joined,
    ends_taken_off,
)
from upgrade_planner.planning.sheet_rows import NEVER_TOGETHER, rows


class TestReadyPairs:
    @every_case("pair", PAIRS)
    def test_every_step_stands_in_one_row_with_a_number_of_its_own(self, pair):
        plan = planned(*pair)
        numbers = [number for row in plan.rows for number in row.step_numbers]
        in_rows = [operation.id for row in plan.rows for operation in row.operations]
        assert sorted(in_rows) == sorted(operation.id for operation in plan.operations)
        assert sorted(numbers) == sorted(step.number for step in plan.steps)
        assert len(set(numbers)) == len(numbers)

    @every_case("pair", PAIRS)
    def test_what_a_row_waits_for_stands_before_it(self, pair):
        plan = planned(*pair)
        at = {one.id: n for n, row in enumerate(plan.rows) for one in row.operations}
        for operation in plan.operations:
            for dependency in operation.after:
                assert at[dependency.operation_id] <= at[operation.id]

    @every_case("pair", PAIRS)
    def test_rows_hold_steps_of_one_wire_or_part_or_tags(self, pair):
        for row in planned(*pair).rows:
            if len(row.operations) == 1:
                continue
            if isinstance(row.operations[0], SwitchOn):
                assert len({(type(one), one.place) for one in row.operations}) == 1
                continue
            assert row.phase not in NEVER_TOGETHER
            if isinstance(row.operations[0], Procedure):
                assert {one.work for one in row.operations} == {Work.TAGS}
                continue
            if row.part:
                assert row.phase in (Phase.TAKE_OUT, Phase.RUN_WIRES)
                assert all(row.part in roles_of(one) for one in row.operations)
                continue
            assert len({one.conductor for one in row.operations}) == 1
            allowed = (RunWire, UncapWire, LeadAcross, AttachEnd)
            assert all(isinstance(one, allowed) for one in row.operations)

    @every_case("pair", PAIRS)
    def test_a_wire_that_is_laid_keeps_its_ends_in_its_row(self, pair):
        for row in planned(*pair).rows:
            if row.part and row.phase is Phase.RUN_WIRES:
                assert not any(isinstance(one, RunWire | UncapWire) for one in row.operations)

    @every_case("pair", PAIRS)
    def test_a_hold_point_stands_alone(self, pair):
        for row in planned(*pair).rows:
            if any(getattr(one, "hold", False) for one in row.operations):
                assert len(row.operations) == 1


def roles_of(operation):
    """Roles of the parts at which an operation does something."""
    if isinstance(operation, RemovePart):
        return {operation.part.role}
    if isinstance(operation, RemoveWire | LeadAcross):
        wires = (operation.wire, getattr(operation, "becomes", operation.wire))
        return {end.role for wire in wires for end in wire.ends}
    return {one.end.role for one in (*ends_taken_off(operation), *ends_joined(operation))}


def test_a_part_that_goes_has_a_card_with_all_that_comes_off_there_and_itself_last():
    plan = planned("van_original_resistance", "van_upgraded")
    (card,) = (row for row in plan.rows if row.part == "regulator")
    *off, last = card.operations
    assert isinstance(last, RemovePart)
    assert [type(one) for one in off] == [DetachEnd, RemoveWire, RemoveWire, RemoveWire]


def test_a_part_that_must_stay_until_something_else_is_done_has_a_row_of_its_own():
    """The lead to the points comes out between the ends at the coil and the coil."""
    plan = planned("van_original_resistance", "van_upgraded")
    (card,) = (row for row in plan.rows if row.part == "coil")
    assert [one.at.terminal for one in card.operations] == ["negative", "positive"]


def test_one_thing_at_a_part_is_no_card():
    plan = planned("saloon_original", "saloon_negative_alternator")
    cards = {row.part for row in plan.rows if row.phase is Phase.RUN_WIRES and row.part}
    assert cards == {"dash_fuses", "feed_fuses"}


def test_a_wire_that_would_wait_for_itself_is_parted():
    operations = planned("van_original_resistance", "van_upgraded").operations
    laid = next(one for one in operations if isinstance(one, RunWire))
    ends = [one for one in operations if isinstance(one, AttachEnd)]
    end = next(one for one in ends if one.conductor == laid.conductor)
    between = next(one for one in ends if one.conductor != laid.conductor)
    from attrs import evolve

    from upgrade_planner.planning.operations import Dependency, Wait

    def after(operation, other):
        waits = (Dependency(other.id, Wait.IN_TURN),)
        return evolve(operation, phase=Phase.RUN_WIRES, after=waits)

    first = evolve(laid, after=())
    made = rows((first, after(between, first), after(end, between)))
    assert [len(row.operations) for row in made] == [1, 1, 1]
