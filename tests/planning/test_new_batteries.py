"""A battery that comes is fitted when it is joined, and it is the one that is measured."""

from pair_facts import planned

from upgrade_planner.planning.operations import Phase


def test_a_new_battery_is_fitted_at_the_start_of_joining():
    plan = planned("six_volt_tractor_original", "six_volt_tractor_twelve_electronic")
    first = next(op for op in plan.operations if op.phase is Phase.RECONNECT)
    assert first.id == "fit-part:battery"


def test_the_new_battery_is_measured_and_not_the_old_one():
    plan = planned("six_volt_tractor_original", "six_volt_tractor_twelve_electronic")
    ids = [op.id for op in plan.operations]
    assert "procedure:rest-voltage" not in ids
    assert ids.index("fit-part:battery") < ids.index("procedure:rest-voltage-new")


def test_a_battery_that_stays_is_measured_before_the_work():
    ids = [op.id for op in planned("van_original_resistance", "van_upgraded").operations]
    assert ids[0] == "procedure:rest-voltage"
    assert "procedure:rest-voltage-new" not in ids


def test_a_second_return_is_warned_of_where_ground_is_worked_on_and_labelled():
    plan = planned("van_original_ballast", "van_discharge_unit")
    (warning,) = [h for h in plan.hazards if h.id == "second-return"]
    assert warning.phases == ("G", "I", "K")
    assert "procedure:second-return-label" in {op.id for op in plan.operations}
    other = planned("van_original_resistance", "van_upgraded")
    assert "second-return" not in {h.id for h in other.hazards}
