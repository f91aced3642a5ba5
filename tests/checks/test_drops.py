"""Limits of drops and sizes: the numbers that findings state."""

import pytest
from attrs import evolve
from every_case import every_case
from planting import Mistake, planted
from told_findings import told

from upgrade_planner.checks import drops, warmth
from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Severity
from upgrade_planner.configuration.values.sizes import sizes_in
from upgrade_planner.electrical.lasting_current import lasting_current


def examined_with(text, base, tmp_path):
    mistake = Mistake(id="here", words="", bases=(base,), as_found=text, codes=())
    return Examined(configuration=planted(mistake, base, tmp_path))


def _on_a_boat(configuration):
    """Judged by the table, not by the heat of the copper."""
    equipment = evolve(configuration.vehicle.equipment, rules="marine")
    vehicle = evolve(configuration.vehicle, equipment=equipment)
    return Examined(configuration=evolve(configuration, vehicle=vehicle))


def test_thin_charge_wire_is_told_the_smallest_size_that_would_do(tmp_path):
    text = '[as_found]\nchange_wires = [{ id = "charge-output", size = "16 SAE" }]\n'
    examined = _on_a_boat(examined_with(text, "van_upgraded", tmp_path).configuration)
    (finding,) = (f for f in warmth.current_above_table(examined) if f.where == ("charge-output",))
    wire = examined.configuration.wire_by_id["charge-output"]
    current_a = float(told(finding).what.split()[0])
    fitting = [
        size.label
        for size in sizes_in("SAE")
        if lasting_current(wire, examined.configuration, size)[0] >= current_a
    ]
    assert told(finding).remedy.startswith(f"Fit {fitting[0]} (about")
    assert "at least" in told(finding).remedy


def test_cranking_cables_are_exempt_from_the_table(load):
    examined = Examined(configuration=load("tractor_original"))
    wires = {f.where[0] for f in warmth.current_above_table(examined)}
    assert not wires & {"starter-cable", "battery-ground"}


def test_resistance_wire_may_lose_what_it_is_for(load):
    examined = Examined(configuration=load("van_original_resistance"))
    assert "ignition-resistance" not in {f.where[0] for f in drops.wire_drop(examined)}


def test_note_on_thin_wires_is_one_note(load):
    found = list(drops.below_regulation_size(_on_a_boat(load("van_upgraded"))))
    assert [finding.severity for finding in found] == [Severity.NOTE]


@every_case("size", ["20 SAE", "0.5 mm²"])
def test_wire_below_the_mechanical_minimum(tmp_path, size):
    text = f'[as_found]\nchange_wires = [{{ id = "fuel-sender", size = "{size}" }}]\n'
    examined = examined_with(text, "van_upgraded", tmp_path)
    assert [f.where for f in drops.too_thin_to_handle(examined)] == [("fuel-sender",)]


def test_smallest_sizes_that_last_are_silent(load):
    for name in ("van_original_ballast", "tractor_original"):
        assert not list(drops.too_thin_to_handle(Examined(configuration=load(name))))


@pytest.mark.parametrize("name", ["van_as_found", "truck_as_found", "pickup_lamp_relays"])
def test_wires_that_are_surely_cool_would_be_told_of_nothing(name, load, monkeypatch):
    rules = (warmth.hot_wire, warmth.hot_among_others, warmth.current_above_table)
    told = [list(rule(Examined(configuration=load(name)))) for rule in rules]
    looked_at = len(warmth._warm_wires(Examined(configuration=load(name))))
    monkeypatch.setattr(warmth, "_maybe_warm", lambda _, configuration: configuration.wires)
    every = Examined(configuration=load(name))
    assert [list(rule(every)) for rule in rules] == told
    assert looked_at < 0.5 * len(warmth._warm_wires(every))
