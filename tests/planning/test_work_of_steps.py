"""Steps say what sort of work they are; their ids decide nothing."""

from itertools import count

from attrs import evolve
from every_case import every_case
from pair_facts import planned

from upgrade_planner.documents.worksheet.plan_json import plan_data
from upgrade_planner.documents.worksheet.title_block import SheetOptions
from upgrade_planner.kit.kinds_of_work import work_of
from upgrade_planner.kit.labour import labour
from upgrade_planner.kit.labour_table import shipped_labour_table
from upgrade_planner.planning.operations import Procedure, Work

PAIRS = [
    ("van_original_resistance", "van_upgraded"),
    ("roadster_original", "roadster_alternator"),
]


def with_other_ids(plan):
    """The same plan, its procedures with ids that say nothing."""
    numbers = count()
    steps = [
        evolve(step, operation=evolve(step.operation, id=f"x{next(numbers)}"))
        if isinstance(step.operation, Procedure)
        else step
        for step in plan.steps
    ]
    return evolve(plan, steps=tuple(steps))


@every_case("pair", PAIRS)
def test_minutes_and_rates_do_not_follow_from_ids(pair):
    plan, table = planned(*pair), shipped_labour_table()
    other = with_other_ids(plan)
    assert [work_of(op) for op in other.operations] == [work_of(op) for op in plan.operations]
    assert [line.minutes for line in labour(other, table).lines] == [
        line.minutes for line in labour(plan, table).lines
    ]


@every_case("pair", PAIRS)
def test_each_reading_is_taken_in_one_step(pair):
    plan = planned(*pair)
    steps = plan_data(plan, SheetOptions(date="2026-01-02"))["steps"]
    taken = [reading for step in steps for reading in step.get("readings", ())]
    assert sorted(taken) == sorted(reading.id for reading in plan.readings)
    assert {step["work"] for step in steps if "work" in step} <= {str(work) for work in Work}
    assert {"photographs", "tags", "road_test"} <= {step.get("work") for step in steps}
