"""Equations of the nodes where rows of resistors end."""

import pytest

from upgrade_planner.electrical.network import Lamp, Network, Resistor, Source
from upgrade_planner.electrical.network.line_search import Search
from upgrade_planner.electrical.network.nodal import NodalEquations
from upgrade_planner.electrical.network.row_ends import Rows

BATTERY = Source("battery", "live", "ground", 12.6, 0.01, 0.02)
LAMP = Lamp("lamp", "lamp", "back", 55.0, 12.0)


def equations(*wires):
    resistors = [Resistor(f"{one}-{other}", one, other, 0.02) for one, other in wires]
    return NodalEquations(Network("ground", (BATTERY, LAMP, *resistors)))


def rows(whole):
    return Rows(whole, whole.row_plan)


def test_a_row_is_one_resistor_and_a_spur_none():
    whole = equations(("live", "fuse"), ("fuse", "lamp"), ("fuse", "spur"), ("back", "ground"))
    few = rows(whole).ends
    assert (whole.size, few.size) == (5, 3)
    assert sorted(conductance_s for *_, conductance_s in few.resistors) == pytest.approx([25, 50])


def test_wires_side_by_side_and_rings_are_no_ends():
    wires = [("live", "one"), ("live", "other"), ("one", "lamp"), ("other", "lamp")]
    ring = [("lamp", "three"), ("three", "four"), ("four", "lamp"), ("back", "ground")]
    few = rows(equations(*wires, *ring)).ends
    assert few.size == 3
    assert sorted(conductance_s for *_, conductance_s in few.resistors) == pytest.approx([50, 50])


def test_where_there_is_no_row_the_equations_are_the_same():
    whole = equations(("live", "lamp"), ("back", "ground"))
    assert rows(whole).ends is whole


def test_voltages_of_all_nodes_are_those_of_a_search_in_all():
    wires = ("live", "fuse"), ("fuse", "lamp"), ("fuse", "spur"), ("back", "frame")
    whole = equations(*wires, ("frame", "ground"))
    seen = rows(whole)
    found = seen.in_all(Search(seen.ends).from_lines())
    assert found.voltages == pytest.approx(Search(whole).from_lines().voltages, abs=1e-12)
    assert Search(whole).balances_at(found.voltages)
