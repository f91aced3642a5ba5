"""What a profile or form says of a wire: aluminium, metal that it touches."""

import pytest
from attrs import evolve
from every_case import every_case
from pair_facts import sized

from upgrade_planner.checks.checking import check
from upgrade_planner.checks.findings import Severity
from upgrade_planner.comparison.comparing import compare
from upgrade_planner.configuration.composing.digest import plain_value
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.tables.wire_csv import wires_to_csv
from upgrade_planner.configuration.values.rings import Rings, stud_mm
from upgrade_planner.documents.words.findings import finding_words
from upgrade_planner.errors import ConfigurationError
from upgrade_planner.inspection.spoken_answers import condition_meant

HEAD = """[configuration]
title = "seen"
summary = "A shipped configuration, looked at."
based_on = "{base}"

[as_found]
change_wires = [{{ id = "{wire}", {said} }}]
"""


def seen(base, wire, said, folder):
    file = folder / "seen.toml"
    file.write_text(HEAD.format(base=base, wire=wire, said=said), encoding="utf-8")
    return load_configuration(str(file))


def touching(base, wire, folder):
    found = check(seen(base, wire, 'condition = ["touches metal"]', folder))
    return next(f for f in found if f.code == "WIRE-TOUCHES")


def test_a_wire_without_a_fuse_that_touches_metal_is_a_danger_told_first(tmp_path):
    wiring = seen("roadster_original", "battery-main", 'condition = ["touches metal"]', tmp_path)
    first = check(wiring)[0]
    assert (first.code, first.cause, first.severity) == ("WIRE-TOUCHES", "bare", Severity.DANGER)
    assert first.value.number > 100
    assert finding_words(first, "metric").what.startswith("It has no fuse, and ")


def test_behind_a_fuse_it_names_the_fuse(tmp_path):
    found = touching("van_upgraded", "heater-feed", tmp_path)
    assert (found.cause, found.severity) == ("guarded", Severity.WARNING)
    assert finding_words(found, "metric").what.endswith("opens, and all behind it is dead.")


def test_a_wire_behind_a_gauge_is_a_caution(tmp_path):
    found = touching("van_upgraded", "fuel-sender", tmp_path)
    assert (found.cause, found.severity) == ("signal", Severity.CAUTION)


def test_it_is_renewed_in_every_job(tmp_path):
    before = seen("van_upgraded", "heater-feed", 'condition = ["touches metal"]', tmp_path)
    changes = compare(before, sized("van_upgraded")).wires
    (ours,) = (c for c in changes if c.after is not None and c.after.id == "heater-feed")
    assert type(ours).__name__ in ("Renewed", "Resized")


@every_case("words", ["touches metal", "rubbed through", "bare on metal"])
def test_a_filled_form_can_say_so(words):
    assert str(condition_meant(words)) == "touches metal"


def test_aluminium_is_renewed_in_copper(tmp_path):
    before = seen("van_upgraded", "charge-output", 'conductor = "aluminium"', tmp_path)
    changes = compare(before, sized("van_upgraded")).wires
    (ours,) = (c for c in changes if c.after is not None and c.after.id == "charge-output")
    assert type(ours).__name__ in ("Renewed", "Resized")


class TestRings:
    def found(self, rings, folder):
        wiring = seen("van_upgraded", "charge-output", f'rings = "{rings}"', folder)
        return [f for f in check(wiring) if f.code == "CONN-RING"], wiring

    def stud(self, wiring, at_start):
        wire = wiring.wire_by_id["charge-output"]
        ref = wire.start if at_start else wire.end
        return wiring.component(ref.role).terminal(ref.terminal).connection.size

    def test_those_that_fit_are_silent(self, tmp_path):
        own = sized("van_upgraded")
        rings = ", ".join(self.stud(own, at_start) for at_start in (True, False))
        assert self.found(rings, tmp_path)[0] == []

    @every_case(("ring", "cause"), [("M12", "loose"), ("M3.5", "tight")])
    def test_one_for_another_stud_is_told_with_the_right_one(self, ring, cause, tmp_path):
        (found,), wiring = self.found(f"-, {ring}", tmp_path)
        assert (found.cause, found.where[0]) == (cause, "charge-output")
        assert self.stud(wiring, at_start=False) in finding_words(found, "metric").remedy

    def test_inch_rings_on_their_metric_neighbours_fit(self):
        for inch, metric in (("1/4 in", "M6"), ("5/16 in", "M8"), ("3/8 in", "M10")):
            assert abs(stud_mm(inch) - stud_mm(metric)) < 0.5

    @every_case("rings", ["M8", "M7, M8", "M8, M8, M8"])
    def test_what_is_no_ring_is_refused_with_an_example(self, rings, tmp_path):
        with pytest.raises(ConfigurationError, match=r"rings|two"):
            seen("van_upgraded", "charge-output", f'rings = "{rings}"', tmp_path)

    def test_they_come_back_from_a_table_of_wires(self, tmp_path):
        wiring = self.found("M5, -", tmp_path)[1]
        (line,) = (li for li in wires_to_csv(wiring).splitlines() if li.startswith("charge-output"))
        assert '"M5, -"' in line

    def test_a_profile_that_says_nothing_of_rings_keeps_its_fingerprint(self):
        wire = sized("van_upgraded").wire_by_id["charge-output"]
        assert "rings" not in plain_value(wire)
        assert "rings" in plain_value(evolve(wire, rings=Rings("M8", "")))
