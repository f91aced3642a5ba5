"""Mistakes with wire sizes, fuses and fusible links."""

from planting import Mistake

VANS_BUILT = ("van_original_ballast", "van_original_resistance")
VANS = (*VANS_BUILT, "van_upgraded")
TRACTORS = ("tractor_original", "tractor_upgraded")
UPGRADED = ("van_upgraded", "tractor_upgraded")
ALL = (*VANS, *TRACTORS)

MISTAKES = [
    Mistake(
        id="main-feed-thin",
        words="The main feed was renewed four sizes thinner.",
        bases=VANS,
        as_found="""
[as_found]
change_wires = [
  { id = "main-feed", size = "14 SAE", insulation = "GPT" },
]
""",
        codes=("DROP-HOT", "PROT-LATE", "PROT-LINK-BIG"),
        names=("main-feed", "link"),
    ),
    Mistake(
        id="output-thin-van",
        words="The charge wire of the old alternator was kept.",
        bases=("van_upgraded",),
        as_found="""
[as_found]
change_wires = [
  { id = "charge-output", size = "12 SAE", insulation = "GPT" },
]
""",
        codes=("DROP-HOT", "PROT-OUTPUT", "PROT-LINK-BIG"),
        names=("charge-output", "battery-link"),
    ),
    Mistake(
        id="output-thin-tractor",
        words="The charge wire was renewed with lamp wire.",
        bases=TRACTORS,
        as_found="""
[as_found]
change_wires = [
  { id = "charge-output", size = "1.5 mm²", insulation = "PVC" },
]
""",
        codes=("DROP-HOT", "PROT-OUTPUT"),
        names=("charge-output",),
    ),
    Mistake(
        id="output-wire-not-for-heat",
        words="Household cable was used beside the engine.",
        bases=("van_upgraded",),
        as_found="""
[as_found]
change_wires = [
  { id = "charge-output", insulation = "PVC" },
]
""",
        codes=("PROT-OUTPUT",),
        names=("charge-output",),
    ),
    Mistake(
        id="crank-cable-thin",
        words="The starter cable was renewed too thin.",
        bases=VANS,
        as_found="""
[as_found]
change_wires = [
  { id = "starter-cable", size = "8 SAE" },
]
""",
        codes=("DROP-WIRE",),
        names=("starter-cable",),
    ),
    Mistake(
        id="starter-cable-thin-tractor",
        words="The starter cable was renewed too thin.",
        bases=TRACTORS,
        as_found="""
[as_found]
change_wires = [
  { id = "starter-cable", size = "10 mm²" },
]
""",
        codes=("DROP-WIRE",),
        names=("starter-cable",),
    ),
    Mistake(
        id="beam-wire-thin",
        words="The low beam was wired with bell wire.",
        bases=VANS,
        as_found="""
[as_found]
change_wires = [
  { id = "low-beam", size = "20 SAE" },
]
""",
        codes=("SIZE-MECHANICAL", "DROP-WIRE", "PROT-FUSE-BIG"),
        names=("low-beam",),
    ),
    Mistake(
        id="work-lamp-wire-thin",
        words="The work lamp was wired with bell wire.",
        bases=TRACTORS,
        as_found="""
[as_found]
change_wires = [
  { id = "work-lamp", size = "0.5 mm²" },
]
""",
        codes=("SIZE-MECHANICAL",),
        names=("work-lamp",),
    ),
    Mistake(
        id="solenoid-wire-thin",
        words="The start wire was renewed with gauge wire.",
        bases=VANS,
        as_found="""
[as_found]
change_wires = [
  { id = "start-signal", size = "18 SAE" },
]
""",
        codes=("PROT-LATE", "PROT-LINK-BIG"),
        names=("start-signal", "link"),
    ),
    Mistake(
        id="start-wire-thin-tractor",
        words="The start wire was renewed with gauge wire.",
        bases=("tractor_upgraded",),
        as_found="""
[as_found]
change_wires = [
  { id = "start-signal", size = "0.75 mm²", insulation = "PVC" },
]
""",
        codes=("PROT-FUSE-BIG",),
        names=("start-signal", "key_fuse"),
    ),
    Mistake(
        id="ignition-feed-thin",
        words="The new ignition feed was run in gauge wire.",
        bases=("van_upgraded",),
        as_found="""
[as_found]
change_wires = [
  { id = "ignition-feed", size = "18 SAE" },
]
""",
        codes=("PROT-LATE", "PROT-LINK-BIG"),
        names=("ignition-feed", "link"),
    ),
    Mistake(
        id="ignition-feed-thin-tractor",
        words="The new ignition feed was run in gauge wire.",
        bases=("tractor_upgraded",),
        as_found="""
[as_found]
change_wires = [
  { id = "ignition-feed", size = "0.75 mm²", insulation = "PVC" },
]
""",
        codes=("PROT-FUSE-BIG",),
        names=("ignition-feed", "key_fuse"),
    ),
    Mistake(
        id="link-bridged",
        words="The link was replaced by a piece of ordinary wire.",
        bases=VANS_BUILT,
        as_found="""
[as_found]
change_wires = [
  { id = "link", conductor = "copper", size = "10 SAE", insulation = "GPT" },
]
""",
        codes=("PROT-NONE",),
        names=("main-feed", "key-feed"),
    ),
    Mistake(
        id="battery-link-left-out",
        words="The link at the battery was replaced by a piece of ordinary wire.",
        bases=("van_upgraded",),
        as_found="""
[as_found]
change_wires = [
  { id = "battery-link", conductor = "copper", size = "6 SAE", insulation = "GPT" },
]
""",
        codes=("PROT-NONE",),
        names=("battery-main", "charge-output"),
    ),
    Mistake(
        id="battery-link-passed-by",
        words="The wire to the main junction was joined to the battery post, beside the link.",
        bases=("van_upgraded",),
        as_found="""
[as_found]
change_wires = [
  { id = "battery-main", from = "battery.live" },
]
""",
        codes=("PROT-NONE",),
        names=("battery-main",),
    ),
    Mistake(
        id="tractor-link-passed-by",
        words="The ammeter wire was joined to the starter stud, beside the link.",
        bases=("tractor_upgraded",),
        as_found="""
[as_found]
change_wires = [
  { id = "ammeter-feed", from = "starter.battery" },
]
""",
        codes=("PROT-NONE",),
        names=("ammeter-feed",),
    ),
    Mistake(
        id="link-too-big",
        words="The burnt link was renewed with a heavier one.",
        bases=VANS,
        as_found="""
[as_found]
change_wires = [
  { id = "link", size = "10 SAE" },
]
""",
        codes=("PROT-LINK-BIG",),
        names=("link", "key-feed"),
    ),
    Mistake(
        id="link-too-big-tractor",
        words="The burnt link was renewed with a heavier one.",
        bases=("tractor_upgraded",),
        as_found="""
[as_found]
change_wires = [
  { id = "link", size = "6 mm²" },
]
""",
        codes=("PROT-LINK-BIG",),
        names=("link", "ammeter-feed"),
    ),
    Mistake(
        id="link-too-long-van",
        words="The link was made half a metre long.",
        bases=VANS,
        as_found="""
[as_found]
change_wires = [
  { id = "link", length = "0.5 m" },
]
""",
        codes=("PROT-LINK-LONG",),
        names=("link",),
    ),
    Mistake(
        id="link-too-long-tractor",
        words="The link was made half a metre long.",
        bases=("tractor_upgraded",),
        as_found="""
[as_found]
change_wires = [
  { id = "link", length = "0.5 m" },
]
""",
        codes=("PROT-LINK-LONG",),
        names=("link",),
    ),
    Mistake(
        id="link-of-ordinary-wire",
        words="Thin ordinary wire was fitted as a link.",
        bases=VANS,
        as_found="""
[as_found]
change_wires = [
  { id = "link", insulation = "GPT" },
]
""",
        codes=("PROT-LINK-INSULATION",),
        names=("link",),
    ),
    Mistake(
        id="link-in-the-cabin",
        words="A piece of link wire was fitted at the key switch, in the cabin.",
        bases=VANS,
        as_found="""
[as_found]
change_wires = [
  { id = "key-feed", conductor = "fusible link", insulation = "LINK", size = "14 SAE", length = "0.2 m" },
]
""",  # noqa: E501
        codes=("PROT-LINK-CABIN",),
        names=("key-feed",),
    ),
    Mistake(
        id="battery-link-too-thin",
        words="The link at the battery was renewed far too thin.",
        bases=("van_upgraded",),
        as_found="""
[as_found]
change_wires = [
  { id = "battery-link", size = "18 SAE" },
]
""",
        codes=("PROT-LINK-SMALL",),
        names=("battery-link",),
    ),
    Mistake(
        id="link-too-small-tractor",
        words="The link was renewed far too thin.",
        bases=("tractor_upgraded",),
        as_found="""
[as_found]
change_wires = [
  { id = "link", size = "0.75 mm²" },
]
""",
        codes=("PROT-LINK-SMALL",),
        names=("link",),
    ),
    Mistake(
        id="lamp-fuse-too-big",
        words="A fuse of 30 A was fitted because the right one blew.",
        bases=TRACTORS,
        as_found="""
[as_found]
change_component = [{ role = "lamp_fuse", ratings = { rated_current = "30 A" } }]
""",
        codes=("PROT-FUSE-BIG",),
        names=("lamp_fuse", "work-lamp"),
    ),
    Mistake(
        id="lamp-fuse-too-small",
        words="A fuse of 3 A was fitted for the work lamp.",
        bases=TRACTORS,
        as_found="""
[as_found]
change_component = [{ role = "lamp_fuse", ratings = { rated_current = "3 A" } }]
""",
        codes=("PROT-FUSE-SMALL",),
        names=("lamp_fuse",),
    ),
    Mistake(
        id="key-fuse-too-big",
        words="A fuse of 80 A was fitted for the key switch.",
        bases=("tractor_upgraded",),
        as_found="""
[as_found]
change_component = [{ role = "key_fuse", ratings = { rated_current = "80 A" } }]
""",
        codes=("PROT-FUSE-BIG",),
        names=("key_fuse", "key-feed"),
    ),
    Mistake(
        id="side-fuse-too-big",
        words="A fuse of 30 A was fitted for the side lamps.",
        bases=VANS,
        as_found="""
[[as_found.change_component]]
role = "fuse_box"
[as_found.change_component.ratings]
fuses = [
  { from = "battery_supply", to = "horn", rating = "10 A" },
  { from = "accessory_supply", to = "heater", rating = "15 A" },
  { from = "accessory_supply", to = "wiper", rating = "10 A" },
  { from = "ignition_supply", to = "instruments", rating = "5 A" },
  { from = "head_supply", to = "head", rating = "15 A" },
  { from = "side_supply", to = "side", rating = "30 A" },
  { from = "side_supply", to = "tail", rating = "5 A" },
]
""",
        codes=("PROT-FUSE-BIG",),
        names=("side-lamps",),
    ),
    Mistake(
        id="heater-fuse-too-small",
        words="A fuse of 5 A was fitted for the heater.",
        bases=VANS,
        as_found="""
[[as_found.change_component]]
role = "fuse_box"
[as_found.change_component.ratings]
fuses = [
  { from = "battery_supply", to = "horn", rating = "10 A" },
  { from = "accessory_supply", to = "heater", rating = "5 A" },
  { from = "accessory_supply", to = "wiper", rating = "10 A" },
  { from = "ignition_supply", to = "instruments", rating = "5 A" },
  { from = "head_supply", to = "head", rating = "15 A" },
  { from = "side_supply", to = "side", rating = "5 A" },
  { from = "side_supply", to = "tail", rating = "5 A" },
]
""",
        codes=("PROT-FUSE-SMALL",),
        names=("fuse_box:heater",),
    ),
    Mistake(
        id="fuse-bridged",
        words="A wire bridges the headlamp fuse.",
        bases=VANS,
        as_found="""
[as_found]
add_wires = [
  { id = "found-bridge", circuit = "lamps", from = "fuse_box.head_supply", to = "fuse_box.head", size = "14 SAE", colour = "RD", insulation = "PVC", length = "0.1 m" },
]
""",  # noqa: E501
        codes=("PROT-LINK-BIG", "PROT-LATE"),
        names=("head-fused", "link"),
    ),
    Mistake(
        id="lamp-fuse-passed-by",
        words="The work lamp switch was joined to the ammeter, past its fuse.",
        bases=("tractor_upgraded",),
        as_found="""
[as_found]
change_wires = [
  { id = "lamp-switch-feed", from = "ammeter.load_side" },
]
""",
        codes=("PROT-LINK-BIG", "PROT-LATE"),
        names=("lamp-switch-feed", "work-lamp"),
    ),
    Mistake(
        id="lamp-fuse-passed-by-old",
        words="The work lamp switch was joined to the ammeter, past its fuse.",
        bases=("tractor_original",),
        as_found="""
[as_found]
change_wires = [
  { id = "lamp-switch-feed", from = "ammeter.load_side" },
]
""",
        codes=("PROT-NONE",),
        names=("lamp-switch-feed", "work-lamp"),
    ),
    Mistake(
        id="second-charge-wire",
        words="A second charge wire was run to the battery without a link of its own.",
        bases=UPGRADED,
        as_found="""
[as_found]
add_wires = [
  { id = "found-charge", circuit = "charge output", from = "alternator.output", to = "battery.live", size = "8 SAE", colour = "RD", insulation = "GXL", length = "2 m" },
]
""",  # noqa: E501
        codes=("PROT-NONE",),
        names=("found-charge", "charge-output"),
    ),
    Mistake(
        id="fuse-box-from-battery",
        words="The fuse box was fed from the battery post, past the link.",
        bases=VANS,
        as_found="""
[as_found]
change_wires = [
  { id = "fuse-box-feed", from = "battery.live", length = "4 m" },
]
""",
        codes=("PROT-NONE",),
        names=("fuse-box-feed",),
    ),
    Mistake(
        id="radio-on-battery-van",
        words="A radio was joined to the battery post without fuse or switch.",
        bases=VANS,
        as_found="""
[as_found]
add_wires = [
  { id = "found-radio", circuit = "accessory", from = "battery.live", to = "found_radio.supply", size = "18 SAE", colour = "RD", insulation = "PVC", length = "3 m" },
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
ratings = { power = "6 W", rated_voltage = "12 V" }
""",  # noqa: E501
        codes=("PROT-NONE", "PWR-DRAIN"),
        names=("found-radio",),
    ),
    Mistake(
        id="radio-on-battery-tractor",
        words="A radio was joined to the starter stud without fuse or switch.",
        bases=TRACTORS,
        as_found="""
[as_found]
add_wires = [
  { id = "found-radio", circuit = "accessory", from = "starter.battery", to = "found_radio.supply", size = "1 mm²", colour = "RD", insulation = "PVC", length = "2 m" },
]

[[as_found.add_component]]
role = "found_radio"
kind = "load"
name = "Radio, found"
place = "panel_rear"
terminals = [
  { name = "supply", label = "+", connection = "blade 6.3 mm" },
  { name = "case", label = "housing", connection = "case" },
]
ratings = { power = "6 W", rated_voltage = "12 V" }
""",  # noqa: E501
        codes=("PROT-NONE", "PWR-DRAIN"),
        names=("found-radio",),
    ),
    Mistake(
        id="sensing-without-link-van",
        words="The sensing wire was put straight on the main junction, without its link.",
        bases=("van_upgraded",),
        as_found="""
[as_found]
change_wires = [
  { id = "sensing", from = "main_junction.stud" },
]
""",
        codes=("PROT-LINK-BIG", "PROT-LATE"),
        names=("sensing", "battery-link"),
    ),
    Mistake(
        id="sensing-without-link-tractor",
        words="The sensing wire was put straight on the main junction, without its link.",
        bases=("tractor_upgraded",),
        as_found="""
[as_found]
change_wires = [
  { id = "sensing", from = "main_junction.stud" },
]
""",
        codes=("PROT-LINK-BIG", "PROT-LATE"),
        names=("sensing", "link"),
    ),
    Mistake(
        id="spotlamp-thin",
        words="A strong lamp was added on a thin wire behind the horn fuse.",
        bases=VANS,
        as_found="""
[as_found]
add_wires = [
  { id = "found-lamp", circuit = "lamps", from = "fuse_box.horn", to = "found_radio.supply", size = "18 SAE", colour = "RD", insulation = "PVC", length = "4 m" },
]

[[as_found.add_component]]
role = "found_radio"
kind = "load"
name = "Radio, found"
place = "front_lamps"
terminals = [
  { name = "supply", label = "+", connection = "blade 6.3 mm" },
  { name = "case", label = "housing", connection = "case" },
]
ratings = { power = "150 W", rated_voltage = "12 V" }
""",  # noqa: E501
        codes=("DROP-PATH", "PROT-FUSE-SMALL"),
        names=("found_radio", "fuse_box:horn"),
    ),
]
