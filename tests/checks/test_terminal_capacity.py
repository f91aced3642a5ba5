"""A terminal that cannot take its wires is found: capacity, wires, and what would fit."""

from types import SimpleNamespace

import pytest
from attrs import evolve

from upgrade_planner.checks.connections import crowded_studs, overfull_terminals
from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.documents.words.findings import finding_words


@pytest.fixture
def van(load):
    return load("van_upgraded")


def crowded(configuration, at, count):
    """As many further wires as asked for, at one terminal."""
    wire = next(w for w in configuration.wires if at in w.ends)
    more = tuple(evolve(wire, id=f"more-{i}") for i in range(count))
    return SimpleNamespace(configuration=evolve(configuration, wires=configuration.wires + more))


def test_a_blade_with_five_wires_is_told_with_what_would_fit(van):
    at = TerminalRef("alternator", "lamp")
    (found,) = overfull_terminals(crowded(van, at, 4))
    assert (found.code, found.cause, found.value, found.limit) == ("CONN-FULL", "blade", 5, 4)
    assert found.where[0] == "alternator.lamp"
    assert "more-3" in found.where
    words = finding_words(found, "metric")
    assert "one receptacle" in words.what
    assert "distribution block" in words.remedy


def test_a_battery_post_takes_a_clamp_and_rings(van):
    at = TerminalRef("battery", "negative")
    assert list(overfull_terminals(crowded(van, at, 2))) == []
    (found,) = overfull_terminals(crowded(van, at, 3))
    assert (found.cause, found.limit) == ("post", 4)


def test_heavy_cables_crowd_a_stud_before_thin_ones_do(load):
    found = [f.code for f in crowded_studs(SimpleNamespace(configuration=load("van_fuel_pump")))]
    assert found == ["CONN-STUD-HEAVY"]


def test_a_ground_stud_takes_four_of_them(load):
    straps = load("truck_straps_renewed")
    assert list(crowded_studs(SimpleNamespace(configuration=straps))) == []


def test_shipped_configurations_have_no_terminal_that_is_too_full(van):
    assert list(overfull_terminals(SimpleNamespace(configuration=van))) == []
