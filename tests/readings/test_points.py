"""Probes: which terminal a lead touches, and which lead is the red one."""

from every_case import every_case

from upgrade_planner.readings.points import placed, probe_of


@every_case(
    ("words", "node"),
    [
        ("battery.live", "battery.positive"),
        ("battery.grounded", "battery.negative"),
        ("coil.feed", "coil.positive"),
        ("coil.switched", "coil.negative"),
        ("main_junction.stud", "main_junction.stud"),
        ("metal.engine", "metal.engine"),
        ("starter.case", "starter.case"),
    ],
)
def test_words_lead_to_a_node(load, words, node):
    assert probe_of(words, load("van_original_ballast")).node == node


@every_case("words", ["alternator.sense", "dynamo.armature", "metal.frame", "coil.x"])
def test_what_is_not_there_has_no_probe(load, words):
    assert probe_of(words, load("van_original_ballast")) is None


def test_a_terminal_without_wire_has_no_probe(load):
    """The run terminal of the key switch is spare: no lead is put on it."""
    assert probe_of("ignition_switch.run", load("van_upgraded")) is None


def test_first_alternative_that_exists_is_taken(load, reading):
    supply = reading("key_on", "distributor.supply coil.feed", "metal.engine")
    assert placed(supply, load("van_upgraded")).live.node == "distributor.supply"
    assert placed(supply, load("van_original_ballast")).live.node == "coil.positive"


def test_leads_change_colour_with_the_ground(load, reading, mirror):
    """The red lead goes to the positive side, so that no meter shows a minus sign."""
    battery = reading("key_on", "battery.live", "battery.grounded")
    negative = placed(battery, load("van_upgraded"))
    positive = placed(battery, mirror(load("van_upgraded")))
    assert negative.red.node == positive.red.node == "battery.positive"
    assert negative.live.node != positive.live.node


def test_coil_feed_follows_the_wires_on_positive_ground(load, mirror):
    assert probe_of("coil.feed", mirror(load("van_original_ballast"))).node == "coil.negative"
