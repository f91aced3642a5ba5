"""Fuses stay out until the vehicle is live, then go in one by one; each says what it feeds."""

from decimal import Decimal

import pytest
from every_case import every_case
from pair_facts import loaded, planned, way_back_once

from upgrade_planner.comparison.results import Policy
from upgrade_planner.documents.kit.labels import labels
from upgrade_planner.documents.worksheet.steps import StepWriter
from upgrade_planner.kit.materials import consumption
from upgrade_planner.kit.packing import OrderedUpgrade, packed, planned_job
from upgrade_planner.kit.prices.shop_files import load_prices, shipped_shop
from upgrade_planner.library.pairs import ready_pairs
from upgrade_planner.planning.fuses import fuses_of, slots_of
from upgrade_planner.planning.operations import AdjustPart, FitPart, InsertFuse, Phase
from upgrade_planner.planning.simulation import ImpossibleStep, state_of


@pytest.fixture
def plan():
    return planned("saloon_original", "saloon_negative_alternator")


def put_in(plan):
    return [op for op in plan.operations if isinstance(op, InsertFuse)]


@every_case("pair", ready_pairs())
def test_every_fuse_that_is_out_goes_in_once_when_the_vehicle_is_live(pair):
    for plan in (planned(pair.before, pair.after),):
        out = [
            (op.part.role, fuse)
            for op in plan.operations
            if isinstance(op, FitPart)
            for fuse in fuses_of(op.part)
        ]
        out += [
            (op.part.role, fuse)
            for op in plan.operations
            if isinstance(op, AdjustPart)
            for fuse in fuses_of(op.part)
            if fuse not in fuses_of(op.before)
        ]
        assert sorted((op.part.role, op.fuse.way) for op in put_in(plan)) == sorted(
            (role, fuse.way) for role, fuse in out
        )
        assert all(op.phase is Phase.TEST_LIVE for op in put_in(plan))


@every_case("pair", ready_pairs())
def test_every_fuse_of_a_ready_upgrade_feeds_something(pair):
    after = planned(pair.before, pair.after).comparison.after
    slots = [slot for part in after.components for slot in slots_of(part, after)]
    assert [slot for slot in slots if not slot.feeds] == []


@every_case(
    ("name", "role", "feeds"),
    [
        ("truck_fan_and_pump", "fuel_pump_start_fuse", {("fuel_pump_relay",)}),
        ("pickup_as_found", "fuse_panel", {("stop_turn_lamp_left", "stop_turn_lamp_right")}),
    ],
)
def test_a_fuse_feeds_what_another_feed_is_nearer_to(name, role, feeds):
    """The start side of a change-over; a stop switch whose lamps the turn switch shares."""
    configuration = loaded(name)
    slots = slots_of(configuration.component(role), configuration)
    assert feeds <= {slot.feeds for slot in slots}


def test_the_slot_table_says_rating_and_what_each_feeds(plan):
    after = plan.comparison.after
    slots = slots_of(after.component("dash_fuses"), after)
    assert [(s.fuse.way, s.fuse.rated_current_a, s.feeds) for s in slots] == [
        ("ignition", 7.5, ("coil", "distributor")),
        ("pump", 5.0, ("fuel_pump",)),
        ("heater", 5.0, ("heater_blower",)),
    ]


def test_the_step_that_fits_a_holder_has_the_table_and_leaves_the_fuses_out(plan):
    writer = StepWriter(plan, "metric")
    step = next(s for s in plan.steps if s.operation.id == "fit-part:feed_fuses")
    words = writer.step(step.number, step.operation)
    assert any(line.startswith("3 (extras): 10\N{NO-BREAK SPACE}A") for line in words.details)
    assert "No fuse goes in before phase J." in words.details


def test_a_fuse_that_feeds_another_goes_in_first(plan):
    position = {op.id: i for i, op in enumerate(plan.operations)}
    assert position["insert-fuse:feed_fuses.extras"] < position["insert-fuse:radio_fuse.out"]
    assert position["insert-fuse:radio_fuse.out"] < position["procedure:key-on-lamp"]


def test_the_fuse_is_taken_with_its_step(plan):
    taken = consumption(plan)
    for operation in put_in(plan):
        (fuse,) = taken[operation.id]
        assert fuse.article.sort == "fuse"
        assert fuse.article.trait("rating") == f"{operation.fuse.rated_current_a:g} A"


def test_on_the_way_back_old_fuses_are_not_bought(plan):
    back = way_back_once(plan).plan
    assert put_in(back)
    assert not any(consumption(back).get(op.id) for op in put_in(back))


def test_the_lid_has_a_label_from_the_same_table():
    pair = OrderedUpgrade(configurations=("saloon_original", "saloon_negative_alternator"))
    job = planned_job(pair, Policy.REVERSIBLE)
    kit = packed((job,), load_prices(shipped_shop()), spare_percent=Decimal(0))
    found = [label for label in labels(kit) if label.heading.startswith("Fuse holder on the bulk")]
    lines = [line for label in found for line in label.lines]
    assert [line.partition(" –")[0].replace("\N{NO-BREAK SPACE}", " ") for line in lines] == [
        "1 (key): 15 A",
        "2 (lamps): 15 A",
        "3 (extras): 10 A",
    ]


def test_a_slot_that_is_full_takes_no_fuse(plan):
    state = state_of(plan.comparison.before, plan.comparison.after)
    with pytest.raises(ImpossibleStep, match="not empty"):
        state.carry_out(put_in(plan)[0])
