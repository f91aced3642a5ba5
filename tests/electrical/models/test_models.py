"""What single parts do electrically: sensing, charge lamp, back-feed, starter, joints."""

import pytest
from every_case import every_case
from planting import Mistake, planted

from upgrade_planner.checks.trials import live_in, with_diode_at
from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.electrical.circuit import network_of
from upgrade_planner.electrical.models import assumptions as assumed
from upgrade_planner.electrical.operating_points import operating_point
from upgrade_planner.electrical.states import (
    COASTING,
    CRANKING,
    IDLING,
    KEY_ON,
    LOADED,
    OFF,
    State,
)

LAMP = TerminalRef("alternator", "lamp")
UNIT = TerminalRef("distributor", "supply")


def changed(text, base, tmp_path):
    mistake = Mistake(id="changed", words="", bases=(base,), as_found=text, codes=())
    return planted(mistake, base, tmp_path)


def test_sensing_at_own_stud_costs_the_battery_what_the_output_wire_drops(load, tmp_path):
    """The regulated point moves from the junction to the stud; droop is a few millivolts."""
    good = operating_point(load("van_upgraded"), LOADED)
    text = """
[as_found]
change_wires = [{ id = "sensing", from = "alternator.output", length = "0.2 m" }]
"""
    bad = operating_point(changed(text, "van_upgraded", tmp_path), LOADED)
    wire = bad.configuration.wire_by_id["charge-output"]
    lost = good.battery_v - bad.battery_v
    assert lost == pytest.approx(bad.wire_drop_v(wire), abs=0.02)
    assert lost > 0.05


def test_sensed_junction_stands_at_the_set_point(load):
    point = operating_point(load("van_upgraded"), LOADED)
    machine = point.configuration.component("alternator")
    amps = abs(point.element_current_a("alternator"))
    junction = point.live_v(TerminalRef("main_junction", "stud"))
    ground = point.live_v(TerminalRef("alternator", "case"))
    assert junction is not None
    assert ground is not None
    expected = machine.ratings["set_point"] - assumed.DROOP_OHM * amps
    assert junction - ground == pytest.approx(expected, abs=1e-6)


@every_case("base", ["van_upgraded", "tractor_upgraded"])
def test_bridged_lamp_keeps_the_ignition_alive_and_a_diode_stops_it(base, tmp_path):
    text = """
[as_found]
change_wires = [{ id = "charge-lamp", from = "ignition_switch.ignition" }]
"""
    configuration = changed(text, base, tmp_path)
    least_v = configuration.component("distributor").ratings["minimum_supply"]
    point = operating_point(configuration, COASTING)
    alive = point.live_v(UNIT)
    assert alive is not None
    assert alive > least_v
    stopped = with_diode_at(LAMP, point)
    assert stopped is not None
    left = live_in(stopped, UNIT, point)
    assert left is None or left < 1.0


def test_diode_still_lets_the_lamp_excite(load):
    """Key on, engine stopped: current towards the machine passes the diode."""
    point = operating_point(load("van_upgraded"), KEY_ON)
    solution = with_diode_at(LAMP, point)
    assert solution is not None
    without = abs(point.element_current_a("alternator:exciter"))
    assert solution.current_a["alternator:exciter"] > 0.8 * without


@every_case("name", ["van_upgraded", "tractor_upgraded", "van_original_ballast"])
def test_lamp_goes_out_while_charging(load, name):
    lit = operating_point(load(name), KEY_ON).element_current_a("charge_lamp")
    out = operating_point(load(name), IDLING).element_current_a("charge_lamp")
    assert abs(out) < abs(lit) / 3


def test_nothing_flows_with_the_key_off(load):
    for name in ("van_upgraded", "tractor_upgraded", "van_original_ballast"):
        point = operating_point(load(name), OFF)
        assert abs(point.element_current_a("battery")) < 0.001


def test_output_without_a_wire_delivers_nothing(tmp_path):
    text = '[as_found]\nremove_wires = ["charge-output"]\n'
    for base in ("van_upgraded", "van_original_ballast"):
        point = operating_point(changed(text, base, tmp_path), LOADED)
        assert point.element_current_a("alternator") == 0.0
        assert point.element_current_a("battery") < 0.0


def test_output_at_idle_is_limited(load):
    """Loads of a winter night at idle: the old alternator is at its limit, the battery helps."""
    idle_loaded = State(LOADED.name, "idling, loads on", "run", IDLING.engine)
    point = operating_point(load("van_original_ballast"), idle_loaded)
    machine = point.configuration.component("alternator")
    delivered = abs(point.element_current_a("alternator"))
    assert delivered == pytest.approx(machine.ratings["idle_output"])
    assert point.element_current_a("battery") < 0


def test_heavy_cable_has_a_better_joint():
    assert assumed.joint_ohm(25.0) < assumed.joint_ohm(2.5) == assumed.JOINT_OHM
    assert assumed.joint_ohm(1000.0) == assumed.LEAST_JOINT_OHM


def test_joints_of_a_starter_cable_do_not_show_on_a_meter(load):
    # US Army TM 5-3820-256-24-4, electrical section p. 8: each connection, cranking, 0.0 V
    for name in ("van_upgraded", "tractor_upgraded"):
        point = operating_point(load(name), CRANKING)
        wire = point.configuration.wire_by_id["starter-cable"]
        amps = abs(point.wire_current_a(wire.id))
        assert amps * assumed.joint_ohm(wire.size.area_mm2) < 0.05


def test_starter_draws_its_rated_current_through_the_heavy_cable(load):
    point = operating_point(load("van_upgraded"), CRANKING)
    rated = point.configuration.component("starter").ratings["cranking_current"]
    assert abs(point.element_current_a("starter")) == pytest.approx(rated)
    assert point.battery_v == pytest.approx(12.6 - 0.01 * -point.element_current_a("battery"))


def test_solenoid_windings_are_joined_to_ground_at_rest(load):
    network = network_of(load("van_upgraded"), KEY_ON, {})
    names = {element.name for element in network.elements}
    assert {"starter:hold-in", "starter:pull-in"} <= names
    cranking = {element.name for element in network_of(load("van_upgraded"), CRANKING, {}).elements}
    assert "starter:pull-in" not in cranking
