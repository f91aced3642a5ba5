"""First current flows through the test lamp: what is joined when it hangs, and what is live."""

from functools import cache

from drawn_once import of_each
from every_case import every_case
from first_current import assert_first_current_through_lamp
from generating import pairs, two_battery_pairs
from pair_facts import way_back_once
from proving import assert_ordered, assert_reaches

from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.documents.words.standing import procedure_words
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.planning.operations import Phase, Procedure, ends_joined, ends_taken_off
from upgrade_planner.planning.plan import plan_upgrade

ORIGINAL = "roadster_original"


@cache
def plan_of(before, after):
    """The plan between two shipped configurations."""
    return plan_upgrade(*load_sized(before, after))


def lines(plan, phase):
    """What is done in a phase: the wire and terminal of a joint, the name of a standing step."""
    done = []
    for op in plan.operations:
        if op.phase is phase and isinstance(op, Procedure):
            done.append(op.id.removeprefix("procedure:"))
        elif op.phase is phase:
            done += [f"{o.wire.id} {o.end}" for o in (*ends_taken_off(op), *ends_joined(op))]
    return done


class TestPairInSeries:
    def test_the_link_is_whole_before_the_lamp_hangs(self):
        assert lines(plan_of(ORIGINAL, "roadster_trigger"), Phase.RECONNECT) == [
            "conversion-complete",
            "polarity",
            "battery-link battery.negative",
            "battery-link battery_second.positive",
            "starter-cable battery.positive",
            "test-lamp",
            "hold-test-lamp",
            "battery-ground battery_second.negative",
        ]

    def test_a_link_that_stays_is_not_touched(self):
        plan = plan_of(ORIGINAL, "roadster_pump_cut_off")
        assert lines(plan, Phase.RECONNECT) == [
            "polarity",
            "test-lamp",
            "hold-test-lamp",
            "battery-ground battery_second.positive",
        ]
        assert "battery-ground battery_second.positive" in lines(plan, Phase.MAKE_SAFE)
        assert not any(line.startswith("battery-link") for line in lines(plan, Phase.MAKE_SAFE))

    def test_batteries_are_parted_when_the_vehicle_is_off(self):
        plan = plan_of(ORIGINAL, "roadster_trigger")
        joints = [line for line in lines(plan, Phase.MAKE_SAFE) if " " in line]
        assert joints[:2] == [
            "battery-ground battery_second.positive",
            "starter-cable battery.negative",
        ]

    def test_lamp_names_the_battery_and_stands_at_it(self):
        plan = plan_of(ORIGINAL, "roadster_trigger")
        lamp = next(op for op in plan.operations if op.id == "procedure:test-lamp")
        assert (
            "grounded post − (Battery, 6 V 58 Ah, grounded end)"
            in procedure_words(lamp, "metric").instruction
        )

    def test_lamp_stands_where_the_new_battery_is(self):
        plan = plan_of(ORIGINAL, "roadster_boot_battery")
        places = {op.place for op in plan.operations if op.phase is Phase.RECONNECT}
        assert places == {"boot"}
        back = way_back_once(plan).plan
        places = {op.place for op in back.operations if op.phase is Phase.RECONNECT}
        assert places == {"behind_seats"}


class TestSingleBattery:
    def test_several_cables_of_the_grounded_post_are_held_together(self):
        plan = plan_of("van_original_resistance", "van_upgraded")
        lamp = next(op for op in plan.operations if op.id == "procedure:test-lamp")
        assert "its loose cable ends, together" in procedure_words(lamp, "metric").instruction
        last = [one for op in plan.operations for one in ends_joined(op)][-2:]
        assert {one.end for one in last} == {TerminalRef("battery", "negative")}


@every_case("target", ["trigger", "pump_cut_off", "boot_battery", "alternator"])
def test_roadster_there_and_back(target):
    plan = plan_of(ORIGINAL, f"roadster_{target}")
    assert_first_current_through_lamp(plan)
    assert_first_current_through_lamp(way_back_once(plan).plan)


class TestGenerated:
    @of_each(40, pairs, policies=True)
    def test_first_current_flows_through_the_lamp(self, pair, policy):
        plan = plan_upgrade(*pair, policy)
        if plan.operations:
            assert_first_current_through_lamp(plan)

    @of_each(60, two_battery_pairs, policies=True)
    def test_so_it_does_with_two_batteries(self, pair, policy):
        plan = plan_upgrade(*pair, policy)
        if plan.operations:
            assert_reaches(plan)
            assert_ordered(plan)
            assert_first_current_through_lamp(plan)
