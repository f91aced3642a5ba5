"""Every severity can be shown, and a long list of places is told as a number."""

import pytest
from attrs import evolve
from pair_facts import found, loaded

from upgrade_planner.checks.findings import Severity, at_wire
from upgrade_planner.documents.terminal.findings import print_findings


@pytest.mark.parametrize("severity", Severity)
def test_every_severity_has_its_word_on_the_screen(severity, capsys):
    finding = evolve(found("van_as_found")[0], severity=severity)
    print_findings([finding], loaded("van_as_found"), "metric")
    assert f"{severity.upper()} " in capsys.readouterr().out


def test_many_places_are_the_worst_by_name_and_the_rest_by_number(capsys):
    finding = evolve(
        found("van_as_found")[0], subjects=tuple(at_wire(f"wire-{n}") for n in range(23))
    )
    print_findings([finding], loaded("van_as_found"), "metric")
    shown = capsys.readouterr().out
    assert "wire-7 and 15 more" in shown
    assert "wire-8" not in shown


def test_parts_have_no_strokes_of_a_file_on_the_screen(capsys):
    print_findings(found("pickup_as_found"), loaded("pickup_as_found"), "metric")
    shown = capsys.readouterr().out
    assert "headlamp left low" in shown
    assert "_" not in shown
