"""Parts that stay and get other insides: no other is bought, none taken off or given back."""

import pytest
from every_case import every_case
from pair_facts import compared, planned

from upgrade_planner.comparison.part_changes import PartDisposition, PartExchanged, PartRebuilt
from upgrade_planner.kit.materials import consumption, gives_back
from upgrade_planner.planning.facts import parts_off
from upgrade_planner.planning.operations import FitPart, RebuildPart, RemovePart
from upgrade_planner.planning.simulation import ImpossibleStep, state_of
from upgrade_planner.planning.way_back import bag_of, way_back

KIT = "Trigger module kit for the old distributor"
REBUILT = [
    ("van_original_ballast", "van_trigger_module", "distributor", "points and condenser", KIT),
    ("pickup_original", "pickup_trigger_module", "distributor", "points and condenser", KIT),
    ("launch_original", "launch_trigger", "distributor", "points and condenser", KIT),
    (
        "saloon_original",
        "saloon_trigger_positive",
        "distributor",
        "points and condenser",
        "Trigger module kit for positive ground",
    ),
    (
        "six_volt_tractor_original",
        "six_volt_tractor_trigger",
        "distributor",
        "points and condenser",
        "Trigger module kit for 6 V, positive ground",
    ),
    ("saloon_original", "saloon_control_box_kept", "regulator", "", ""),
    ("van_original_ballast", "van_discharge_unit", "distributor", "the condenser", ""),
    ("van_upgraded", "van_discharge_unit_pick_up", "distributor", "module and condenser", ""),
]
ENDS = [row[:3] for row in REBUILT]


def bought(plan):
    return {
        material.article.trait("name")
        for materials in consumption(plan).values()
        for material in materials
        if material.article.sort == "part"
    }


@every_case(("before", "after", "role", "leaves", "gets"), REBUILT)
def test_the_part_stays_and_only_its_kit_is_bought(before, after, role, leaves, gets):
    plan = planned(before, after)
    change = plan.comparison.part_by_role[role]
    assert isinstance(change, PartRebuilt)
    assert change.disposition is PartDisposition.REBUILD
    assert (change.leaves, change.gets) == (leaves, gets)
    assert not [
        op
        for op in plan.operations
        if isinstance(op, RemovePart | FitPart) and op.part.role == role
    ]
    (step,) = [op for op in plan.operations if isinstance(op, RebuildPart) and op.part.role == role]
    assert change.after.name not in bought(plan)
    assert not gets or gets in bought(plan)
    given = {m.article.trait("name") for ms in gives_back(plan).values() for m in ms}
    assert change.before.name not in given
    if leaves:
        assert leaves in parts_off(plan.comparison)
        (kept,) = [item for item in bag_of(plan) if item.mark == role]
        assert kept.insides == leaves
    assert step.id in {d.operation_id for op in plan.operations for d in op.after} or not gets


@every_case(("before", "after", "role"), ENDS)
def test_the_way_back_puts_the_old_insides_in_again(before, after, role):
    forward = planned(before, after)
    back = way_back(forward).plan
    (step,) = [op for op in back.operations if isinstance(op, RebuildPart) and op.part.role == role]
    change = forward.comparison.part_by_role[role]
    assert step.from_bag
    assert (step.gets, step.leaves) == (change.leaves, change.gets)
    assert step.part.kind == change.before.kind
    assert step.id not in consumption(back)


def test_the_coil_in_the_cap_is_not_bought():
    assert "Coil in the distributor cap" not in bought(
        planned("van_upgraded", "van_discharge_unit_pick_up")
    )


def test_a_part_that_is_none_of_its_kinds_is_exchanged():
    change = compared("van_original_ballast", "van_upgraded").part_by_role["distributor"]
    assert isinstance(change, PartExchanged)


def test_a_part_is_rebuilt_where_it_is_and_when_its_wires_are_off():
    plan = planned("van_original_ballast", "van_trigger_module")
    (step,) = [op for op in plan.operations if isinstance(op, RebuildPart)]
    state = state_of(plan.comparison.before, plan.comparison.after)
    with pytest.raises(ImpossibleStep, match="still on it"):
        state.carry_out(step)
    state.parts.pop("distributor")
    with pytest.raises(ImpossibleStep, match="not there"):
        state.carry_out(step)
