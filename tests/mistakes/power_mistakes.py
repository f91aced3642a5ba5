"""Mistakes with power and grounds."""

from planting import Mistake

VANS_BUILT = ("van_original_ballast", "van_original_resistance")
VANS = (*VANS_BUILT, "van_upgraded")
TRACTORS = ("tractor_original", "tractor_upgraded")
UPGRADED = ("van_upgraded", "tractor_upgraded")
ALL = (*VANS, *TRACTORS)

MISTAKES = [
    Mistake(
        id="ground-cable-forgotten",
        words="The battery ground cable was not put back.",
        bases=VANS,
        as_found="""
[as_found]
remove_wires = ["battery-ground"]
""",
        codes=("GND-CRANKING",),
        names=("starter", "body-ground"),
    ),
    Mistake(
        id="only-ground-cable-forgotten",
        words="The only battery ground cable was not put back.",
        bases=TRACTORS,
        as_found="""
[as_found]
remove_wires = ["battery-ground"]
""",
        codes=("PWR-BATTERY-OPEN", "GND-NO-PATH"),
        names=("battery", "engine_ground"),
    ),
    Mistake(
        id="strap-and-body-ground-forgotten",
        words="Neither engine strap nor body ground was put back.",
        bases=VANS,
        as_found="""
[as_found]
remove_wires = ["engine-strap", "body-ground"]
""",
        codes=("GND-NO-PATH",),
        names=("body_ground",),
    ),
    Mistake(
        id="strap-forgotten",
        words="The engine strap was not put back: body loads return through the thin body ground.",
        bases=VANS,
        as_found="""
[as_found]
remove_wires = ["engine-strap"]
""",
        codes=("GND-LOADED",),
        names=("heater_blower",),
    ),
    Mistake(
        id="panel-ground-forgotten",
        words="The ground wire of the dash panel was not put back.",
        bases=TRACTORS,
        as_found="""
[as_found]
remove_wires = ["panel-ground"]
""",
        codes=("GND-NO-PATH",),
        names=("body_ground",),
    ),
    Mistake(
        id="ground-cable-thin-van",
        words="The battery ground was renewed with ordinary wire.",
        bases=VANS,
        as_found="""
[as_found]
change_wires = [
  { id = "battery-ground", size = "8 SAE" },
]
""",
        codes=("GND-BATTERY-THIN", "GND-CRANKING"),
        names=("battery-ground", "starter"),
    ),
    Mistake(
        id="ground-cable-thin-tractor",
        words="The battery ground was renewed with ordinary wire.",
        bases=TRACTORS,
        as_found="""
[as_found]
change_wires = [
  { id = "battery-ground", size = "10 mm²" },
]
""",
        codes=("GND-BATTERY-THIN", "GND-CRANKING"),
        names=("battery-ground", "starter"),
    ),
    Mistake(
        id="strap-is-a-thread-van",
        words="A thin wire took the place of the strap, and the body ground is missing.",
        bases=VANS,
        as_found="""
[as_found]
remove_wires = ["body-ground"]
change_wires = [
  { id = "engine-strap", size = "18 SAE" },
]
""",
        codes=("GND-STRAP-THIN",),
        names=("engine-strap",),
    ),
    Mistake(
        id="strap-is-a-thread-tractor",
        words="The panel was grounded with a thin wire.",
        bases=TRACTORS,
        as_found="""
[as_found]
change_wires = [
  { id = "panel-ground", size = "1 mm²" },
]
""",
        codes=("GND-STRAP-THIN",),
        names=("panel-ground",),
    ),
    Mistake(
        id="battery-backwards-tractor",
        words="The two battery cables were swapped.",
        bases=TRACTORS,
        as_found="""
[as_found]
change_wires = [
  { id = "battery-ground", from = "battery.positive" },
  { id = "starter-cable", from = "battery.negative" },
]
""",
        codes=("PWR-REVERSED",),
        names=("battery", "battery-ground"),
    ),
    Mistake(
        id="battery-backwards-van",
        words="The battery was put in the wrong way round.",
        bases=("van_upgraded",),
        as_found="""
[as_found]
change_wires = [
  { id = "battery-ground", from = "battery.positive" },
  { id = "body-ground", from = "battery.positive" },
  { id = "starter-cable", from = "battery.negative" },
  { id = "battery-link", from = "battery.negative" },
]
""",
        codes=("PWR-REVERSED",),
        names=("battery", "starter-cable"),
    ),
    Mistake(
        id="battery-backwards-old-van",
        words="The battery was put in the wrong way round.",
        bases=VANS_BUILT,
        as_found="""
[as_found]
change_wires = [
  { id = "battery-ground", from = "battery.positive" },
  { id = "body-ground", from = "battery.positive" },
  { id = "starter-cable", from = "battery.negative" },
  { id = "battery-main", from = "battery.negative" },
]
""",
        codes=("PWR-REVERSED",),
        names=("battery", "starter-cable"),
    ),
    Mistake(
        id="beam-wire-pinched",
        words="The low beam wire is pinched through to the body.",
        bases=VANS,
        as_found="""
[as_found]
add_wires = [
  { id = "found-pinch", circuit = "lamps", from = "headlamp_left_low.supply", to = "body_ground.stud", size = "14 SAE", colour = "RD", insulation = "PVC", length = "0.5 m" },
]
""",  # noqa: E501
        codes=("PWR-SHORT",),
        names=("found-pinch", "low-beam"),
    ),
    Mistake(
        id="horn-wire-pinched",
        words="The horn wire is chafed through; it shorts when the button is pressed.",
        bases=VANS,
        as_found="""
[as_found]
add_wires = [
  { id = "found-pinch", circuit = "horn", from = "horn.supply", to = "body_ground.stud", size = "14 SAE", colour = "RD", insulation = "PVC", length = "0.5 m" },
]
""",  # noqa: E501
        codes=("PWR-SHORT",),
        names=("found-pinch", "horn"),
    ),
    Mistake(
        id="output-on-engine",
        words="The output ring touches the engine.",
        bases=ALL,
        as_found="""
[as_found]
add_wires = [
  { id = "found-touch", circuit = "charge output", from = "alternator.output", to = "engine_ground.stud", size = "14 SAE", colour = "RD", insulation = "PVC", length = "0.1 m" },
]
""",  # noqa: E501
        codes=("PWR-SHORT",),
        names=("found-touch", "charge-output"),
    ),
    Mistake(
        id="ground-on-main-junction",
        words="A ground wire was put on the main junction stud.",
        bases=ALL,
        as_found="""
[as_found]
add_wires = [
  { id = "found-ground", circuit = "ground", from = "main_junction.stud", to = "body_ground.stud", size = "14 SAE", colour = "BK", insulation = "PVC", length = "0.5 m" },
]
""",  # noqa: E501
        codes=("PWR-SHORT",),
        names=("found-ground",),
    ),
    Mistake(
        id="work-lamp-ground-on-fuse",
        words="The ground wire of the work lamp ends on its fuse.",
        bases=TRACTORS,
        as_found="""
[as_found]
change_wires = [
  { id = "work-lamp-ground", to = "lamp_fuse.out" },
]
""",
        codes=("PWR-NO-RETURN",),
        names=("work_lamp",),
    ),
    Mistake(
        id="work-lamp-ground-forgotten",
        words="The ground wire of the work lamp was left off.",
        bases=TRACTORS,
        as_found="""
[as_found]
remove_wires = ["work-lamp-ground"]
""",
        codes=("PWR-NO-RETURN",),
        names=("work_lamp",),
    ),
    Mistake(
        id="heater-ground-forgotten",
        words="The ground wire of the heater was left off.",
        bases=VANS,
        as_found="""
[as_found]
remove_wires = ["heater-ground"]
""",
        codes=("PWR-NO-RETURN",),
        names=("heater_blower",),
    ),
    Mistake(
        id="tachometer-ground-forgotten",
        words="The ground wire of the tachometer was left off.",
        bases=VANS,
        as_found="""
[as_found]
remove_wires = ["tachometer-ground"]
""",
        codes=("PWR-NO-RETURN",),
        names=("tachometer",),
    ),
    Mistake(
        id="instrument-feed-forgotten",
        words="The feed of the instrument fuse was left off.",
        bases=VANS,
        as_found="""
[as_found]
remove_wires = ["ignition-fuse-feed"]
""",
        codes=("PWR-NO-FEED",),
        names=("tachometer", "fuel_gauge"),
    ),
    Mistake(
        id="accessory-feed-forgotten",
        words="The feed of the accessory fuses was left off.",
        bases=VANS,
        as_found="""
[as_found]
remove_wires = ["accessory-fuse-feed"]
""",
        codes=("PWR-NO-FEED", "PWR-SWITCH-DEAD"),
        names=("heater_blower", "wiper_motor"),
    ),
    Mistake(
        id="lamp-feed-forgotten",
        words="The feed of the lamp switch was left off.",
        bases=VANS,
        as_found="""
[as_found]
remove_wires = ["lamp-feed"]
""",
        codes=("PWR-NO-FEED", "PWR-SWITCH-DEAD"),
        names=("lamp_switch", "headlamp_left_low"),
    ),
    Mistake(
        id="key-feed-forgotten",
        words="The feed of the key switch was left off.",
        bases=ALL,
        as_found="""
[as_found]
remove_wires = ["key-feed"]
""",
        codes=("PWR-NO-FEED", "PWR-DEAD"),
        names=("starter",),
    ),
    Mistake(
        id="main-feed-forgotten",
        words="The main feed was left off behind the link.",
        bases=VANS,
        as_found="""
[as_found]
remove_wires = ["main-feed"]
""",
        codes=("PWR-NO-FEED", "PWR-DEAD"),
        names=("horn", "starter"),
    ),
    Mistake(
        id="lamp-fuse-feed-forgotten",
        words="The feed of the lamp fuse was left off.",
        bases=TRACTORS,
        as_found="""
[as_found]
remove_wires = ["lamp-fuse-feed"]
""",
        codes=("PWR-NO-FEED", "PWR-SWITCH-DEAD"),
        names=("work_lamp", "lamp_switch"),
    ),
    Mistake(
        id="side-lamp-wire-broken",
        words="The wire to the right side lamp is broken.",
        bases=VANS,
        as_found="""
[as_found]
remove_wires = ["side-lamp-right"]
""",
        codes=("PWR-NO-FEED",),
        names=("side_lamp_right",),
    ),
    Mistake(
        id="instruments-always-on",
        words="The instruments were moved to the horn fuse, which is always live.",
        bases=VANS,
        as_found="""
[as_found]
change_wires = [
  { id = "tachometer-supply", from = "fuse_box.horn" },
]
""",
        codes=("PWR-DRAIN",),
        names=("tachometer-supply",),
    ),
    Mistake(
        id="charge-lamp-always-on",
        words="The charge lamp was moved to the battery side of the key switch.",
        bases=UPGRADED,
        as_found="""
[as_found]
change_wires = [
  { id = "charge-lamp-supply", from = "ignition_switch.battery" },
]
""",
        codes=("PWR-DRAIN",),
        names=("charge-lamp-supply",),
    ),
    Mistake(
        id="unit-always-on",
        words="The feed of the distributor was put on the battery terminal of the switch.",
        bases=UPGRADED,
        as_found="""
[as_found]
change_wires = [
  { id = "ignition-feed", from = "ignition_switch.battery" },
]
""",
        codes=("PWR-OFF-LIVE", "PWR-DRAIN"),
        names=("distributor", "ignition-feed"),
    ),
    Mistake(
        id="solenoid-on-ignition",
        words="The solenoid wire was put on the ignition terminal of the key switch.",
        bases=ALL,
        as_found="""
[as_found]
change_wires = [
  { id = "start-signal", from = "ignition_switch.ignition" },
]
""",
        codes=("PWR-SOLENOID-LIVE",),
        names=("starter", "start-signal"),
    ),
    Mistake(
        id="start-signal-on-accessory",
        words="The solenoid wire was put on the accessory terminal, dead while cranking.",
        bases=VANS,
        as_found="""
[as_found]
change_wires = [
  { id = "start-signal", from = "ignition_switch.accessory" },
]
""",
        codes=("PWR-DEAD", "PWR-SOLENOID-LIVE"),
        names=("starter",),
    ),
    Mistake(
        id="clock-on-battery",
        words="A small load stays on with the key off.",
        bases=VANS,
        as_found="""
[as_found]
add_wires = [
  { id = "found-clock", circuit = "accessory", from = "fuse_box.horn", to = "found_radio.supply", size = "18 SAE", colour = "RD", insulation = "PVC", length = "1 m" },
]

[[as_found.add_component]]
role = "found_radio"
kind = "load"
name = "Radio, found"
place = "behind_dash"
terminals = [
  { name = "supply", label = "+", connection = "blade 6.3 mm" },
  { name = "case", label = "housing", connection = "case" },
]
ratings = { power = "0.4 W", rated_voltage = "12 V" }
""",  # noqa: E501
        codes=("PWR-DRAIN",),
        names=("found-clock",),
    ),
    Mistake(
        id="wire-left-over",
        words="A wire of a part that is gone was left between two dead joints.",
        bases=ALL,
        as_found="""
[as_found]
add_wires = [
  { id = "found-rest", circuit = "accessory", from = "found_one.joint", to = "found_two.joint", size = "14 SAE", colour = "RD", insulation = "PVC", length = "1 m" },
]

[[as_found.add_component]]
role = "found_one"
kind = "splice"
name = "Joint under tape, found"
place = "coil_bracket"
terminals = [{ name = "joint", label = "", connection = "splice" }]

[[as_found.add_component]]
role = "found_two"
kind = "splice"
name = "Joint under tape, found"
place = "coil_bracket"
terminals = [{ name = "joint", label = "", connection = "splice" }]
""",  # noqa: E501
        codes=("PWR-ORPHAN",),
        names=("found-rest",),
    ),
]
