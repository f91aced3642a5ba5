"""Every ready pair as a whole: computed, compared, planned, proven."""

import pytest
from every_case import every_case
from first_current import assert_first_current_through_lamp
from pair_facts import found, planned, way_back_once
from proving import assert_ordered, assert_reaches

from upgrade_planner.checks.findings import Severity
from upgrade_planner.comparison.results import Policy
from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.documents.words.operations import operation_words
from upgrade_planner.documents.words.reasons import reason_words
from upgrade_planner.library.pairs import ready_pairs

PAIRS = [(pair.before, pair.after) for pair in ready_pairs()]
TARGETS = sorted({after for _, after in PAIRS})


def test_there_are_thirty_pairs_over_all_vehicles():
    assert len(set(PAIRS)) == len(PAIRS) >= 30
    families = {pair.family for pair in ready_pairs()}
    assert families == set(shipped_profiles("vehicle"))


def test_titles_tell_pairs_apart():
    titles = [pair.title for pair in ready_pairs()]
    assert len(set(titles)) == len(titles)


@every_case("name", TARGETS)
def test_no_danger_stands_in_a_target(name):
    dangers = [f for f in found(name) if f.severity is Severity.DANGER]
    assert dangers == []


@pytest.mark.parametrize(("before", "after"), PAIRS)
def test_plan_leads_to_the_target(before, after):
    for policy in Policy:
        plan = planned(before, after, policy)
        assert plan.steps, policy
        assert_reaches(plan)
        assert_ordered(plan)
        assert_first_current_through_lamp(plan)
    assert_first_current_through_lamp(way_back_once(planned(before, after)).plan)


@pytest.mark.parametrize(("before", "after"), PAIRS)
def test_every_change_has_a_reason_and_every_reading_a_range(before, after):
    plan = planned(before, after)
    assert all(reason_words(change.reasons, "us") for change in plan.comparison.wires)
    assert all(reason_words(change.reasons, "us") for change in plan.comparison.parts)
    measured = [reading for reading in plan.readings if reading.id in plan.expected]
    assert len(measured) >= 3
    for operation in plan.operations:
        assert "{" not in operation_words(operation)[0]  # a fact that was not filled in


@every_case("name", sorted(shipped_profiles("configuration")))
def test_every_shipped_configuration_is_computed(name):
    codes = [finding.code for finding in found(name)]
    assert "PWR-NOT-SOLVED" not in codes
