"""What somebody saw at a wire: aluminium, insulation rubbed through on metal."""

from planting import Mistake

MISTAKES = [
    Mistake(
        id="charge-wire-of-aluminium",
        words="The charge wire was renewed in aluminium of the same size.",
        bases=("van_upgraded", "saloon_negative_alternator", "truck_internal_regulator"),
        as_found="""
[as_found]
change_wires = [{ id = "charge-output", conductor = "aluminium" }]
""",
        codes=("WIRE-ALUMINIUM",),
        names=("charge-output",),
        severity="caution",
    ),
    Mistake(
        id="starter-cable-of-aluminium",
        words="The starter cable is one of aluminium from a scrapyard.",
        bases=("tractor_upgraded", "roadster_alternator"),
        as_found="""
[as_found]
change_wires = [{ id = "starter-cable", conductor = "aluminium" }]
""",
        codes=("WIRE-ALUMINIUM",),
        names=("starter-cable",),
        severity="caution",
    ),
    Mistake(
        id="main-feed-on-the-bulkhead",
        words="The unfused main feed lies bare on the edge of the bulkhead.",
        bases=("roadster_original",),
        as_found="""
[as_found]
change_wires = [{ id = "battery-main", condition = ["touches metal"] }]
""",
        codes=("WIRE-TOUCHES",),
        names=("battery-main",),
        severity="danger",
    ),
    Mistake(
        id="heater-feed-on-the-bracket",
        words="The heater's feed is rubbed through on a bracket, behind its fuse.",
        bases=("van_upgraded", "pickup_upgraded"),
        as_found="""
[as_found]
change_wires = [{ id = "heater-feed", condition = ["touches metal"] }]
""",
        codes=("WIRE-TOUCHES",),
        names=("heater-feed",),
        severity="warning",
    ),
    Mistake(
        id="ring-of-the-starter-on-the-alternator",
        words="The charge wire has the ring of a starter cable on the stud of the alternator.",
        bases=("van_upgraded", "rear_alternator"),
        as_found="""
[as_found]
change_wires = [{ id = "charge-output", rings = "M12, -" }]
""",
        codes=("CONN-RING",),
        names=("charge-output", "alternator.output"),
        severity="caution",
    ),
]
