"""The mechanical half of a job: marks before a distributor comes out, static timing, the belt."""

from every_case import every_case
from pair_facts import planned

from upgrade_planner.comparison.part_changes import PartComes, PartLeaves, PartRebuilt
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.documents.words.standing import procedure_words
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.library.pairs import ready_pairs
from upgrade_planner.planning.operations import Phase, Procedure
from upgrade_planner.planning.plan import plan_upgrade

PAIRS = [(pair.before, pair.after) for pair in ready_pairs()]
HANDLE = ("six_volt_tractor_original", "six_volt_tractor_twelve_electronic")
VAN = ("van_original_ballast", "van_upgraded")


def standing(plan):
    return {
        op.code: (number, op)
        for number, op in enumerate(plan.operations)
        if isinstance(op, Procedure)
    }


def told(step, units="metric"):
    words = procedure_words(step, units)
    text = " ".join((words.instruction, *words.details, words.expected, words.if_not))
    return text.replace("\N{NO-BREAK SPACE}", " ")


@every_case("pair", PAIRS)
def test_no_distributor_comes_out_unmarked_and_none_is_cranked_untimed(pair):
    plan = planned(*pair)
    steps = standing(plan)
    parts = plan.comparison.parts
    turning = [change for change in parts if change.part.can(Capability.DISTRIBUTES)]
    out = [op.id for op in plan.operations].index
    for change in turning:
        if isinstance(change, PartLeaves):
            number, mark = steps["mark-distributor"]
            assert mark.hold
            assert number < out(f"remove-part:{change.role}")
        if isinstance(change, PartComes):
            number, _ = steps["static-timing"]
            assert out(f"fit-part:{change.role}") < number < steps["crank"][0]
        if isinstance(change, PartRebuilt):
            rebuilt = out(f"rebuild-part:{change.role}")
            assert steps["mark-distributor"][0] < rebuilt < steps["static-timing"][0]
    in_hand = PartComes | PartLeaves | PartRebuilt
    if not any(isinstance(change, in_hand) for change in turning):
        assert not {"mark-distributor", "static-timing"} & {*steps}


def test_marks_are_those_that_bring_it_back():
    text = told(standing(planned(*VAN))["mark-distributor"][1])
    for word in ("cylinder 1", "rotor against housing", "housing against block", "not turned"):
        assert word in text


def test_static_timing_follows_what_triggers():
    points = ("six_volt_tractor_original", "six_volt_tractor_twelve")
    assert "static-timing" not in standing(planned(*points))
    assert "leaflet" in told(standing(planned(*VAN))["static-timing"][1])


def test_a_crank_handle_brings_its_caution():
    assert "kick-back" in {hazard.id for hazard in planned(*HANDLE).hazards}
    assert "kick-back" not in {hazard.id for hazard in planned(*VAN).hazards}


@every_case("pair", PAIRS)
def test_every_machine_that_comes_gets_its_belt_set_twice(pair):
    plan = planned(*pair)
    steps = standing(plan)
    machines = [
        change.part
        for change in plan.comparison.parts
        if isinstance(change, PartComes)
        and change.part.family in (Family.ALTERNATOR, Family.DYNAMO)
    ]
    assert ("belt" in steps) is ("belt-again" in steps) is bool(machines)
    if machines:
        assert steps["belt"][0] < steps["crank"][0] < steps["belt-again"][0]
        assert steps["belt"][1].phase is Phase.TEST_DEAD


def test_belt_figures_follow_the_units():
    belt = standing(planned(*VAN))["belt"][1]
    assert "10 mm to 13 mm under a push of 98 N to 130 N" in told(belt)
    assert "0.4 in to 0.5 in under a push of 22 lbf to 29 lbf" in told(belt, "us")
    assert "10 min" in told(standing(planned(*VAN))["belt-again"][1])
    assert "maker's figure" in told(belt)


@every_case(
    "pair",
    [
        ("saloon_original", "saloon_trigger_positive"),
        ("six_volt_tractor_original", "six_volt_tractor_trigger"),
    ],
)
def test_a_module_for_positive_ground_is_held_before_the_battery(pair):
    plan = planned(*pair)
    steps = standing(plan)
    number, hold = steps["hold-positive-module"]
    assert hold.hold
    assert number < steps["polarity"][0]
    labels = {t.label for t in plan.comparison.after.component("distributor").terminals}
    assert labels == {"feed lead", "coil lead", "housing"}
    assert "hold-positive-module" not in standing(planned(*VAN))


@every_case("after", ["six_volt_tractor_twelve", "six_volt_tractor_twelve_electronic"])
def test_a_new_ammeter_is_tried_and_not_turned_round_unseen(after):
    ammeter = planned("six_volt_tractor_original", after).comparison.after.component("ammeter")
    assert "needle must go to discharge" in ammeter.note
    assert "On negative ground" not in ammeter.note


class TestNeedle:
    """Which way an ammeter's needle goes follows from the currents of the new wiring."""

    def step(self, before, after):
        return standing(planned(before, after)).get("ammeter-needle", (0, None))[1]

    def test_the_current_comes_from_the_battery_on_negative_ground(self):
        text = told(self.step("six_volt_tractor_original", "six_volt_tractor_twelve"))
        after = planned("six_volt_tractor_original", "six_volt_tractor_twelve").comparison.after
        first, second = (t.label for t in after.component("ammeter").terminals)
        assert f"in at its {first} stud and out at its {second} stud" in text
        assert "needle goes to discharge" in text
        assert "exchanged" not in text.partition("If it goes to charge")[0]

    def test_it_comes_from_the_loads_on_positive_ground(self):
        text = told(self.step("six_volt_tractor_original", "six_volt_tractor_control_box"))
        after = planned("six_volt_tractor_original", "six_volt_tractor_control_box")
        first, second = (t.label for t in after.comparison.after.component("ammeter").terminals)
        assert f"in at its {second} stud and out at its {first} stud" in text

    def test_without_a_touched_ammeter_there_is_no_such_step(self):
        assert self.step(*VAN) is None
        assert self.step("pickup_original", "pickup_upgraded") is None

    def test_an_old_one_gets_its_leads_exchanged_where_the_ground_turns(self, tmp_path):
        path = tmp_path / "turned.toml"
        path.write_text(TURNED)
        plan = plan_upgrade(*load_sized("six_volt_tractor_original", str(path)))
        assert any("exchange-leads" in getattr(op, "code", "") for op in plan.operations)
        first, second = (t.label for t in plan.comparison.after.component("ammeter").terminals)
        text = told(standing(plan)["ammeter-needle"][1])
        assert f"in at its {second} stud and out at its {first} stud" in text
        assert "which is why its leads were exchanged" in text


TURNED = """
[configuration]
title = "The tractor of the forties with its ground turned"
summary = "The negative post on the metal, everything else as it was."
based_on = "six_volt_tractor_original"
ground = "negative"
"""
