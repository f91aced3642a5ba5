"""Mistakes with the current of a coil, with feeds beside each other and second batteries."""

from planting import Mistake

SECOND = """
[[as_found.add_component]]
role = "house_battery"
kind = "battery"
name = "Second battery"
place = "{place}"
terminals = [
  {{ name = "positive", label = "+", connection = "post positive" }},
  {{ name = "negative", label = "-", connection = "post negative" }},
]
ratings = {{ emf = "12.6 V", internal_resistance = "10 mohm" }}
"""

RADIO = """
[[as_found.add_component]]
role = "found_radio"
kind = "load"
name = "Radio, found"
place = "behind_dash"
terminals = [
  { name = "supply", label = "+", connection = "blade 6.3 mm" },
  { name = "case", label = "housing", connection = "case" },
]
ratings = { power = "40 W", rated_voltage = "12 V" }
"""

MISTAKES = [
    Mistake(
        id="ballast-of-another-coil",
        words="A ballast of three times the resistance was fitted.",
        bases=("van_original_ballast", "van_trigger_module"),
        as_found="""
[overrides.ballast]
resistance = "4.2 ohm"
""",
        codes=("IGN-COIL-STARVED",),
        names=("ballast", "coil"),
        severity="warning",
    ),
    Mistake(
        id="resistance-wire-of-another-car",
        words="A resistance wire of another car, of three times the resistance, was laid.",
        bases=("van_original_resistance", "truck_fan_and_pump"),
        as_found="""
[as_found]
change_wires = [{ id = "ignition-resistance", resistance = "4 ohm" }]
""",
        codes=("IGN-COIL-STARVED",),
        names=("ignition-resistance", "coil"),
        severity="warning",
    ),
    Mistake(
        id="radio-behind-the-ballast",
        words="A radio was joined to the coil, behind the ballast.",
        bases=("van_original_ballast",),
        as_found="""
[as_found]
add_wires = [
  { id = "found-radio-wire", circuit = "accessory", from = "coil.positive", to = "found_radio.supply", size = "16 SAE", colour = "BN", insulation = "GXL", length = "1.5 m" },
]
"""  # noqa: E501
        + RADIO,
        codes=("IGN-COIL-STARVED",),
        names=("found-radio-wire", "coil"),
        severity="warning",
    ),
    Mistake(
        id="good-feed-dead-in-start",
        words="The new feed was taken from the run terminal; the old resistance wire stayed.",
        bases=("van_upgraded",),
        as_found="""
[as_found]
change_wires = [{ id = "ignition-feed", from = "ignition_switch.run" }]
add_wires = [
  { id = "found-resistance", circuit = "ignition feed", from = "ignition_switch.ignition", to = "distributor.supply", size = "20 AWG", colour = "PK", insulation = "SXL", conductor = "resistance wire", resistance = "1.35 ohm", length = "1.5 m" },
]
""",  # noqa: E501
        codes=("IGN-START",),
        names=("ignition-feed", "distributor.supply"),
        severity="warning",
    ),
    Mistake(
        id="second-battery-without-fuse",
        words="A second battery stands beside the first, its cable to the starter has no fuse.",
        bases=("van_upgraded",),
        as_found="""
[as_found]
add_wires = [
  { id = "house-feed", circuit = "main feed", from = "house_battery.positive", to = "starter.battery", size = "6 SAE", colour = "RD", insulation = "GXL", length = "2 m" },
  { id = "house-ground", circuit = "ground", from = "house_battery.negative", to = "engine_ground.stud", size = "6 SAE", colour = "BK", insulation = "GXL", length = "1.2 m" },
]
"""  # noqa: E501
        + SECOND.format(place="battery_tray"),
        codes=("PROT-NONE",),
        names=("house-feed",),
        severity="warning",
    ),
    Mistake(
        id="house-battery-without-fuse",
        words="A house battery feeds the cabin lamp's switch without a fuse.",
        bases=("launch_complete",),
        as_found="""
[as_found]
change_wires = [{ id = "pump-fuse-feed", from = "house_battery.positive" }]
add_wires = [
  { id = "house-feed", circuit = "main feed", from = "house_battery.positive", to = "ammeter.battery_side", size = "6 SAE", colour = "RD", insulation = "GXL", length = "1.5 m" },
  { id = "house-ground", circuit = "ground", from = "house_battery.negative", to = "engine_ground.stud", size = "6 SAE", colour = "BK", insulation = "GXL", length = "1.2 m" },
]
"""  # noqa: E501
        + SECOND.format(place="battery_box"),
        codes=("PROT-NONE",),
        names=("house-feed",),
        severity="warning",
    ),
    Mistake(
        id="starter-cable-of-lamp-wire",
        words="The starter cable was renewed in heavy lamp wire.",
        bases=("van_upgraded", "tractor_upgraded"),
        as_found="""
[as_found]
change_wires = [{ id = "starter-cable", size = "6 mm²" }]
""",
        codes=("STA-DROP-LIVE",),
        names=("starter-cable",),
        severity="warning",
    ),
    Mistake(
        id="one-wire-output-behind-the-key",
        words="The output of the one-wire machine was joined to a switched feed.",
        bases=("pickup_ammeter_kept",),
        as_found="""
[as_found]
change_wires = [{ id = "output-link", from = "ignition_switch.ignition" }]
""",
        codes=("CHG-OUTPUT-OPEN",),
        names=("output-link", "alternator"),
        severity="danger",
    ),
]
