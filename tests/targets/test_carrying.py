"""What of the owner's car goes over into another system."""

from wished import car_file, wished


def test_length_copper_and_colour_of_a_wire_stay_where_its_ends_stay():
    lines = """
[as_found]
change_wires = [
  { id = "ignition-feed", length = "1.23 m", colour = "OG" },
]
"""
    with car_file("saloon_original", lines) as car:
        made, there = wished(car, {"ignition": "trigger_module_full_voltage"})
    feed, old = made.configuration.wire_by_id["ignition-feed"], there.wire_by_id["ignition-feed"]
    assert made.configuration.runs["ignition-feed"].length_m == 1.23
    assert (feed.colour, feed.size, feed.insulation) == (old.colour, old.size, old.insulation)


def test_a_wire_joined_to_the_owners_fuse_stays_joined_there():
    made, _ = wished("saloon_fuses", {"ignition": "points_ballast"})
    ends = {str(ref) for wire in made.configuration.wires for ref in wire.ends}
    assert "dash_fuses.ignition" in ends


def test_a_link_that_hung_on_the_old_starter_relay_hangs_on_the_battery_feed_again():
    made, there = wished("saloon_fuses", {"starting": "solenoid_on_starter"})
    link = made.configuration.wire_by_id["main-link-again"]
    assert link.start == made.configuration.named_terminals["battery_feed"]
    assert link.size == there.wire_by_id["main-link"].size


def test_what_follows_from_the_engine_stays():
    made, there = wished("saloon_original", {"ignition": "points_ballast"})
    new, old = (one.component("distributor").ratings for one in (made.configuration, there))
    assert (new["cylinders"], new["dwell_angle"]) == (old["cylinders"], old["dwell_angle"])


def test_a_wire_that_is_found_dangerous_is_no_pattern_for_a_new_one():
    systems = {"charging": "alternator_internal_regulator", "indicator": "lamp_and_ammeter"}
    made, there = wished("pickup_as_found", systems)
    new, old = (one.wire_by_id["charge-output"] for one in (made.configuration, there))
    assert new.size.area_mm2 > 3 * old.size.area_mm2
