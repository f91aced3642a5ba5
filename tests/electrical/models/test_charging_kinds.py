"""Dynamos, transistor regulator, one-wire and DIN alternators, starters of other kinds."""

import pytest
from every_case import every_case
from oracle_of_networks import assert_as_simulated, is_alike, needs_ngspice

from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.electrical.operating_points import operating_point, operating_points
from upgrade_planner.electrical.states import (
    COASTING,
    CRANKING,
    IDLING,
    KEY_ON,
    LOADED,
    OFF,
    STATES,
    Engine,
    State,
)
from upgrade_planner.errors import PlannerError

BASE = """[configuration]
title = "t"
summary = "s"
vehicle = "carrier_van"
ground = "{ground}"

[systems]
ignition = "points_full_voltage"
charging = "{charging}"
starting = "{starting}"

"""
B_CIRCUIT = """[overrides.dynamo]
field_circuit = "B"
[overrides.regulator]
field_circuit = "B"
"""
BY_DAY = State("idling", "running, loads off", "run", Engine.RUNNING)
BOILS_V = 14.9  # US Army TM 5-3820-233-35/1, upper limit of the voltage unit, hot
CHARGING = (
    "dynamo_cut_out",
    "dynamo_third_brush",
    "dynamo_control_box",
    "alternator_external_plain",
    "alternator_one_wire",
    "alternator_internal_din",
)
STARTING = (
    "solenoid_on_starter_plain",
    "relay_on_wing",
    "mechanical_start_switch",
    "permanent_magnet_starter",
)


@pytest.fixture
def built(tmp_path):
    """A carrier van with these systems and changes."""

    def build(
        charging="dynamo_control_box",
        starting="solenoid_on_starter_plain",
        more="",
        ground="negative",
    ):
        path = tmp_path / "built.toml"
        path.write_text(BASE.format(charging=charging, starting=starting, ground=ground) + more)
        return load_configuration(str(path))

    return build


def role_of(configuration):
    return "dynamo" if "dynamo" in configuration.component_by_role else "alternator"


def delivered(point):
    return abs(point.element_current_a(role_of(point.configuration)))


@needs_ngspice
@pytest.mark.parametrize("ground", ["negative", "positive"])
@pytest.mark.parametrize("charging", [*CHARGING, "control box of circuit B"])
def test_independent_simulator_agrees_on_charging(built, charging, ground):
    more = B_CIRCUIT if charging.endswith("B") else ""
    name = "dynamo_control_box" if more else charging
    assert_as_simulated(operating_points(built(name, more=more, ground=ground)))


@needs_ngspice
@pytest.mark.parametrize("starting", STARTING)
def test_independent_simulator_agrees_on_starters(built, starting):
    assert_as_simulated(operating_points(built(starting=starting)))


@needs_ngspice
def test_independent_simulator_agrees_on_the_transistor_regulator(built):
    assert_as_simulated(operating_points(built("alternator_transistor_regulator")))


@pytest.mark.parametrize("charging", CHARGING)
def test_ground_polarity_changes_signs_and_nothing_else_in_each_state(built, charging):
    turned = operating_points(built(charging, ground="positive"))
    for state, one in operating_points(built(charging)).items():
        other = turned[state]
        for wire in one.configuration.wires:
            expected_a = -one.wire_current_a(wire.id)
            assert is_alike(other.wire_current_a(wire.id), expected_a), (state, wire.id)
        assert other.battery_v == pytest.approx(one.battery_v, rel=1e-9), state


@every_case("more", ["", B_CIRCUIT])
def test_control_box_holds_its_set_point(built, more):
    point = operating_point(built(more=more), BY_DAY)
    armature = point.live_v(TerminalRef("dynamo", "armature"))
    assert armature == pytest.approx(14.2, abs=0.1)
    assert 0.0 < delivered(point) < 22.0


@every_case("more", ["", B_CIRCUIT])
def test_current_unit_bounds_the_dynamo(built, more):
    lower = more + ("" if more else "[overrides.regulator]\n") + 'current_limit = "8 A"\n'
    assert delivered(operating_point(built(more=lower), LOADED)) == pytest.approx(8.0, rel=1e-6)


@every_case("part", ["dynamo", "regulator"])
def test_a_dynamo_on_a_box_of_the_other_circuit_gives_its_residual_volts(built, part):
    mixed = built(more=f'[overrides.{part}]\nfield_circuit = "B"\n')
    point = operating_point(mixed, IDLING)
    assert "dynamo" not in point.operated
    assert 1.0 < point.live_v(TerminalRef("dynamo", "armature")) < 3.0
    assert point.battery_v < 12.6


def test_residual_volts_follow_the_rating(built):
    more = '[overrides.dynamo]\nfield_circuit = "B"\nresidual_voltage = "2.5 V"\n'
    point = operating_point(built(more=more), IDLING)
    # the charge lamp pulls a little current the other way
    assert point.live_v(TerminalRef("dynamo", "armature")) == pytest.approx(2.5, abs=0.1)


