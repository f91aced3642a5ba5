"""Diode, breaker, module and capacitor-discharge unit in a real vehicle's network."""

import pytest

from upgrade_planner.checks.checking import check
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.electrical.operating_points import operating_points

HEAD = '[configuration]\ntitle = "t"\nsummary = "s"\nbased_on = "{base}"\n[changes]\n'

DIODE = """
change_wires = [ { id = "charge-lamp", from = "lamp_diode.cathode" } ]
add_wires = [ { id = "diode-lead", circuit = "charge lamp", from = "charge_lamp.return", to = "lamp_diode.anode", size = "16 SAE", colour = "BN/WH", insulation = "GXL", length = "0.3 m" } ]
[[changes.add_component]]
role = "lamp_diode"
kind = "diode"
name = "Diode in the lamp wire"
place = "behind_dash"
terminals = [ { name = "anode", label = "anode", connection = "blade 6.3 mm" }, { name = "cathode", label = "cathode", connection = "blade 6.3 mm" } ]
ratings = { rated_current = "3 A" }
"""  # noqa: E501

DISCHARGE = """
remove_wires = ["ignition-feed"]
remove_components = []
add_wires = [
 { id = "unit-plus", circuit = "ignition feed", from = "main_junction.stud", to = "unit.battery_positive", size = "10 SAE", colour = "RD", insulation = "GXL" },
 { id = "unit-minus", circuit = "ground", from = "unit.battery_negative", to = "engine_ground.stud", size = "10 SAE", colour = "BK", insulation = "GXL" },
 { id = "unit-switched", circuit = "ignition feed", from = "ignition_switch.ignition", to = "unit.switched", size = "16 SAE", colour = "BU", insulation = "GXL" },
]
[[changes.add_component]]
role = "unit"
kind = "capacitor_discharge_unit"
name = "Capacitor-discharge unit"
place = "bulkhead_engine_side"
terminals = [ { name = "battery_positive", label = "+", connection = "stud M6" }, { name = "battery_negative", label = "−", connection = "stud M6" }, { name = "switched", label = "15", connection = "blade 6.3 mm" }, { name = "coil_positive", label = "coil +", connection = "blade 6.3 mm" }, { name = "coil_negative", label = "coil −", connection = "blade 6.3 mm" } ]
ratings = { supply_current = "6 A" }
"""  # noqa: E501


def points(tmp_path, changes, base="van_upgraded"):
    path = tmp_path / "kinds.toml"
    path.write_text(HEAD.format(base=base) + changes)
    configuration = load_configuration(str(path))
    check(configuration)  # rules stay calm with kinds they know nothing of
    return operating_points(configuration)


def test_diode_in_the_lamp_wire_stops_the_back_feed_and_still_excites(tmp_path, load):
    with_diode = points(tmp_path, DIODE)
    without = operating_points(load("van_upgraded"))
    unit = TerminalRef("distributor", "supply")
    assert without["coasting"].live_v(unit) > 1.0
    assert abs(with_diode["coasting"].live_v(unit) or 0.0) < 0.1
    assert with_diode["key_on"].wire_current_a("diode-lead") == pytest.approx(
        without["key_on"].wire_current_a("charge-lamp"), rel=0.2
    )


def test_discharge_unit_draws_from_its_heavy_pair_only_while_it_works(tmp_path):
    found = points(tmp_path, DISCHARGE)
    assert found["loaded"].wire_current_a("unit-plus") == pytest.approx(6.0, rel=1e-6)
    assert found["off"].wire_current_a("unit-plus") == pytest.approx(0.0, abs=1e-9)
    assert found["coasting"].wire_current_a("unit-plus") == pytest.approx(0.0, abs=1e-9)
    assert 0.1 < found["key_on"].wire_current_a("unit-switched") < 0.5
