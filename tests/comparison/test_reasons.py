"""Why a wire stays, goes, comes or grows: the reason that fires, and where it is silent."""

from attrs import evolve
from pair_facts import compared, loaded

from upgrade_planner.comparison.differences import wire_differences
from upgrade_planner.comparison.reasons import (
    add_reasons,
    dead_wire_reason,
    keep_reasons,
    move_reasons,
    removal_reasons,
    resize_reasons,
)
from upgrade_planner.configuration.model import Conductor, TerminalRef
from upgrade_planner.configuration.values.sizes import parse_wire_size

BEFORE, AFTER = loaded("van_original_ballast"), loaded("van_upgraded")
OLD = BEFORE.wire_by_id["key-feed"]


def codes(reasons):
    return [reason.code for reason in reasons]


def kept(old, new):
    return codes(keep_reasons(old, new, wire_differences(old, new)))


class TestKept:
    def test_equal_wire_is_still_fit_and_no_more(self):
        assert kept(OLD, OLD) == ["still-fit"]

    def test_more_copper_than_wanted_is_named(self):
        assert kept(evolve(OLD, size=parse_wire_size("8 SAE")), OLD) == [
            "still-fit",
            "larger",
        ]

    def test_another_circuit_is_named(self):
        assert kept(OLD, evolve(OLD, circuit="main feed")) == ["still-fit", "serves-as"]


class TestResized:
    def test_charge_output_grows_because_the_alternator_delivers_more(self):
        old, new = (c.wire_by_id["charge-output"] for c in (BEFORE, AFTER))
        assert codes(resize_reasons(old, new, AFTER)) == ["falls-short", "alternator-delivers"]

    def test_wire_of_another_circuit_does_not_speak_of_the_alternator(self):
        new = evolve(OLD, size=parse_wire_size("8 SAE"))
        assert codes(resize_reasons(OLD, new, AFTER)) == ["falls-short"]

    def test_link_melts_first(self):
        link = evolve(OLD, conductor=Conductor.LINK, size=parse_wire_size("16 SAE"))
        other = evolve(link, size=parse_wire_size("14 SAE"))
        assert "link-melts-first" in codes(resize_reasons(link, other, AFTER))


class TestMoved:
    def test_common_end_is_named(self):
        moved = evolve(OLD, end=TerminalRef("elsewhere", "stud"))
        (_, stays) = move_reasons(OLD, moved)
        assert stays.code == "end-stays"
        assert stays.facts["role"] == OLD.start.role

    def test_other_post_of_the_same_battery_is_the_ground_changing_over(self):
        cable = loaded("saloon_original").wire_by_id["battery-ground"]
        other = {"positive": "negative", "negative": "positive"}
        ends = [TerminalRef(e.role, other.get(e.terminal, e.terminal)) for e in cable.ends]
        turned = evolve(cable, start=ends[0], end=ends[1])
        assert codes(move_reasons(cable, turned)) == ["ground-changes-over"]


class TestRemoved:
    def test_earlier_alteration_goes_whatever_else_is_true(self):
        addition = evolve(OLD, slot="as found")
        assert codes(removal_reasons(addition, BEFORE, AFTER)) == ["earlier-alteration"]

    def test_wire_of_a_part_that_goes(self):
        wire = next(w for w in BEFORE.wires if any(e.role == "regulator" for e in w.ends))
        (reason,) = removal_reasons(wire, BEFORE, AFTER)
        assert reason.code == "part-goes"
        assert reason.facts["role"] == "regulator"

    def test_wire_that_nothing_speaks_for(self):
        lonely = evolve(OLD, circuit="horn", id="lonely")
        assert codes(removal_reasons(lonely, BEFORE, AFTER)) in (
            ["target-without"],
            ["new-wire-takes-over"],
        )


class TestAdded:
    def test_sensing_wire_says_what_the_output_wire_loses(self):
        sensing = AFTER.wire_by_id["sensing"]
        senses, loses = add_reasons(sensing, AFTER)
        assert (senses.code, loses.code) == ("senses-main-junction", "output-loses")
        assert 0 < loses.facts["drop"].number < 1

    def test_without_an_alternator_no_figure_is_made_up(self):
        parts = tuple(part for part in AFTER.components if part.role != "alternator")
        without = evolve(AFTER, components=parts)
        sensing = AFTER.wire_by_id["sensing"]
        assert codes(add_reasons(sensing, without)) == ["senses-main-junction"]


class TestDead:
    def test_connector_on_the_way_is_named(self):
        run = next(run for run in BEFORE.runs.values() if run.connectors)
        reason = dead_wire_reason(run)
        assert reason.code in ("lies-in-connector", "lies-in-loom-and-connector")
        assert reason.facts["connectors"] == run.connectors

    def test_loom_alone(self):
        run = next(r for r in BEFORE.runs.values() if r.in_loom and not r.connectors)
        assert dead_wire_reason(run).code == "lies-in-loom"


def test_every_wire_of_a_comparison_has_a_reason():
    for change in compared("van_original_ballast", "van_upgraded").wires:
        assert change.reasons, change.mark
