"""Mistakes around coil, ballast, electronic unit and tachometer."""

from planting import Mistake

VAN, TRACTOR = "van_upgraded", "tractor_upgraded"
UPGRADED = (VAN, TRACTOR)
BALLAST = ("van_original_ballast", "tractor_original")
RESISTANCE = ("van_original_resistance",)
ORIGINAL = (*BALLAST, *RESISTANCE)

MISTAKES = [
    Mistake(
        id="unit-on-resistance-wire",
        words="The electronic distributor was joined to the old resistance wire.",
        bases=UPGRADED,
        as_found="""
[as_found]
change_wires = [
  { id = "ignition-feed", size = "20 AWG", conductor = "resistance wire", resistance = "1.35 ohm" },
]
""",
        codes=("IGN-STARVED",),
        names=("distributor", "ignition-feed"),
    ),
    Mistake(
        id="unit-behind-ballast",
        words="The ballast resistor stayed in the feed of the electronic distributor.",
        bases=(VAN,),
        as_found="""
[as_found]
change_wires = [{ id = "ignition-feed", to = "ballast.in" }]
add_wires = [
  { id = "unit-feed", circuit = "ignition feed", from = "ballast.out", to = "distributor.supply", size = "14 SAE", colour = "BU", insulation = "GPT" },
]

[[as_found.add_component]]
role = "ballast"
kind = "resistor"
name = "Ballast resistor"
place = "bulkhead_engine_side"
terminals = [
  { name = "in", label = "15", connection = "blade 6.3 mm" },
  { name = "out", label = "15a", connection = "blade 6.3 mm" },
]
ratings = { resistance = "1.4 ohm" }
""",  # noqa: E501
        codes=("IGN-STARVED",),
        names=("distributor", "ballast"),
    ),
    Mistake(
        id="unit-on-accessory",
        words="The feed was taken from the accessory terminal, which rests while cranking.",
        bases=(VAN,),
        as_found="""
[as_found]
change_wires = [{ id = "ignition-feed", from = "ignition_switch.accessory" }]
""",
        codes=("IGN-START",),
        names=("ignition-feed",),
    ),
    Mistake(
        id="unit-on-run-terminal",
        words="The feed was taken from the terminal that is live in run only.",
        bases=(VAN,),
        as_found="""
[as_found]
change_wires = [{ id = "ignition-feed", from = "ignition_switch.run" }]
""",
        codes=("IGN-START",),
        names=("ignition-feed",),
    ),
    Mistake(
        id="feed-on-battery-terminal",
        words="The ignition was fed from the battery terminal of the key switch.",
        bases=(*UPGRADED, *BALLAST),
        as_found="""
[as_found]
change_wires = [{ id = "ignition-feed", from = "ignition_switch.battery" }]
""",
        codes=("IGN-KEY-OFF",),
        names=("ignition-feed",),
    ),
    Mistake(
        id="coil-wire-from-junction",
        words="A thin wire from the main junction feeds the coil so that it starts better.",
        bases=ORIGINAL,
        as_found="""
[as_found]
add_wires = [
  { id = "found-wire", circuit = "ignition feed", from = "main_junction.stud", to = "coil.positive", size = "18 SAE", colour = "BU", insulation = "PVC" },
]
""",  # noqa: E501
        codes=("IGN-KEY-OFF",),
        names=("found-wire",),
    ),
    Mistake(
        id="feed-forgotten",
        words="The feed of the electronic distributor was not joined.",
        bases=UPGRADED,
        as_found="""
[as_found]
remove_wires = ["ignition-feed"]
""",
        codes=("IGN-NO-FEED",),
        names=("distributor.supply",),
    ),
    Mistake(
        id="bypass-left-on-unit",
        words="The old bypass wire was joined to the new distributor.",
        bases=UPGRADED,
        as_found="""
[as_found]
add_wires = [
  { id = "start-bypass", circuit = "start bypass", from = "starter.bypass", to = "distributor.supply", size = "14 SAE", colour = "YE", insulation = "GPT", length = "1.6 m" },
]
""",  # noqa: E501
        codes=("IGN-BYPASS",),
        names=("start-bypass",),
    ),
    Mistake(
        id="bypass-lost",
        words="The bypass wire was lost; the coil starts through its ballast.",
        bases=ORIGINAL,
        as_found="""
[as_found]
remove_wires = ["start-bypass"]
""",
        codes=("IGN-NO-BYPASS",),
        names=("coil.positive",),
    ),
    Mistake(
        id="ballast-bridged",
        words="A piece of wire was put across the ballast resistor.",
        bases=BALLAST,
        as_found="""
[as_found]
add_wires = [
  { id = "found-bridge", circuit = "ignition feed", from = "ballast.in", to = "ballast.out", size = "16 SAE", colour = "RD", insulation = "PVC", length = "0.1 m" },
]
""",  # noqa: E501
        codes=("IGN-BALLAST-BRIDGED",),
        names=("ballast", "found-bridge"),
    ),
    Mistake(
        id="resistance-wire-bridged",
        words="A plain wire from the key switch was run beside the resistance wire.",
        bases=RESISTANCE,
        as_found="""
[as_found]
add_wires = [
  { id = "found-bridge", circuit = "ignition feed", from = "ignition_switch.ignition", to = "coil.positive", size = "16 SAE", colour = "RD", insulation = "PVC" },
]
""",  # noqa: E501
        codes=("IGN-BALLAST-BRIDGED",),
        names=("ignition-resistance", "found-bridge"),
    ),
    Mistake(
        id="resistance-wire-became-copper",
        words="The resistance wire was cut out and replaced by plain wire.",
        bases=RESISTANCE,
        as_found="""
[as_found]
change_wires = [{ id = "ignition-resistance", size = "14 SAE", conductor = "copper" }]
""",
        codes=("IGN-POINTS-CURRENT", "IGN-BYPASS"),
        names=("coil", "ignition-resistance"),
    ),
    Mistake(
        id="coil-of-six-volts",
        words="A coil of too little resistance was fitted behind the ballast.",
        bases=ORIGINAL,
        as_found="""
[as_found]
[[as_found.change_component]]
role = "coil"
ratings = { primary_resistance = "0.7 ohm" }
""",
        codes=("IGN-POINTS-CURRENT",),
        names=("coil",),
    ),
    Mistake(
        id="coil-wires-swapped-van",
        words="The primary wires of the coil were swapped.",
        bases=("van_original_ballast",),
        as_found="""
[as_found]
change_wires = [
  { id = "coil-feed", to = "coil.negative" },
  { id = "start-bypass", to = "coil.negative" },
  { id = "points-lead", from = "coil.positive" },
  { id = "tachometer", from = "coil.positive" },
]
""",
        codes=("IGN-POLARITY",),
        names=("coil",),
    ),
    Mistake(
        id="coil-wires-swapped-tractor",
        words="The primary wires of the coil were swapped.",
        bases=("tractor_original",),
        as_found="""
[as_found]
change_wires = [
  { id = "coil-feed", to = "coil.negative" },
  { id = "start-bypass", to = "coil.negative" },
  { id = "points-lead", from = "coil.positive" },
]
""",
        codes=("IGN-POLARITY",),
        names=("coil",),
    ),
    Mistake(
        id="tachometer-on-supply",
        words="The tachometer's signal wire was joined to the feed of the distributor.",
        bases=(VAN,),
        as_found="""
[as_found]
change_wires = [{ id = "tachometer", from = "distributor.supply" }]
""",
        codes=("IGN-TACHOMETER",),
        names=("tachometer",),
    ),
    Mistake(
        id="tachometer-on-coil-feed",
        words="The tachometer's signal wire was joined to the fed side of the coil.",
        bases=("van_original_ballast", "van_original_resistance"),
        as_found="""
[as_found]
change_wires = [{ id = "tachometer", from = "coil.positive" }]
""",
        codes=("IGN-TACHOMETER",),
        names=("tachometer",),
    ),
    Mistake(
        id="old-points-left",
        words="The old points with their condenser stayed joined to the tachometer terminal.",
        bases=(VAN,),
        as_found="""
[as_found]
add_wires = [
  { id = "old-points-lead", circuit = "ignition primary", from = "distributor.tachometer", to = "old_points.points", size = "16 SAE", colour = "BK", insulation = "GPT", length = "0.4 m" },
]

[[as_found.add_component]]
role = "old_points"
kind = "points_distributor"
name = "Old points and condenser"
place = "engine_left"
terminals = [
  { name = "points", label = "1", connection = "stud M4" },
  { name = "case", label = "housing", connection = "case" },
]
ratings = { cylinders = 6, condenser = "0.22 µF" }
""",  # noqa: E501
        codes=("IGN-CONDENSER",),
        names=("old_points",),
    ),
    Mistake(
        id="unit-not-grounded",
        words="The distributor's ground wire was left off a housing that sits on a gasket.",
        bases=UPGRADED,
        as_found="""
[as_found]
[[as_found.change_component]]
role = "distributor"
terminals = [
  { name = "supply", label = "15", connection = "blade 6.3 mm" },
  { name = "tachometer", label = "tachometer", connection = "blade 6.3 mm" },
  { name = "ground", label = "31", connection = "blade 6.3 mm" },
]
""",
        codes=("IGN-GROUND",),
        names=("distributor",),
    ),
    Mistake(
        id="worn-battery",
        words="The battery is worn out: the electronic distributor starves while cranking.",
        bases=UPGRADED,
        as_found="""
[as_found]
[[as_found.change_component]]
role = "battery"
ratings = { internal_resistance = "45 mohm" }
""",
        codes=("IGN-CRANK-LOW",),
        names=("distributor.supply",),
    ),
]
