"""Mistakes around relays, fuel pumps, isolators and parts for another voltage."""

from planting import Mistake

MISTAKES = [
    Mistake(
        id="relay-coil-without-ground",
        words="The ground of a relay coil was forgotten.",
        bases=("van_headlamp_relays",),
        as_found="""
[as_found]
remove_wires = ["low-beam-relay-ground"]
""",
        codes=("RLY-NO-COIL",),
        names=("low_beam_relay",),
    ),
    Mistake(
        id="relay-coil-on-its-own-contact",
        words="The coil of a relay was fed from its own contact.",
        bases=("van_headlamp_relays",),
        as_found="""
[as_found]
change_wires = [{ id = "low-beam", from = "low_beam_relay.normally_open" }]
""",
        codes=("RLY-NO-COIL",),
        names=("low_beam_relay", "low-beam"),
    ),
    Mistake(
        id="relay-that-buzzes",
        words="A relay got its coil current over its own contact of rest.",
        bases=("van_headlamp_relays",),
        as_found="""
[as_found]
change_wires = [
  { id = "low-beam", from = "low_beam_relay.normally_closed" },
]
[[as_found.change_component]]
role = "low_beam_relay"
terminals = [
  { name = "coil_in", label = "86", connection = "blade 6.3 mm" },
  { name = "coil_out", label = "85", connection = "blade 6.3 mm" },
  { name = "common", label = "30", connection = "blade 6.3 mm" },
  { name = "normally_open", label = "87", connection = "blade 6.3 mm" },
  { name = "normally_closed", label = "87a", connection = "blade 6.3 mm" },
]
""",
        codes=("RLY-CHATTER",),
        names=("low_beam_relay", "low-beam"),
    ),
    Mistake(
        id="relay-that-latches",
        words="A second wire joins the contact of a relay to its coil.",
        bases=("van_headlamp_relays",),
        as_found="""
[as_found]
add_wires = [
  { id = "holding-wire", circuit = "lamps", from = "low_beam_relay.normally_open", to = "low_beam_relay.coil_in", size = "16 SAE", colour = "BU", insulation = "GXL", length = "0.1 m" },
]
""",  # noqa: E501
        codes=("RLY-LATCH",),
        names=("low_beam_relay", "holding-wire"),
    ),
    Mistake(
        id="relay-too-small",
        words="A relay for a horn was fitted for the headlamps.",
        bases=("van_headlamp_relays",),
        as_found="""
[overrides.low_beam_relay]
rated_current = "5 A"
""",
        codes=("RLY-OVERLOAD",),
        names=("low_beam_relay",),
    ),
    Mistake(
        id="relay-of-twenty-four-volts",
        words="A relay from a lorry, for 24 V.",
        bases=("van_headlamp_relays",),
        as_found="""
[overrides.low_beam_relay]
rated_voltage = "24 V"
""",
        codes=("RATED-LOW", "RLY-WEAK"),
        names=("low_beam_relay",),
    ),
    Mistake(
        id="lamp-of-six-volts",
        words="A headlamp bulb of 6 V was fitted on 12 V.",
        bases=("van_headlamp_relays", "van_upgraded"),
        as_found="""
[overrides.headlamp_left_low]
rated_voltage = "6 V"
""",
        codes=("RATED-VOLTAGE",),
        names=("headlamp_left_low",),
    ),
    Mistake(
        id="blower-of-six-volts",
        words="The heater blower is one for 6 V.",
        bases=("van_upgraded",),
        as_found="""
[overrides.heater_blower]
rated_voltage = "6 V"
""",
        codes=("RATED-VOLTAGE",),
        names=("heater_blower",),
    ),
    Mistake(
        id="fuel-pump-always-on",
        words="The fuel pump was joined straight to its fuse, past the relay.",
        bases=("van_fuel_pump",),
        as_found="""
[as_found]
change_wires = [{ id = "fuel-pump-feed", from = "fuel_pump_fuse.out" }]
""",
        codes=("FUEL-RUNS",),
        names=("fuel_pump",),
    ),
    Mistake(
        id="ground-past-the-isolator",
        words="The body ground was left on the battery post, past the isolator.",
        bases=("van_isolator",),
        as_found="""
[as_found]
change_wires = [{ id = "body-ground", from = "battery.grounded" }]
""",
        codes=("ISO-BYPASSED",),
        names=("body-ground", "isolator"),
    ),
    Mistake(
        id="isolator-too-small",
        words="A marine isolator for 50 A was fitted.",
        bases=("van_isolator", "tractor_isolator"),
        as_found="""
[overrides.isolator]
rated_current = "50 A"
""",
        codes=("ISO-RATING",),
        names=("isolator",),
    ),
]
