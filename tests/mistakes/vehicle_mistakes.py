"""The same few mistakes on other vehicles; written before the program was asked."""

from planting import Mistake

OTHERS = (
    "saloon_negative_alternator",
    "roadster_alternator",
    "launch_alternator",
    "truck_straps_renewed",
    "rear_upgraded",
)
ONE_BATTERY = tuple(name for name in OTHERS if not name.startswith("roadster"))

MISTAKES = [
    Mistake(
        id="battery-ground-of-lamp-wire",
        words="The ground cable of the battery was renewed in lamp wire.",
        bases=OTHERS,
        as_found="""
[as_found]
change_wires = [{ id = "battery-ground", size = "1.5 mm²" }]
""",
        codes=("GND-BATTERY-THIN",),
        names=("battery-ground",),
    ),
    Mistake(
        id="battery-ground-left-off",
        words="The ground cable of the battery was not put back.",
        bases=ONE_BATTERY,
        as_found="""
[as_found]
remove_wires = ["battery-ground"]
""",
        codes=("PWR-BATTERY-OPEN",),
        names=("battery",),
    ),
    Mistake(
        id="low-beams-of-bell-wire",
        words="The wire of the low beams was renewed in bell wire.",
        bases=("saloon_negative_alternator", "truck_straps_renewed"),
        as_found="""
[as_found]
change_wires = [{ id = "low-beam", size = "0.5 mm²" }]
""",
        codes=("SIZE-MECHANICAL", "DROP-WIRE"),
        names=("low-beam",),
    ),
    Mistake(
        id="battery-of-other-volts",
        words="A battery of half the voltage was fitted.",
        bases=("saloon_negative_alternator", "launch_alternator"),
        as_found="""
[overrides.battery]
emf = "6.3 V"
""",
        codes=("RATED-BATTERY",),
        names=("battery",),
    ),
    Mistake(
        id="ground-cable-on-live-post",
        words="The ground cable was put on the live post, beside the live cable.",
        bases=("launch_alternator", "truck_straps_renewed", "rear_upgraded"),
        as_found="""
[as_found]
change_wires = [
  { id = "battery-ground", from = "battery.positive" },
]
""",
        codes=("PWR-REVERSED",),
        names=("battery-ground",),
    ),
]
