"""What a profile or form says of a wire: aluminium, metal that it touches."""

import pytest
from pair_facts import sized

from upgrade_planner.checks.checking import check
from upgrade_planner.checks.findings import Severity
from upgrade_planner.comparison.comparing import compare
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.documents.words.findings import finding_words
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


@pytest.mark.parametrize("words", ["touches metal", "rubbed through", "bare on metal"])
def test_a_filled_form_can_say_so(words):
    assert str(condition_meant(words)) == "touches metal"


def test_aluminium_is_renewed_in_copper(tmp_path):
    before = seen("van_upgraded", "charge-output", 'conductor = "aluminium"', tmp_path)
    changes = compare(before, sized("van_upgraded")).wires
    (ours,) = (c for c in changes if c.after is not None and c.after.id == "charge-output")
    assert type(ours).__name__ in ("Renewed", "Resized")
