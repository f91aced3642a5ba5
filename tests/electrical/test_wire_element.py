"""The element of a wire: its metal and its joints, one value."""

import pytest
from every_case import every_case

from upgrade_planner.configuration.model import Conductor
from upgrade_planner.electrical.circuit import wire_element
from upgrade_planner.electrical.conductors import wire_resistance
from upgrade_planner.electrical.models import assumptions as assumed


@every_case("name", ["van_upgraded", "van_original_resistance"])
def test_metal_and_joints_of_a_wire_stray_apart(load, name):
    """What one of them gains leaves the other as it is, and both make the wire."""
    configuration = load(name)
    for wire in configuration.wires:
        element = wire_element(wire, configuration, 20.0)
        connectors = len(configuration.runs[wire.id].connectors)
        joints = 2 * assumed.joint_ohm(wire.size.area_mm2) + connectors * assumed.CAVITY_OHM
        metal = element.strayed(metal_ratio=2.0).resistance_ohm - element.resistance_ohm
        assert element.strayed(joints_ratio=3.0).resistance_ohm == pytest.approx(metal + 3 * joints)
        assert metal > 0
        if wire.conductor is not Conductor.RESISTANCE:
            length_m = configuration.runs[wire.id].length_m
            assert metal == pytest.approx(wire_resistance(wire.size, length_m, 20.0))
