"""Relays pull in by the voltage of their coils; two batteries; key switches without start."""

import pytest
from every_case import every_case
from oracle_of_networks import assert_as_simulated, needs_ngspice

from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.electrical.batteries import emf_of, grounded_post, live_post
from upgrade_planner.electrical.operating_points import operating_point, operating_points
from upgrade_planner.electrical.performance import battery_current_a
from upgrade_planner.electrical.states import (
    CRANKING,
    IDLING,
    KEY_ON,
    LOADED,
    OFF,
    position_of,
)

HEAD = '[configuration]\ntitle = "t"\nsummary = "s"\nbased_on = "{base}"\n[changes]\n'

BLADES = """terminals = [
  { name = "coil_in", label = "86", connection = "blade 6.3 mm" },
  { name = "coil_out", label = "85", connection = "blade 6.3 mm" },
  { name = "common", label = "30", connection = "blade 6.3 mm" },
  { name = "normally_open", label = "87", connection = "blade 6.3 mm" },
  { name = "normally_closed", label = "87a", connection = "blade 6.3 mm" },
]
"""

RELAY = """
[[changes.add_component]]
role = "relay"
kind = "relay"
name = "Relay"
place = "behind_dash"
{blades}ratings = {{ coil_resistance = "85 ohm", rated_current = "30 A"{more} }}

[[changes.add_component]]
role = "spot_lamp"
kind = "lamp"
name = "Spot lamp"
place = "front_lamps"
terminals = [
  {{ name = "supply", label = "30", connection = "blade 6.3 mm" }},
  {{ name = "case", label = "shell", connection = "case" }},
]
ratings = {{ power = "55 W", rated_voltage = "12 V" }}
"""
WIRE = (
    '  {{ id = "{0}", circuit = "lamps", from = "{1}", to = "{2}", size = "14 SAE", '
    'colour = "BU", insulation = "GXL" }},\n'
)
COIL = "ignition_switch.ignition"


def wires(*triples):
    return "add_wires = [\n" + "".join(WIRE.format(*triple) for triple in triples) + "]\n"


PLAIN = (
    ("r-in", COIL, "relay.coil_in"),
    ("r-out", "relay.coil_out", "dash_ground.stud"),
    ("r-common", "distribution.stud", "relay.common"),
    ("r-lamp", "relay.normally_open", "spot_lamp.supply"),
)


@pytest.fixture
def built(tmp_path):
    def build(*triples, base="van_upgraded", rating="", more=""):
        text = HEAD.format(base=base) + wires(*triples)
        text += RELAY.format(blades=BLADES, more=rating) + more
        path = tmp_path / "built.toml"
        path.write_text(text)
        return load_configuration(str(path))

    return build


def lamp_v(point):
    return point.live_v(TerminalRef("spot_lamp", "supply")) or 0.0


def test_a_relay_pulls_in_with_its_coil_and_feeds_its_load(built):
    points = operating_points(built(*PLAIN))
    for name, point in points.items():
        is_in = name in ("key_on", "cranking", "idling", "loaded")
        assert ("relay" in point.operated) == is_in, name
        assert (lamp_v(point) > 8.0) == is_in, name


def test_at_rest_the_other_contact_is_closed(built):
    swapped = (*PLAIN[:3], ("r-lamp", "relay.normally_closed", "spot_lamp.supply"))
    configuration = built(*swapped)
    assert lamp_v(operating_point(configuration, OFF)) > 11.0
    assert lamp_v(operating_point(configuration, KEY_ON)) < 0.1


@needs_ngspice
def test_independent_simulator_agrees_on_pulled_in_relays(built):
    assert_as_simulated(operating_points(built(*PLAIN)))


@every_case(("pull_in", "is_in"), [("7 V", True), ("13 V", False)])
def test_pull_in_voltage_decides(built, pull_in, is_in):
    configuration = built(*PLAIN, rating=f', pull_in_voltage = "{pull_in}"')
    point = operating_point(configuration, KEY_ON)
    assert ("relay" in point.operated) == is_in


