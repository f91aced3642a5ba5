"""Wires of aluminium: resistance, heat and short circuit by the copper that behaves alike."""

from math import sqrt

import pytest
from attrs import evolve
from pair_facts import sized

from upgrade_planner.checks.checking import check
from upgrade_planner.configuration.edits import edited
from upgrade_planner.configuration.model import Conductor
from upgrade_planner.electrical.circuit import wire_element
from upgrade_planner.electrical.fusible_links import SUSTAINED_MELTING_A_PER_IN15
from upgrade_planner.electrical.lasting_current import lasting_current
from upgrade_planner.electrical.metals import (
    ALUMINIUM_RATIO,
    heating_current,
    shorting_current,
)
from upgrade_planner.electrical.operating_points import operating_points
from upgrade_planner.electrical.withstand import adiabatic_constant


def in_aluminium(name, wire_id):
    found = sized(name)
    wires = tuple(
        evolve(w, conductor=Conductor.ALUMINIUM) if w.id == wire_id else w for w in found.wires
    )
    return evolve(found, wires=wires)


@pytest.fixture
def van():
    return in_aluminium("van_upgraded", "charge-output")


def test_its_metal_resists_more_and_its_joints_alike(van):
    copper, poor = (
        wire_element(c.wire_by_id["charge-output"], c, 20.0) for c in (sized("van_upgraded"), van)
    )
    assert poor.joints_ohm == copper.joints_ohm
    metal = poor.resistance_ohm - poor.joints_ohm
    assert metal == pytest.approx(ALUMINIUM_RATIO * (copper.resistance_ohm - copper.joints_ohm))


def test_it_carries_less_for_good(van):
    wire, of_copper = van.wire_by_id["charge-output"], sized("van_upgraded")
    less_a = lasting_current(wire, van)[0]
    more_a = lasting_current(of_copper.wire_by_id["charge-output"], of_copper)[0]
    assert less_a == pytest.approx(more_a / sqrt(ALUMINIUM_RATIO))


def test_it_gets_warmer_by_the_same_current(van):
    warm_c, cooler_c = (
        operating_points(c)["loaded"].temperature_c["charge-output"]
        for c in (van, sized("van_upgraded"))
    )
    assert warm_c > cooler_c


def test_short_circuits_heat_it_as_the_constants_of_the_metals_say(van):
    """Within the difference that their temperatures of no resistance make, a few per cent."""
    wire = van.wire_by_id["charge-output"]
    of_copper, of_aluminium = (
        adiabatic_constant(60, 160, metal) for metal in ("copper", "aluminium")
    )
    assert shorting_current(wire, 1.0) == pytest.approx(of_copper / of_aluminium, rel=0.02)


def test_long_currents_agree_with_the_published_melting_constants(van):
    """Preece's constants differ by melting point and metal; the ratio has the same sense."""
    wire = van.wire_by_id["charge-output"]
    published = SUSTAINED_MELTING_A_PER_IN15["copper"] / SUSTAINED_MELTING_A_PER_IN15["aluminium"]
    assert heating_current(wire, 1.0) == pytest.approx(published, rel=0.1)


def test_the_remedy_is_copper_that_conducts_as_well(van):
    (found,) = (f for f in check(van) if f.code == "WIRE-ALUMINIUM")
    mended = edited(van, found.remedy.edits)
    new, old = (c.wire_by_id["charge-output"] for c in (mended, van))
    assert new.conductor is Conductor.COPPER
    assert new.size.area_mm2 <= old.size.area_mm2 <= ALUMINIUM_RATIO * new.size.area_mm2
    assert "WIRE-ALUMINIUM" not in {f.code for f in check(mended)}
