"""A wire that is made anew in another length than its predecessor was measured says so."""

import json

from every_case import every_case

from upgrade_planner.documents.worksheet.steps import StepWriter
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.jobs.record import record
from upgrade_planner.planning.plan import plan_upgrade


@every_case(("metres", "is_told"), [("3.4 m", True), ("", False)])
def test_the_step_that_lays_it_asks_to_measure(tmp_path, metres, is_told):
    fields = {"wire:charge-output:present": "x", "wire:charge-output:length_measured": metres}
    form, mine = tmp_path / "form.json", tmp_path / "mine.toml"
    form.write_text(json.dumps({**fields, "wire:horns:present": "x", "wire:horns:note": "Dusty."}))
    record("pickup_original", form, mine)
    plan = plan_upgrade(*load_sized(str(mine), "pickup_upgraded"))
    (step,) = [one for one in plan.steps if one.operation.id == "run-wire:charge-output"]
    words = StepWriter(plan, "metric").step(step.number, step.operation)
    told = [line for line in words.details if "The old one measured" in line]
    assert bool(told) is is_told
    assert not told or "3.4" in told[0]
