"""Change of ground and of voltage: what moves, what is treated, what nobody may forget."""

import pytest
from carrying_out import carried_out
from pytest import approx

from upgrade_planner.comparison.comparing import compare
from upgrade_planner.comparison.converting import conversions
from upgrade_planner.comparison.part_changes import PartConverted, PartDisposition, PartKept
from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.documents.words.reasons import reason_words
from upgrade_planner.planning.plan import plan_upgrade

HEADER = '[configuration]\ntitle = "Other"\nsummary = "x"\nbased_on = "tractor_original"\n'


@pytest.fixture
def written(tmp_path):
    def load(text):
        path = tmp_path / "other.toml"
        path.write_text(HEADER + text, encoding="utf-8")
        return load_configuration(str(path))

    return load


@pytest.fixture
def negative():
    return load_configuration("tractor_original")


def test_a_configuration_may_state_another_ground_and_voltage(written, negative):
    other = written('ground = "positive"\nvoltage = "6 V"\n')
    assert (other.vehicle.ground, other.vehicle.voltage_v) == ("positive", 6.0)
    assert conversions(other, negative) == ("ground", "voltage")
    assert conversions(negative, negative) == ()


def test_battery_cables_and_coil_leads_change_over_and_nothing_else_does(written, negative):
    comparison = compare(written('ground = "positive"\n'), negative)
    moved = {c.mark for c in comparison.wires if c.disposition is Disposition.MOVE}
    assert moved == {"battery-ground", "starter-cable", "coil-feed", "points-lead", "start-bypass"}
    assert all(
        "ground changes over" in reason_words(c.reasons, "metric")
        for c in comparison.wires
        if c.mark in moved
    )
    assert all(c.disposition is Disposition.KEEP for c in comparison.wires if c.mark not in moved)


def test_every_part_that_cares_for_polarity_is_named_with_what_to_do(written, negative):
    comparison = compare(written('ground = "positive"\n'), negative)
    treated = {c.role for c in comparison.parts if c.disposition is PartDisposition.CONVERT}
    assert treated == {"ammeter", "alternator", "battery", "temperature_gauge"}
    assert "stays" in reason_words(comparison.part_by_role["coil"].reasons, "metric")
    assert not comparison.part_by_role["work_lamp"].treatments


def test_marked_parts_are_not_asked_again(written, negative):
    change = (
        "\n[[changes.change_component]]\n"
        'role = "temperature_gauge"\nratings = { polarity = "either" }\n'
    )
    before = written('ground = "positive"\n' + change)
    other = written(change)
    gauge = compare(before, other).part_by_role["temperature_gauge"]
    assert gauge.disposition is PartDisposition.KEEP
    assert "either polarity" in reason_words(gauge.reasons, "metric")


def test_plan_of_a_conversion_treats_before_it_connects(written, negative):
    plan = plan_upgrade(written('ground = "positive"\n'), negative)
    ids = [operation.id for operation in plan.operations]
    first_live = ids.index("attach:old:starter-cable:battery.positive")
    for role in ("ammeter", "alternator", "battery", "temperature_gauge"):
        step = next(i for i, name in enumerate(ids) if name.startswith(f"procedure:convert:{role}"))
        assert step < first_live
    assert ids.index("procedure:conversion-complete") < first_live
    assert ids[-1] != "procedure:conversion-label"
    assert "procedure:conversion-label" in ids
    assert {"wrong-polarity"} <= {hazard.id for hazard in plan.hazards}
    assert "voltage-doubled" not in {hazard.id for hazard in plan.hazards}


def test_plan_of_a_conversion_leads_to_the_target(written, negative):
    before = written('ground = "positive"\n')
    plan = plan_upgrade(before, negative)
    state = carried_out(before, negative, plan.operations)
    joined = sorted(sorted(map(str, c.joined)) for c in state.conductors.values())
    assert joined == sorted(sorted(map(str, wire.ends)) for wire in negative.wires)


def test_rest_voltage_is_that_of_the_battery_in_the_vehicle(written, negative):
    plan = plan_upgrade(written('voltage = "6 V"\n'), negative)
    assert plan.facts["rest_voltage"].number == approx(6.2)  # half of the 12.4 V of six cells
    assert plan.facts["rest_voltage_after"].number == approx(12.4)
    assert "voltage-doubled" in {hazard.id for hazard in plan.hazards}


def test_parts_with_a_stated_voltage_are_not_asked_for_it(written, negative):
    comparison = compare(written('voltage = "6 V"\n'), negative)
    asked = {c.role for c in comparison.parts if c.disposition is PartDisposition.CONVERT}
    assert asked == {"temperature_gauge"}  # lamps state theirs: a finding, if it is the wrong one
    assert "stay" in reason_words(comparison.part_by_role["starter"].reasons, "metric")


def test_nothing_is_treated_without_a_conversion(negative):
    upgraded = load_configuration("tractor_upgraded")
    for change in compare(negative, upgraded).parts:
        assert not isinstance(change, PartConverted)
        assert not (isinstance(change, PartKept) and change.treatments)
