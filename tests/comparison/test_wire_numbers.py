"""Names repeat, numbers do not: one number for each conductor through all papers of a job."""

from collections import Counter

from every_case import every_case
from pair_facts import planned, way_back_once

from upgrade_planner.comparison.chain import stages_of
from upgrade_planner.comparison.results import Policy
from upgrade_planner.comparison.wire_changes import FromVehicle, IntoTarget, Kept, Moved
from upgrade_planner.documents.worksheet.steps import StepWriter
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.library.pairs import ready_pairs


def of_conductors(comparison):
    """The number of each conductor, what serves on once."""
    numbers = comparison.numbers
    old = [numbers.old[c.before.id] for c in comparison.wires if isinstance(c, FromVehicle)]
    new = [
        numbers.new[c.after.id]
        for c in comparison.wires
        if isinstance(c, IntoTarget) and not isinstance(c, Kept | Moved)
    ]
    return old + new


@every_case("pair", ready_pairs())
def test_no_number_stands_for_two_conductors(pair):
    plan = planned(pair.before, pair.after)
    for comparison in (plan.comparison, way_back_once(plan).plan.comparison):
        assert max(Counter(of_conductors(comparison)).values()) == 1


def test_what_serves_on_keeps_its_number():
    comparison = planned("van_original_resistance", "van_upgraded").comparison
    for change in comparison.wires:
        if isinstance(change, Kept | Moved):
            old, new = comparison.numbers.old[change.before.id], comparison.numbers.new
            assert new[change.after.id] == old


def test_new_conductors_begin_at_the_next_hundred():
    comparison = planned("van_original_resistance", "van_upgraded").comparison
    assert max(comparison.numbers.old.values()) < 100
    assert comparison.numbers.new["charge-lamp"] > 100


def test_a_dead_and_a_live_wire_of_one_name_have_two_tags():
    plan = planned("van_original_resistance", "van_upgraded")
    writer = StepWriter(plan, "metric")
    words = {s.operation.id: writer.step(s.number, s.operation) for s in plan.steps}
    dead = words["cap-wire:charge-lamp"]
    live = words["run-wire:charge-lamp"]
    assert f"tag “DEAD {dead.mark}”" in " ".join(dead.details)
    assert dead.mark != live.mark
    assert dead.mark.split()[1] == live.mark.split()[1] == "charge-lamp"


def test_the_way_back_knows_each_conductor_by_the_number_of_the_job():
    plan = planned("van_original_resistance", "van_upgraded")
    forward, back = plan.comparison.numbers, way_back_once(plan).plan.comparison.numbers
    assert back.old == forward.new
    assert back.new["charge-lamp"] == forward.old["charge-lamp"]
    assert back.new["link"] not in {*forward.old.values(), *forward.new.values()}


def test_numbers_go_on_from_stage_to_stage():
    configurations = load_sized("van_original_ballast", "van_trigger_module", "van_upgraded")
    first, second = stages_of(configurations, Policy.REVERSIBLE)
    assert second.numbers.old == first.numbers.new
    new = {n for name, n in second.numbers.new.items() if n not in second.numbers.old.values()}
    assert min(new) > max(first.numbers.new.values())
