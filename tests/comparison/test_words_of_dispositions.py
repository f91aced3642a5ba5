"""What is done is called what it is: renewed, off and back; what nobody knows is not capped."""

from attrs import evolve
from pair_facts import planned, sized

from upgrade_planner.comparison.comparing import compare
from upgrade_planner.comparison.results import Policy
from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.documents.worksheet.steps import StepWriter
from upgrade_planner.planning.operations import ends_taken_off

VAN = ("van_original_resistance", "van_upgraded")


def test_a_wire_of_the_same_size_in_other_insulation_is_renewed_not_resized():
    changes = planned("six_volt_tractor_original", "six_volt_tractor_twelve").comparison.wires
    renewed = [c for c in changes if c.disposition is Disposition.RENEW]
    resized = [c for c in changes if c.disposition is Disposition.RESIZE]
    assert renewed
    assert all(c.before.size == c.after.size for c in renewed)
    assert all(c.before.size != c.after.size for c in resized)


def test_a_kept_wire_whose_end_comes_off_is_off_and_back():
    plan = planned(*VAN)
    kept = {c.mark for c in plan.comparison.wires if c.disposition is Disposition.KEEP}
    writer = StepWriter(plan, "metric")
    alone = [
        step
        for step in plan.steps
        if ends_taken_off(step.operation)
        and {one.wire.id for one in ends_taken_off(step.operation)} <= kept
    ]
    assert alone
    assert {writer.step(s.number, s.operation).action for s in alone} == {"OFF AND BACK"}


def test_a_wire_that_an_earlier_owner_led_elsewhere_is_taken_out_not_capped():
    """Nobody knows where it runs, though the profile's way goes through a taped loom."""
    before, after = sized(VAN[0]), sized(VAN[1])
    as_built = {c.mark: c for c in compare(before, after, Policy.REVERSIBLE).wires}
    assert as_built["start-bypass"].disposition is Disposition.CAP_OFF
    wires = tuple(
        evolve(wire, altered=True) if wire.id == "start-bypass" else wire for wire in before.wires
    )
    altered = compare(evolve(before, wires=wires, digest="led elsewhere"), after)
    (change,) = [c for c in altered.wires if c.mark == "start-bypass"]
    assert change.disposition is Disposition.REMOVE
    assert "way-unknown" in {reason.code for reason in change.reasons}
