"""The plan of the demo vehicle, step by step where order means safety."""

import pytest
from pair_facts import planned

from upgrade_planner.comparison.results import Policy
from upgrade_planner.documents.words.operations import operation_words
from upgrade_planner.documents.words.standing import procedure_words, reading_words
from upgrade_planner.planning.operations import Procedure, ends_joined, ends_taken_off


@pytest.fixture
def plan():
    return planned("van_original_resistance", "van_upgraded")


@pytest.fixture
def at(plan):
    """Where each operation stands, by its id and by the wire ends that it joins or takes off."""
    found = {op.id: i for i, op in enumerate(plan.operations)}
    for i, op in enumerate(plan.operations):
        found |= {one.id: i for one in (*ends_taken_off(op), *ends_joined(op))}
    return found


def test_grounded_cables_come_off_before_anything_else_is_touched(plan, at):
    first_work = min(i for op_id, i in at.items() if op_id.startswith(("remove", "cap")))
    assert at["detach:old:battery-ground:battery.negative"] < first_work
    assert at["detach:old:body-ground:battery.negative"] < first_work


def test_live_cable_comes_off_after_the_grounded_ones(at):
    live = at["detach:old:battery-main:battery.positive"]
    assert at["detach:old:battery-ground:battery.negative"] < live


def test_nothing_is_touched_before_the_vehicle_is_proven_dead(at):
    first_work = min(i for op_id, i in at.items() if op_id.startswith(("remove", "cap")))
    assert at["procedure:hold-dead"] < first_work


def test_pictures_are_taken_before_the_first_wire_comes_out(at):
    first_work = min(i for op_id, i in at.items() if op_id.startswith("remove"))
    assert at["procedure:photographs"] < first_work


def test_alternator_comes_out_only_without_wires(at):
    wires = [at[f"remove-wire:{name}"] for name in ("charge-output", "field", "field-relay")]
    assert max(wires) < at["remove-part:alternator"] < at["fit-part:alternator"]


def test_feed_end_is_joined_after_the_load_end(at):
    assert (
        at["run-wire:ignition-feed"]
        < at["attach:new:ignition-feed:distributor.supply"]
        < at["attach:new:ignition-feed:ignition_switch.ignition"]
    )
    assert (
        at["attach:new:charge-output:alternator.output"]
        < at["attach:new:charge-output:main_junction.stud"]
    )


def test_first_current_flows_through_the_test_lamp(at):
    lamp, hold = at["procedure:test-lamp"], at["procedure:hold-test-lamp"]
    assert at["attach:new:battery-link:battery.positive"] < lamp < hold
    assert hold < at["attach:old:battery-ground:battery.negative"]
    assert hold < at["attach:old:body-ground:battery.negative"]


def test_no_short_is_proven_before_the_battery_goes_on(at):
    assert at["procedure:hold-no-short"] < at["attach:new:battery-link:battery.positive"]


def test_engine_is_cranked_only_after_a_hold(at):
    assert at["procedure:hold-before-cranking"] < at["procedure:crank"]
    assert at["procedure:crank"] < at["procedure:start-engine"] < at["procedure:hold-stop"]


def test_every_hold_says_what_to_do_if_it_fails(plan):
    holds = [op for op in plan.operations if isinstance(op, Procedure) and op.hold]
    assert len(holds) == 7
    assert all(
        told.expected and told.if_not for told in (procedure_words(op, "metric") for op in holds)
    )


def test_splice_behind_the_link_is_made_anew_with_a_new_link(at):
    assert at["remove-wire:link"] < at["attach:new:link:link_joint.joint"]


def test_points_condenser_is_discharged_only_where_there_are_points(at):
    assert "procedure:discharge-condenser" in at
    back = planned("van_upgraded", "van_original_ballast")
    assert "procedure:discharge-condenser" not in {op.id for op in back.operations}


def test_check_code_changes_with_the_input_and_the_policy(plan):
    as_found = planned("van_as_found", "van_upgraded")
    clean = planned("van_original_resistance", "van_upgraded", Policy.CLEAN)
    assert len({plan.check_code, as_found.check_code, clean.check_code}) == 3


def test_every_operation_says_itself_and_its_reverse(plan):
    for operation in plan.operations:
        line, reverse = operation_words(operation)
        assert line.endswith(".")
        assert reverse


def test_readings_carry_a_source_each(plan):
    assert len(plan.readings) >= 7
    assert all(
        reading.source and reading_words(reading, "metric").limit for reading in plan.readings
    )


def test_ballast_readings_only_with_a_ballast(plan):
    ids = {reading.id for reading in plan.readings}
    assert "unit-supply" in ids
    assert "ballast-drop" not in ids
    back = planned("van_upgraded", "van_original_ballast")
    back_ids = {reading.id for reading in back.readings}
    assert {"ballast-drop", "coil-cranking"} <= back_ids
    assert "unit-supply" not in back_ids
