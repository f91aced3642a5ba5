"""Mistakes on the vehicles that are planted least, written before the program was asked."""

from planting import Mistake

MISTAKES = [
    Mistake(
        id="blower-wire-of-bell-wire",
        words="The feed of the bilge blower was renewed in bell wire.",
        bases=("launch_complete",),
        as_found="""
[as_found]
change_wires = [{ id = "blower", size = "20 SAE" }]
""",
        codes=("SIZE-MECHANICAL",),
        names=("blower",),
        severity="warning",
    ),
    Mistake(
        id="main-fuse-passed-by",
        words="A cable leads from the battery switch past the main fuse.",
        bases=("launch_complete",),
        as_found="""
[as_found]
change_wires = [{ id = "ammeter-feed", from = "battery_switch.out" }]
""",
        codes=("PROT-NONE",),
        names=("ammeter-feed",),
        severity="warning",
    ),
    Mistake(
        id="pump-past-its-fuse",
        words="The float switch of the bilge pump was joined straight to the battery.",
        bases=("launch_complete",),
        as_found="""
[as_found]
change_wires = [{ id = "float-feed", from = "battery.positive" }]
""",
        codes=("PROT-NONE",),
        names=("float-feed",),
        severity="warning",
    ),
    Mistake(
        id="solenoid-relay-joined-to-ignition",
        words="The wire of the start relay was put on the ignition terminal of the key.",
        bases=("rear_start_relay",),
        as_found="""
[as_found]
change_wires = [{ id = "start-signal", from = "ignition_switch.ignition" }]
""",
        codes=("STA-FED",),
        names=("starter",),
        severity="danger",
    ),
    Mistake(
        id="dynamo-output-off-the-box",
        words="The thick wire of the dynamo was left off.",
        bases=("rear_start_relay", "roadster_pump_cut_off", "six_volt_tractor_control_box"),
        as_found="""
[as_found]
remove_wires = ["dynamo-output"]
""",
        codes=("CHG-OUTPUT-OPEN",),
        names=("dynamo",),
        severity="danger",
    ),
    Mistake(
        id="coil-leads-changed-over-negative",
        words="The two wires of the coil were changed over.",
        bases=("rear_start_relay",),
        as_found="""
[as_found]
change_wires = [
  { id = "ignition-feed", to = "coil.negative" },
  { id = "points-lead", from = "coil.positive" },
]
""",
        codes=("IGN-POLARITY",),
        names=("coil",),
        severity="caution",
    ),
    Mistake(
        id="coil-leads-changed-over-positive",
        words="The two wires of the coil were changed over.",
        bases=("roadster_pump_cut_off", "six_volt_tractor_control_box"),
        as_found="""
[as_found]
change_wires = [
  { id = "ignition-feed", to = "coil.positive" },
  { id = "points-lead", from = "coil.negative" },
]
""",
        codes=("IGN-POLARITY",),
        names=("coil",),
        severity="caution",
    ),
    Mistake(
        id="pump-fed-past-its-relay",
        words="The fuel pump was joined straight to its fuse.",
        bases=("roadster_pump_cut_off", "truck_fan_and_pump"),
        as_found="""
[as_found]
change_wires = [{ id = "fuel-pump-feed", from = "fuel_pump_fuse.out" }]
""",
        codes=("FUEL-RUNS",),
        names=("fuel_pump",),
        severity="danger",
    ),
    Mistake(
        id="start-switch-bridged",
        words="The starter cable was put on the battery stud of the start switch.",
        bases=("six_volt_tractor_control_box",),
        as_found="""
[as_found]
change_wires = [{ id = "starter-motor-cable", from = "start_switch.battery" }]
""",
        codes=("STA-LIVE",),
        names=("starter",),
        severity="danger",
    ),
]
