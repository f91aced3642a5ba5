"""What the job had in hand is tried out once: consumers behind it, before or after, in one walk."""

from itertools import groupby

from attrs import evolve
from pair_facts import planned, sized

from upgrade_planner.configuration.conditions import Condition
from upgrade_planner.planning.functions import CONSUMERS, TRIED_ELSEWHERE
from upgrade_planner.planning.operations import InsertFuse, Phase, SwitchOn
from upgrade_planner.planning.plan import plan_upgrade

VAN = ("van_original_resistance", "van_upgraded")
GROUND = ("saloon_original", "saloon_negative_dynamo")


def trials(plan):
    return [step for step in plan.operations if isinstance(step, SwitchOn)]


def tried(plan):
    return {step.part.role for step in trials(plan)}


def cared(wire_id, name="pickup_original"):
    """A job that only looks after one wire."""
    before = sized(name)
    wires = tuple(
        evolve(wire, condition=(Condition.CORRODED,)) if wire.id == wire_id else wire
        for wire in before.wires
    )
    return plan_upgrade(evolve(before, wires=wires, digest=wire_id), before)


def consumers(configuration):
    found = {part.role for part in configuration.parts_of(*CONSUMERS)}
    return found - set(TRIED_ELSEWHERE)


def test_one_lamp_wire_asks_for_its_lamp_alone():
    assert tried(cared("dome-lamp")) == {"dome_lamp"}


def test_feed_of_several_asks_for_all_of_them():
    assert {"horn_left", "horn_right"} <= tried(cared("horn-feed"))
    assert "dome_lamp" not in tried(cared("horn-feed"))


def test_coil_of_a_relay_asks_for_what_the_relay_feeds():
    assert {"horn_left", "horn_right"} <= tried(cared("horn-coil-feed"))


def test_ground_of_a_part_asks_for_it():
    assert tried(cared("heater-ground")) == {"heater_blower"}


def test_strap_of_the_body_asks_for_what_returns_through_it():
    assert {"headlamp_left_low", "horn_left"} <= tried(cared("body-ground"))


def test_main_feed_asks_for_every_consumer():
    plan = planned(*VAN)
    assert tried(plan) == consumers(plan.comparison.after)


def test_other_ground_asks_for_every_consumer():
    plan = planned(*GROUND)
    assert tried(plan) == consumers(plan.comparison.after)


def test_what_only_the_starter_turns_on_is_no_way_to_a_gauge():
    (gauge,) = [step for step in trials(planned(*VAN)) if step.part.role == "fuel_gauge"]
    assert "start-bypass" not in gauge.touched
    assert "main-feed" in gauge.touched


def test_they_are_tried_live_in_one_walk_with_the_fuses_in():
    for pair in (VAN, GROUND):
        plan = planned(*pair)
        steps = list(plan.operations)
        assert {step.phase for step in trials(plan)} == {Phase.TEST_LIVE}
        places = [place for place, _ in groupby(step.place for step in trials(plan))]
        assert len(places) == len(set(places))
        fuses = [i for i, step in enumerate(steps) if isinstance(step, InsertFuse)]
        first = min(i for i, step in enumerate(steps) if isinstance(step, SwitchOn))
        assert max(fuses, default=-1) < first
