"""A stud that has no room for all its rings gets a distribution block, on sheet and in the kit."""

import pytest
from attrs import evolve
from pair_facts import sized

from upgrade_planner.configuration.end_fittings import capacity_of
from upgrade_planner.documents.worksheet.steps import StepWriter
from upgrade_planner.kit.materials import consumption
from upgrade_planner.planning.operations import ends_joined
from upgrade_planner.planning.plan import plan_upgrade


@pytest.fixture
def plan():
    """The upgraded van with two more lamp feeds at its main junction, which has four already."""
    before, after = sized("van_original_resistance"), sized("van_upgraded")
    feed = after.wire_by_id["sensing-link"]
    more = tuple(evolve(feed, id=f"more-{number}") for number in (1, 2))
    runs = {**after.runs, **{wire.id: after.runs[feed.id] for wire in more}}
    full = evolve(after, wires=(*after.wires, *more), runs=runs, digest="full")
    return plan_upgrade(before, full)


@pytest.fixture
def joined(plan):
    (found,) = [
        op
        for op in plan.operations
        if any(str(end.end) == "main_junction.stud" for end in ends_joined(op))
    ]
    return found


def test_the_thinnest_lie_on_the_block(plan, joined):
    meeting = plan.meetings[joined.id]
    room = capacity_of(meeting.connection).fittings
    assert len(meeting.fittings) == room + 2
    assert meeting.on_block == meeting.fittings[room - 1 :]


def test_the_step_says_so(plan, joined):
    step = next(one for one in plan.steps if one.operation.id == joined.id)
    details = " ".join(StepWriter(plan, "metric").step(step.number, joined).details)
    assert "4 and above lie on a distribution block" in details


def test_block_and_cable_are_in_the_kit(plan, joined):
    taken = consumption(plan)[joined.id]
    sorts = [material.article.sort for material in taken]
    assert sorts.count("distribution block") == 1
    (cable,) = [material for material in taken if material.article.sort == "cable"]
    thickest = plan.meetings[joined.id].fittings[0].wires[0]
    assert cable.article.trait("size") == thickest.size.label.replace("\N{NO-BREAK SPACE}", " ")
    rings = [m for m in taken if m.article.sort == "ring terminal"]
    assert sum(m.quantity for m in rings) == len(plan.meetings[joined.id].made) + 2


def test_a_stud_with_room_gets_none():
    plan = plan_upgrade(sized("van_original_resistance"), sized("van_upgraded"))
    sorts = {m.article.sort for found in consumption(plan).values() for m in found}
    assert "distribution block" not in sorts
    assert not any(meeting.on_block for meeting in plan.meetings.values())
