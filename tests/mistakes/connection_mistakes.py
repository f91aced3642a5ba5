"""Mistakes at studs, blades and connectors."""

from planting import Mistake

VAN, TRACTOR = "van_upgraded", "tractor_upgraded"
VANS = (VAN, "van_original_ballast", "van_original_resistance")

MISTAKES = [
    Mistake(
        id="five-on-a-stud",
        words="More and more wires were put under the nut of the main junction.",
        bases=(*VANS, TRACTOR, "tractor_original"),
        as_found="""
[as_found]
add_wires = [
  { id = "found-one", circuit = "accessory", from = "main_junction.stud", to = "found_lamp.supply", size = "14 SAE", colour = "RD", insulation = "PVC", length = "1 m" },
  { id = "found-two", circuit = "accessory", from = "main_junction.stud", to = "found_lamp.supply", size = "14 SAE", colour = "RD", insulation = "PVC", length = "1 m" },
]

[[as_found.add_component]]
role = "found_lamp"
kind = "lamp"
name = "Lamp, found"
place = "coil_bracket"
terminals = [
  { name = "supply", label = "+", connection = "stud M4" },
  { name = "case", label = "housing", connection = "case" },
]
ratings = { power = "5 W", rated_voltage = "12 V" }
""",  # noqa: E501
        codes=("CONN-STUD",),
        names=("main_junction.stud", "found-two"),
    ),
    Mistake(
        id="output-through-cavity",
        words="The output wire was led through one cavity of the bulkhead connector.",
        bases=(VAN,),
        as_found="""
[as_found]
change_wires = [{ id = "charge-output", to = "distribution.stud" }]
""",
        codes=("CONN-CAVITY-CURRENT",),
        names=("charge-output", "bulkhead_connector"),
    ),
    Mistake(
        id="main-feed-through-cavity",
        words="The main feed was led through the connector, and big lamps were added behind it.",
        bases=VANS,
        as_found="""
[as_found]
change_wires = [{ id = "main-feed", route = "bulkhead loom" }]

[[as_found.change_component]]
role = "headlamp_left_low"
ratings = { power = "100 W" }

[[as_found.change_component]]
role = "headlamp_right_low"
ratings = { power = "100 W" }
""",
        codes=("CONN-CAVITY-CURRENT",),
        names=("main-feed", "bulkhead_connector"),
        is_double=True,
    ),
    Mistake(
        id="too-many-cavities",
        words="A smaller connector was fitted in the bulkhead.",
        bases=VANS,
        as_found="""
[as_found]
[[as_found.change_component]]
role = "bulkhead_connector"
ratings = { cavities = 6 }
""",
        codes=("CONN-CAVITIES",),
        names=("bulkhead_connector",),
    ),
    Mistake(
        id="heavy-cable-on-blade",
        words="A 10 mm² cable was squeezed into a blade receptacle.",
        bases=(VAN, TRACTOR),
        as_found="""
[as_found]
change_wires = [{ id = "ignition-feed", size = "10 mm²" }]
""",
        codes=("CONN-BLADE",),
        names=("ignition-feed", "distributor.supply"),
    ),
]
