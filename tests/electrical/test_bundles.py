"""Wires beside each other: published factors for bundles, fully and partly loaded, and order."""

import math

import pytest
from every_case import every_case
from hypothesis import given
from hypothesis import strategies as st
from published import number, rows, table

from upgrade_planner.configuration.values.sizes import parse_wire_size
from upgrade_planner.electrical.bundles import (
    Bundle,
    Neighbour,
    bundles_of,
    current_among,
    temperature_among,
)
from upgrade_planner.electrical.heat_balance import conductor_temperature, current_for_temperature

SIZE = parse_wire_size("14 AWG")
sizes = st.sampled_from([parse_wire_size(text) for text in ("18 SAE", "14 SAE", "10 SAE", "6 mm²")])
currents_a = st.floats(min_value=0, max_value=12)


def around(*currents_a, ambient_c=30.0):
    """Neighbours of one size with these currents."""
    beside = (Neighbour(f"n{place}", SIZE, amps) for place, amps in enumerate(currents_a))
    return Bundle(ambient_c, tuple(beside))


def share(wires, loaded):
    """Current at which loaded wires of a bundle reach 105 °C, by that of one wire alone."""
    alone_a = low_a = high_a = current_for_temperature(SIZE, 105, 30)
    low_a = 0.0
    while high_a - low_a > 0.001 * alone_a:
        amps = (low_a + high_a) / 2
        others = [amps] * (loaded - 1) + [0.0] * (wires - loaded)
        is_cool = temperature_among(SIZE, amps, around(*others)) < 105
        low_a, high_a = (amps, high_a) if is_cool else (low_a, amps)
    return low_a / alone_a


@every_case("row", rows("drop_and_derating.csv", "bundle-"))
def test_bundles_of_aircraft_at_full_load(row):
    """Curves of MIL-W-5088L, read by a third party to 0.02."""
    wires = int(number(row, r"(\d+) wires"))
    assert share(wires, wires) == pytest.approx(float(row["value"]), abs=0.04)


def test_a_bundle_with_part_of_its_load():
    """AC 43.13-1B figure 11-6: eight wires, 60 % used, 0.6; ours with five of eight loaded."""
    printed = float(table("drop_and_derating.csv")["faa-fig116-8-60"]["value"])
    assert share(8, 5) == pytest.approx(printed, abs=0.05)
    assert share(8, 8) < share(8, 5) < share(8, 2)


@every_case("row", rows("grouping.csv", item="bunched"))
def test_circuits_in_a_bunch(row):
    """VDE 0298-4:2003 table 21; a circuit of a vehicle is one wire, the metal is its return."""
    circuits = int(number(row, r"(\d+) circuits"))
    assert share(circuits, circuits) == pytest.approx(float(row["value"]), abs=0.02)


@every_case("row", rows("grouping.csv", item="many-core"))
def test_cores_of_one_cable_are_told_more_safely_than_the_building_table_does(row):
    """VDE 0298-4:2013 table 26; its base is a cable of two or three loaded cores, ours one wire."""
    cores = int(number(row, r"(\d+) loaded cores"))
    printed = float(row["value"])
    assert printed - 0.17 < share(cores, cores) < printed


def test_a_wire_alone_is_as_warm_as_ever():
    assert temperature_among(SIZE, 20, around()) == conductor_temperature(SIZE, 20, 30)
    assert temperature_among(SIZE, 20, around(0.0)) == conductor_temperature(SIZE, 20, 30)


@given(sizes, currents_a, currents_a, st.floats(min_value=0.5, max_value=5))
def test_more_current_beside_it_makes_no_wire_cooler(size, own_a, beside_a, more_a):
    some_c = temperature_among(size, own_a, around(beside_a))
    assert temperature_among(size, own_a, around(beside_a + more_a)) >= some_c - 0.02
    assert some_c >= conductor_temperature(size, own_a, 30)


@given(sizes, currents_a, currents_a)
def test_current_and_temperature_are_inverse(size, one_a, other_a):
    bundle = around(one_a, other_a)
    amps = current_among(size, 105, bundle)
    warm_c = temperature_among(size, amps, bundle)
    assert warm_c == pytest.approx(105, abs=0.1) or (amps == 0 and warm_c > 105)


def test_a_bundle_that_melts_has_no_balance():
    assert temperature_among(SIZE, 1.0, around(400.0)) == math.inf


def test_what_lies_in_the_open_has_no_neighbours(load):
    van = load("van_upgraded")
    for wire in van.wires:
        covered = [r for r in van.runs[wire.id].routes if r.covering != "exposed"]
        found = list(bundles_of(wire, van, {}))
        assert [route for route, _ in found] == covered
        assert all(one.name != wire.id for _, bundle in found for one in bundle.neighbours)