def test_a_relay_behind_a_relay_takes_two_rounds(built):
    second = (
        """
[[changes.add_component]]
role = "second_relay"
kind = "relay"
name = "Second relay"
place = "behind_dash"
"""
        + BLADES
        + 'ratings = { coil_resistance = "85 ohm" }\n'
    )
    chain = (
        *PLAIN[:3],
        ("s-in", "relay.normally_open", "second_relay.coil_in"),
        ("s-out", "second_relay.coil_out", "dash_ground.stud"),
        ("s-common", "distribution.stud", "second_relay.common"),
        ("s-lamp", "second_relay.normally_open", "spot_lamp.supply"),
    )
    configuration = built(*chain, more=second)
    assert operating_point(configuration, KEY_ON).operated >= {"relay", "second_relay"}
    assert lamp_v(operating_point(configuration, KEY_ON)) > 11.0
    assert lamp_v(operating_point(configuration, OFF)) < 0.1


def test_a_relay_that_cuts_its_own_coil_chatters_and_says_so(built):
    buzzer = (
        ("r-in", "relay.normally_closed", "relay.coil_in"),
        ("r-out", "relay.coil_out", "dash_ground.stud"),
        ("r-common", COIL, "relay.common"),
        ("r-lamp", "relay.normally_open", "spot_lamp.supply"),
    )
    points = operating_points(built(*buzzer))
    assert points["key_on"].chattering == ("relay",)
    assert points["off"].chattering == ()


HOLDS_ITSELF = (
    ("r-in", COIL, "relay.coil_in"),
    ("r-hold", "relay.normally_open", "relay.coil_in"),
    *PLAIN[1:],
)


def test_a_relay_fed_by_its_own_contact_stays_in_when_it_was_in(built):
    # the diode keeps the ignition out of it: only the coil is held
    diode = """
[[changes.add_component]]
role = "hold_diode"
kind = "diode"
name = "Diode before the coil"
place = "behind_dash"
terminals = [
  { name = "anode", label = "anode", connection = "blade 6.3 mm" },
  { name = "cathode", label = "cathode", connection = "blade 6.3 mm" },
]
ratings = { rated_current = "3 A" }
"""
    held = (
        ("d-in", COIL, "hold_diode.anode"),
        ("r-in", "hold_diode.cathode", "relay.coil_in"),
        *HOLDS_ITSELF[1:],
    )
    configuration = built(*held, more=diode)
    assert "relay" not in operating_point(configuration, OFF).operated
    running = operating_point(configuration, IDLING).operated
    assert "relay" in running
    assert "relay" in operating_point(configuration, OFF, running).operated
    assert "relay" in operating_points(configuration)["coasting"].operated


PAIR = """
remove_wires = ["battery-ground", "body-ground"]
add_wires = [
  {{ id = "battery-ground", circuit = "battery cable", from = "battery_second.{grounded}", to = "engine_ground.stud", size = "2 SAE", colour = "BK", insulation = "SGT" }},
  {{ id = "body-ground", circuit = "ground", from = "battery_second.{grounded}", to = "body_ground.stud", size = "10 SAE", colour = "BK", insulation = "GPT" }},
  {{ id = "battery-link-cable", circuit = "battery cable", from = "battery.grounded", to = "battery_second.{joined}", size = "2 SAE", colour = "BK", insulation = "SGT" }},{more}
]
[changes.change_component_placeholder]
"""  # noqa: E501


def pair(tmp_path, joined, second, more="", ground="negative"):
    """The van with a second battery: below the first, in series, or beside it."""
    text = HEAD.format(base="van_upgraded") + PAIR.format(
        grounded="grounded", joined=joined, more=more
    )
    text = (
        text.replace("[changes.change_component_placeholder]\n", "")
        + f"""
[[changes.add_component]]
role = "battery_second"
kind = "battery"
name = "Second battery"
place = "battery_tray"
terminals = [
  {{ name = "positive", label = "+", connection = "post positive" }},
  {{ name = "negative", label = "−", connection = "post negative" }},
]
ratings = {{ emf = "{second}", internal_resistance = "5 mohm", capacity = "55 Ah" }}
[overrides.battery]
emf = "{second}"
internal_resistance = "5 mohm"
"""
    )
    path = tmp_path / f"pair_{joined}_{ground}.toml"
    path.write_text(text)
    return load_configuration(str(path))