def test_a_field_grounded_past_the_box_runs_away(built):
    more = """[as_found]
add_wires = [{ id = "wrong", circuit = "field", from = "dynamo.field", to = "engine_ground.stud", size = "16 SAE", colour = "BK", insulation = "GPT" }]
"""  # noqa: E501
    assert operating_point(built(more=more), BY_DAY).battery_v > BOILS_V
    assert operating_point(built(), BY_DAY).battery_v < BOILS_V


def test_a_box_of_circuit_b_without_ground_runs_away(built):
    more = B_CIRCUIT + '[as_found]\nremove_wires = ["regulator-ground"]\n'
    assert operating_point(built(more=more), BY_DAY).battery_v > BOILS_V


def test_a_box_of_circuit_a_without_ground_does_not_charge(built):
    point = operating_point(built(more='[as_found]\nremove_wires = ["regulator-ground"]\n'), BY_DAY)
    assert "dynamo" not in point.operated
    assert delivered(point) == 0.0


def test_third_brush_holds_its_current_whatever_the_loads(built):
    configuration = built("dynamo_third_brush")
    by_day, at_night = (
        operating_point(configuration, BY_DAY),
        operating_point(configuration, LOADED),
    )
    assert delivered(by_day) == pytest.approx(12.0, rel=1e-6)
    assert delivered(at_night) == pytest.approx(12.0, rel=1e-6)


def test_a_dynamo_with_cut_out_alone_gives_less_to_a_fuller_battery(built):
    empty, full = (
        delivered(operating_point(built("dynamo_cut_out", more=more), BY_DAY))
        for more in ('[overrides.battery]\nemf = "12.0 V"\n', '[overrides.battery]\nemf = "15 V"\n')
    )
    assert 0.0 < full < empty <= 11.0


@every_case("charging", ["dynamo_cut_out", "dynamo_third_brush", "dynamo_control_box"])
def test_cut_out_keeps_the_battery_from_the_standing_dynamo(built, charging):
    point = operating_point(built(charging), OFF)
    assert abs(point.wire_current_a("charge-output")) < 1e-6


def test_without_cut_out_the_battery_turns_the_dynamo(built):
    more = '[as_found]\nchange_wires = [{ id = "dynamo-output", to = "regulator.supply" }]\n'
    amps = abs(operating_point(built(more=more), OFF).element_current_a("dynamo:armature"))
    assert amps > 20.0


@every_case("charging", ["dynamo_cut_out", "dynamo_third_brush", "dynamo_control_box"])
def test_dynamo_charge_lamp_is_lit_at_rest_and_out_while_charging(built, charging):
    configuration = built(charging)
    lit = abs(operating_point(configuration, KEY_ON).element_current_a("charge_lamp"))
    out = abs(operating_point(configuration, BY_DAY).element_current_a("charge_lamp"))
    assert lit > 0.1
    assert out < 0.3 * lit


def test_one_wire_field_takes_nothing_with_the_key_on(built):
    one_wire = operating_point(built("alternator_one_wire"), KEY_ON)
    lamp = operating_point(built("alternator_internal_din"), KEY_ON)
    assert abs(one_wire.wire_current_a("charge-output")) < 1e-6
    assert abs(lamp.wire_current_a("charge-lamp")) > 0.1
    assert delivered(operating_point(built("alternator_one_wire"), IDLING)) > 1.0


def test_plain_regulator_stands_on_the_field_with_the_key_on(built):
    configuration = built("alternator_external_plain")
    assert abs(operating_point(configuration, KEY_ON).wire_current_a("field")) > 1.5
    assert abs(operating_point(configuration, OFF).wire_current_a("field")) < 1e-6


def test_an_alternator_fed_from_the_key_stops_charging_with_the_key_off(built):
    configuration = built("alternator_external_plain")
    assert delivered(operating_point(configuration, IDLING)) > 1.0
    coasting = operating_point(configuration, COASTING)
    assert "alternator" not in coasting.operated
    assert delivered(coasting) == 0.0


def test_no_feed_at_the_regulator_no_charge(built):
    more = '[as_found]\nremove_wires = ["regulator-supply"]\n'
    for charging in ("alternator_external_plain", "alternator_transistor_regulator"):
        point = operating_point(built(charging, more=more), LOADED)
        assert delivered(point) == 0.0, charging


def test_transistor_regulator_lights_the_lamp_until_it_charges(built):
    configuration = built("alternator_transistor_regulator")
    lit = abs(operating_point(configuration, KEY_ON).element_current_a("charge_lamp"))
    out = abs(operating_point(configuration, IDLING).element_current_a("charge_lamp"))
    assert lit > 0.1
    assert out < 0.01


@every_case("starting", STARTING)
def test_every_starter_turns_while_cranking_and_only_then(built, starting):
    configuration = built(starting=starting)
    wanted = configuration.component("starter").ratings["cranking_current"]
    for state in STATES:
        amps = abs(operating_point(configuration, state).element_current_a("starter"))
        expected = wanted if state is CRANKING else 0.0
        assert amps == pytest.approx(expected, abs=1e-6), state.name


@every_case("found", ['"C"', '"a"', "1"])
def test_a_field_circuit_that_does_not_exist_is_refused_in_words(built, found):
    with pytest.raises(PlannerError) as error:
        built(more=f"[overrides.dynamo]\nfield_circuit = {found}\n")
    assert "dynamo: found" in str(error.value)
    assert "expected" in str(error.value)
