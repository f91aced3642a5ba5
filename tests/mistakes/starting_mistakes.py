"""Mistakes around starter, solenoid and interlock."""

from planting import Mistake

VAN, TRACTOR = "van_upgraded", "tractor_upgraded"
UPGRADED = (VAN, TRACTOR)
ORIGINAL = ("van_original_ballast", "van_original_resistance", "tractor_original")
ALL = (*ORIGINAL, *UPGRADED)

MISTAKES = [
    Mistake(
        id="interlock-bridged",
        words="A piece of wire bridges the clutch or gear lever switch.",
        bases=ALL,
        as_found="""
[as_found]
add_wires = [
  { id = "found-bridge", circuit = "start signal", from = "start_interlock.in", to = "start_interlock.out", size = "14 SAE", colour = "VT", insulation = "PVC", length = "0.1 m" },
]
""",  # noqa: E501
        codes=("STA-INTERLOCK",),
        names=("found-bridge", "start_interlock"),
    ),
    Mistake(
        id="interlock-left-out",
        words="The start wire was run straight from the key switch to the solenoid.",
        bases=ALL,
        as_found="""
[as_found]
change_wires = [{ id = "start-signal", from = "ignition_switch.start" }]
""",
        codes=("STA-INTERLOCK",),
        names=("start-signal",),
    ),
    Mistake(
        id="bypass-on-solenoid",
        words="The bypass wire of the coil was put on the solenoid terminal.",
        bases=ORIGINAL,
        as_found="""
[as_found]
change_wires = [{ id = "start-bypass", from = "starter.solenoid" }]
""",
        codes=("STA-FED", "STA-SWAPPED"),
        names=("start-bypass",),
    ),
    Mistake(
        id="small-terminals-swapped",
        words="Start wire and bypass wire were swapped at the starter.",
        bases=ORIGINAL,
        as_found="""
[as_found]
change_wires = [
  { id = "start-bypass", from = "starter.solenoid" },
  { id = "start-signal", to = "starter.bypass" },
]
""",
        codes=("STA-SWAPPED", "STA-FED"),
        names=("start-signal", "start-bypass"),
    ),
    Mistake(
        id="unit-bypass-on-solenoid",
        words="A wire from the electronic distributor's feed ends on the solenoid terminal.",
        bases=UPGRADED,
        as_found="""
[as_found]
add_wires = [
  { id = "found-bypass", circuit = "start bypass", from = "starter.solenoid", to = "distributor.supply", size = "14 SAE", colour = "YE", insulation = "GPT", length = "1.6 m" },
]
""",  # noqa: E501
        codes=("STA-FED",),
        names=("found-bypass",),
    ),
    Mistake(
        id="battery-cable-on-solenoid",
        words="The heavy cable was put on the solenoid terminal.",
        bases=ALL,
        as_found="""
[as_found]
change_wires = [{ id = "starter-cable", to = "starter.solenoid" }]
""",
        codes=("STA-SWAPPED", "STA-FED"),
        names=("starter-cable",),
    ),
    Mistake(
        id="start-wire-on-ignition",
        words="The start wire was joined to the ignition terminal of the key switch.",
        bases=ALL,
        as_found="""
[as_found]
change_wires = [{ id = "start-signal", from = "ignition_switch.ignition" }]
""",
        codes=("STA-FED",),
        names=("start-signal",),
    ),
    Mistake(
        id="start-wire-off",
        words="The start wire fell off the solenoid.",
        bases=ALL,
        as_found="""
[as_found]
remove_wires = ["start-signal"]
""",
        codes=("STA-NO-SIGNAL",),
        names=("starter.solenoid",),
    ),
    Mistake(
        id="starter-cable-thin",
        words="A cable from another vehicle, far too thin, feeds the starter.",
        bases=ALL,
        as_found="""
[as_found]
change_wires = [{ id = "starter-cable", size = "10 mm²" }]
""",
        codes=("STA-DROP-LIVE",),
        names=("starter-cable",),
    ),
    Mistake(
        id="ground-cable-thin",
        words="The ground cable of the battery was replaced by a thin one.",
        bases=ALL,
        as_found="""
[as_found]
change_wires = [{ id = "battery-ground", size = "6 mm²" }]
""",
        codes=("GND-CRANKING",),
        names=("battery-ground",),
    ),
    Mistake(
        id="ground-cable-gone",
        words="The ground cable of the battery is gone.",
        bases=("tractor_original", TRACTOR),
        as_found="""
[as_found]
remove_wires = ["battery-ground"]
""",
        codes=("GND-NO-PATH",),
        names=("engine_ground",),
    ),
    Mistake(
        id="start-wire-thin",
        words="Start wires were renewed in lamp wire.",
        bases=(VAN, "van_original_ballast"),
        as_found="""
[as_found]
change_wires = [
  { id = "start-interlock", size = "0.75 mm²" },
  { id = "start-signal", size = "0.75 mm²" },
]
""",
        codes=("STA-SIGNAL-DROP",),
        names=("start-signal",),
    ),
    Mistake(
        id="start-wire-of-bell-wire",
        words="The start wire was renewed in bell wire: the solenoid clicks.",
        bases=(VAN, "launch_complete", "tractor_original"),
        as_found="""
[as_found]
change_wires = [
  { id = "start-interlock", size = "0.5 mm²" },
  { id = "start-signal", size = "0.35 mm²" },
]
""",
        codes=("STA-PULL-IN",),
        names=("start-signal", "start-interlock"),
        severity="warning",
    ),
    Mistake(
        id="relay-without-signal",
        words="The start wire fell off the relay on the wing.",
        bases=("pickup_original",),
        as_found="""
[as_found]
remove_wires = ["start-signal"]
""",
        codes=("STA-NO-SIGNAL", "STA-DEAD"),
        names=("start_relay",),
    ),
    Mistake(
        id="starter-on-the-live-stud",
        words="The starter cable was put on the battery stud of the relay.",
        bases=("pickup_original",),
        as_found="""
[as_found]
change_wires = [{ id = "starter-motor-cable", from = "start_relay.battery" }]
""",
        codes=("STA-LIVE",),
        names=("starter", "starter-motor-cable"),
    ),
    Mistake(
        id="start-relay-signal-live",
        words="The start wire of the relay was joined to the ignition.",
        bases=("pickup_original",),
        as_found="""
[as_found]
change_wires = [{ id = "start-signal", from = "ignition_switch.ignition" }]
""",
        codes=("STA-FED", "STA-LIVE"),
        names=("start_relay",),
    ),
    Mistake(
        id="magnet-starter-jumped",
        words="The solenoid of the magnet starter was jumped to its stud behind the relay.",
        bases=("pickup_gear_starter",),
        as_found="""
[as_found]
change_wires = [
  { id = "starter-motor-cable", from = "start_relay.starter" },
  { id = "start-signal", to = "start_relay.signal" },
]
add_wires = [
  { id = "jumper", circuit = "start signal", from = "starter.battery", to = "starter.solenoid", size = "10 SAE", colour = "BK", insulation = "GPT", length = "0.1 m" },
]
""",  # noqa: E501
        codes=("STA-HOLDS",),
        names=("starter", "jumper"),
    ),
    Mistake(
        id="magnet-starter-with-second-wire",
        words="A pump was joined to the solenoid of the permanent-magnet starter.",
        bases=("pickup_gear_starter",),
        as_found="""
[as_found]
add_wires = [
  { id = "pump-wire", circuit = "fuel", from = "starter.solenoid", to = "body_ground.stud", size = "16 SAE", colour = "GN", insulation = "GPT" },
]
""",  # noqa: E501
        codes=("STA-RUN-DOWN",),
        names=("starter", "pump-wire"),
    ),
    Mistake(
        id="battery-of-six-volts",
        words="A battery of 6 V was fitted.",
        bases=("van_upgraded",),
        as_found="""
[overrides.battery]
emf = "6.3 V"
""",
        codes=("RATED-BATTERY",),
        names=("battery",),
    ),
]