def test_two_six_volt_batteries_in_series_are_one_of_twelve(tmp_path):
    configuration = pair(tmp_path, "live", "6.3 V")
    assert str(grounded_post(configuration)) == "battery_second.negative"
    assert str(live_post(configuration)) == "battery.positive"
    assert emf_of(configuration) == pytest.approx(12.6)
    single = operating_points(load_configuration("van_upgraded"))
    for name, point in operating_points(configuration).items():
        assert point.battery_v == pytest.approx(single[name].battery_v, abs=0.25), name
        assert battery_current_a(point) == pytest.approx(
            battery_current_a(single[name]), abs=2.0
        ), name


def test_two_batteries_side_by_side_share_the_starter(tmp_path):
    beside = (
        '\n  { id = "live-link", circuit = "battery cable", from = "battery.live", '
        'to = "battery_second.live", size = "2 SAE", colour = "RD", insulation = "SGT" },'
    )
    configuration = pair(tmp_path, "grounded", "12.6 V", beside)
    point = operating_point(configuration, CRANKING)
    shares = [point.element_current_a(role) for role in ("battery", "battery_second")]
    assert all(-130.0 < share < -20.0 for share in shares)
    assert battery_current_a(point) == pytest.approx(sum(shares))
    assert emf_of(configuration) == pytest.approx(12.6)


@needs_ngspice
def test_independent_simulator_agrees_on_two_batteries(tmp_path):
    assert_as_simulated(operating_points(pair(tmp_path, "live", "6.3 V")))


def test_a_key_switch_without_start_stays_in_run_while_cranking(tmp_path):
    text = (
        HEAD.format(base="tractor_original")
        + """
remove_wires = ["start-interlock", "start-signal"]
add_wires = [
  { id = "button", circuit = "start signal", from = "main_junction.stud", to = "start_interlock.in", size = "2.5 mm²", colour = "VT", insulation = "PVC" },
  { id = "start-signal", circuit = "start signal", from = "start_interlock.out", to = "starter.solenoid", size = "2.5 mm²", colour = "VT", insulation = "PVC" },
]
[[changes.change_component]]
role = "ignition_switch"
ratings = { positions = { off = [], run = [["battery", "ignition"]] } }
"""  # noqa: E501
    )
    path = tmp_path / "plain_key.toml"
    path.write_text(text)
    configuration = load_configuration(str(path))
    key = configuration.component("ignition_switch")
    positions = [position_of(key, state, configuration) for state in (OFF, CRANKING, LOADED)]
    assert positions == ["off", "run", "run"]
    # the bypass of the starter feeds the coil from behind: volts there prove nothing
    feed = "ignition_switch:battery-ignition"
    assert abs(operating_point(configuration, CRANKING).element_current_a(feed)) > 0.1


def test_a_relay_that_was_pulled_in_stays_in_at_less_voltage(built):
    """Its own load pulls the common feed down below what pulled it in; it does not chatter."""
    resistor = """
[[changes.add_component]]
role = "weak_feed"
kind = "resistor"
name = "Bad joint in the feed"
place = "behind_dash"
terminals = [
  { name = "in", label = "1", connection = "blade 6.3 mm" },
  { name = "out", label = "2", connection = "blade 6.3 mm" },
]
ratings = { resistance = "0.5 ohm" }
"""
    sagging = (
        ("w-in", COIL, "weak_feed.in"),
        ("r-in", "weak_feed.out", "relay.coil_in"),
        ("r-out", "relay.coil_out", "dash_ground.stud"),
        ("r-common", "weak_feed.out", "relay.common"),
        ("r-lamp", "relay.normally_open", "spot_lamp.supply"),
    )
    configuration = built(*sagging, rating=', pull_in_voltage = "11.5 V"', more=resistor)
    point = operating_point(configuration, KEY_ON)
    assert point.chattering == ()
    assert "relay" in point.operated
    assert 9.0 < point.live_v(TerminalRef("relay", "coil_in")) < 11.5
