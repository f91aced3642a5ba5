"""Mistakes that show only while a switch that works by itself, or a foot, has closed."""

from planting import Mistake

MISTAKES = [
    Mistake(
        id="fan-override-from-the-key",
        words="So that the fan runs while driving, a wire leads from the key to its contact.",
        bases=("van_electric_fan", "truck_fan_and_pump"),
        as_found="""
[as_found]
add_wires = [
  { id = "found-override", circuit = "accessory", from = "fan_relay.normally_open", to = "ignition_switch.ignition", size = "10 SAE", colour = "OG", insulation = "GXL", length = "2.2 m" },
]
""",  # noqa: E501
        codes=("IGN-SWITCH-LIVE",),
        names=("found-override", "fan_switch"),
        severity="danger",
    ),
    Mistake(
        id="stop-lamps-joined-to-the-key",
        words="The wire of the stop lamps was joined to the ignition.",
        bases=("pickup_ammeter_kept",),
        as_found="""
[as_found]
add_wires = [
  { id = "found-join", circuit = "lamps", from = "stop_switch.out", to = "ignition_switch.ignition", size = "12 SAE", colour = "GY", insulation = "GXL", length = "0.8 m" },
]
""",  # noqa: E501
        codes=("IGN-SWITCH-LIVE",),
        names=("found-join", "stop_switch"),
        severity="danger",
    ),
    Mistake(
        id="pump-wire-on-the-coil",
        words="The wire of the bilge pump and that of the coil share a joint.",
        bases=("launch_complete",),
        as_found="""
[as_found]
add_wires = [
  { id = "found-join", circuit = "accessory", from = "float_switch.out", to = "coil.positive", size = "12 SAE", colour = "OG", insulation = "GXL", length = "1.5 m" },
]
""",  # noqa: E501
        codes=("IGN-SWITCH-LIVE",),
        names=("found-join", "float_switch"),
        severity="danger",
    ),
    Mistake(
        id="pump-relay-feeds-the-key",
        words="The pump's wire was joined to the ignition, to run it with the engine stopped.",
        bases=("van_fuel_pump",),
        as_found="""
[as_found]
add_wires = [
  { id = "found-join", circuit = "fuel", from = "fuel_pump_relay.normally_open", to = "ignition_switch.ignition", size = "12 SAE", colour = "VT", insulation = "GXL", length = "1.5 m" },
]
""",  # noqa: E501
        codes=("CHG-RUN-ON", "FUEL-RUNS"),
        names=("found-join", "fuel_pump_relay"),
        severity="danger",
    ),
    Mistake(
        id="stop-lamps-joined-to-the-start-wire",
        words="The wire of the stop lamps was joined to the signal of the start relay.",
        bases=("pickup_ammeter_kept",),
        as_found="""
[as_found]
add_wires = [
  { id = "found-join", circuit = "lamps", from = "stop_switch.out", to = "start_relay.signal", size = "12 SAE", colour = "GY", insulation = "GXL", length = "1.8 m" },
]
""",  # noqa: E501
        codes=("STA-SWITCH-LIVE",),
        names=("found-join", "start_relay"),
        severity="danger",
    ),
    Mistake(
        id="accessory-joined-to-ignition",
        words="The accessory terminal of the key was joined to its ignition terminal.",
        bases=("van_upgraded", "truck_headlamp_relays"),
        as_found="""
[as_found]
add_wires = [
  { id = "found-bridge", circuit = "distribution", from = "ignition_switch.accessory", to = "ignition_switch.ignition", size = "10 SAE", colour = "RD", insulation = "GXL", length = "0.1 m" },
]
""",  # noqa: E501
        codes=("IGN-ACCESSORY",),
        names=("found-bridge", "ignition_switch"),
        severity="caution",
    ),
]
