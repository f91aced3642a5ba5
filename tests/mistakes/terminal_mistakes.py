"""Wires on a terminal of another part to play, parts in the way of a current, loose ends."""

from planting import Mistake

METER = """
[[as_found.add_component]]
role = "found_meter"
kind = "voltmeter"
name = "Voltmeter, found"
place = "behind_dash"
terminals = [
  { name = "supply", label = "+", connection = "stud M4" },
  { name = "return", label = "-", connection = "stud M4" },
]
"""

END = """
[[as_found.add_component]]
role = "found_end"
kind = "splice"
name = "End of an old wire"
place = "behind_dash"
terminals = [{ name = "joint", label = "", connection = "splice" }]
"""

MISTAKES = [
    Mistake(
        id="lamp-and-field-relay-changed-over",
        words="The wires of charge lamp and field relay were changed over at the regulator.",
        bases=("van_original_ballast",),
        as_found="""
[as_found]
change_wires = [
  { id = "charge-lamp", to = "regulator.field_relay" },
  { id = "field-relay", to = "regulator.lamp" },
]
""",
        codes=("TERM-ROLE",),
        names=("charge-lamp", "field-relay", "regulator"),
        severity="warning",
    ),
    Mistake(
        id="lamp-on-the-field",
        words="The wire of the charge lamp was put on the field terminal.",
        bases=("van_original_ballast", "truck_original"),
        as_found="""
[as_found]
change_wires = [{ id = "charge-lamp", to = "regulator.field" }]
""",
        codes=("TERM-ROLE",),
        names=("charge-lamp", "regulator.field"),
        severity="warning",
    ),
    Mistake(
        id="field-and-armature-changed-over",
        words="Field and armature wires of the dynamo were changed over at the box.",
        bases=("saloon_early", "six_volt_tractor_control_box"),
        as_found="""
[as_found]
change_wires = [
  { id = "field", from = "regulator.armature" },
  { id = "dynamo-output", to = "regulator.field" },
]
""",
        codes=("TERM-ROLE",),
        names=("field", "dynamo-output", "regulator"),
        severity="warning",
    ),
    Mistake(
        id="blower-on-the-lamp-terminal",
        words="The blower was joined to the lamp terminal, for it is live while the engine runs.",
        bases=("van_upgraded",),
        as_found="""
[as_found]
change_wires = [{ id = "heater-feed", from = "alternator.lamp" }]
""",
        codes=("TERM-ROLE",),
        names=("heater-feed", "alternator.lamp"),
        severity="warning",
    ),
    Mistake(
        id="sensing-and-lamp-changed-over",
        words="The two small plugs of the alternator were changed over.",
        bases=("van_upgraded",),
        as_found="""
[as_found]
change_wires = [
  { id = "charge-lamp", to = "alternator.sense" },
  { id = "sensing", to = "alternator.lamp" },
]
""",
        codes=("TERM-ROLE",),
        names=("charge-lamp", "sensing", "alternator"),
        severity="warning",
    ),
    Mistake(
        id="module-leads-changed-over",
        words="The two leads of the trigger module were changed over.",
        bases=("saloon_negative_alternator", "van_trigger_module"),
        as_found="""
[as_found]
change_wires = [
  { id = "module-supply", to = "distributor.coil" },
  { id = "points-lead", to = "distributor.supply" },
]
""",
        codes=("TERM-ROLE",),
        names=("module-supply", "points-lead", "distributor"),
        severity="warning",
    ),
    Mistake(
        id="relay-common-and-coil-changed-over",
        words="30 and 86 of a relay were changed over.",
        bases=("van_headlamp_relays",),
        as_found="""
[as_found]
change_wires = [
  { id = "low-beam", to = "low_beam_relay.common" },
  { id = "low-beam-relay-feed", to = "low_beam_relay.coil_in" },
]
""",
        codes=("RLY-ROLE",),
        names=("low_beam_relay", "low-beam"),
        severity="warning",
    ),
    Mistake(
        id="relay-output-and-coil-changed-over",
        words="87 and 85 of a relay were changed over: the lamp hangs on the coil.",
        bases=("van_headlamp_relays",),
        as_found="""
[as_found]
change_wires = [
  { id = "low-beam-supply", from = "low_beam_relay.coil_out" },
  { id = "low-beam-relay-ground", from = "low_beam_relay.normally_open" },
]
""",
        codes=("PWR-SHORT",),
        names=("low_beam_relay", "low-beam-relay-ground"),
        severity="danger",
    ),
    Mistake(
        id="voltmeter-in-the-feed",
        words="A voltmeter was put into the feed of the blower, as if it were an ammeter.",
        bases=("van_upgraded",),
        as_found="""
[as_found]
change_wires = [{ id = "heater-feed", from = "found_meter.return" }]
add_wires = [
  { id = "found-feed", circuit = "heater", from = "fuse_box.heater", to = "found_meter.supply", size = "14 SAE", colour = "BN", insulation = "GPT", length = "0.6 m" },
]
"""  # noqa: E501
        + METER,
        codes=("PWR-IN-SERIES",),
        names=("found_meter", "heater_blower"),
        severity="warning",
    ),
    Mistake(
        id="voltmeter-in-the-ignition",
        words="A voltmeter was put into the feed of the electronic distributor.",
        bases=("van_upgraded",),
        as_found="""
[as_found]
change_wires = [{ id = "ignition-feed", from = "found_meter.return" }]
add_wires = [
  { id = "found-feed", circuit = "ignition feed", from = "ignition_switch.ignition", to = "found_meter.supply", size = "10 SAE", colour = "BU", insulation = "GXL", length = "0.6 m" },
]
"""  # noqa: E501
        + METER,
        codes=("PWR-IN-SERIES",),
        names=("found_meter", "distributor"),
        severity="warning",
    ),
    Mistake(
        id="ammeter-across",
        words="The ammeter was joined across the battery, as if it were a voltmeter.",
        bases=("pickup_ammeter_kept",),
        as_found="""
[as_found]
remove_wires = ["ammeter-main"]
add_wires = [
  { id = "found-across", circuit = "main feed", from = "ammeter.load_side", to = "dash_ground.stud", size = "6 SAE", colour = "RD", insulation = "GXL" },
]
""",  # noqa: E501
        codes=("PWR-SHORT",),
        names=("ammeter", "found-across"),
        severity="danger",
        is_double=True,
    ),
    Mistake(
        id="ammeter-bridged",
        words="A loop joins both studs of the ammeter.",
        bases=("pickup_ammeter_kept", "launch_complete"),
        as_found="""
[as_found]
add_wires = [
  { id = "found-loop", circuit = "main feed", from = "ammeter.battery_side", to = "ammeter.load_side", size = "6 SAE", colour = "RD", insulation = "GXL", length = "0.1 m" },
]
""",  # noqa: E501
        codes=("CHG-AMMETER-BRIDGED",),
        names=("found-loop", "ammeter"),
        severity="caution",
    ),
    Mistake(
        id="lamp-diode-reversed",
        words="The diode in the wire of the charge lamp was fitted the wrong way round.",
        bases=("van_discharge_unit",),
        as_found="""
[as_found]
change_wires = [
  { id = "charge-lamp", from = "lamp_diode.anode" },
  { id = "lamp-diode-lead", to = "lamp_diode.cathode" },
]
""",
        codes=("CHG-NO-EXCITE",),
        names=("lamp_diode",),
        severity="warning",
    ),
    Mistake(
        id="old-wire-with-a-live-end",
        words="An old wire behind the dash ends in the air; a fuse feeds it.",
        bases=("van_upgraded", "van_original_ballast"),
        as_found="""
[as_found]
add_wires = [
  { id = "found-tail", circuit = "accessory", from = "fuse_box.horn", to = "found_end.joint", size = "16 SAE", colour = "BN", insulation = "GPT", length = "0.6 m" },
]
"""  # noqa: E501
        + END,
        codes=("PWR-LOOSE-END",),
        names=("found-tail",),
        severity="caution",
    ),
    Mistake(
        id="lamp-wire-fallen-off-a-live-switch",
        words="The heater's wire fell off its switch and hangs there, live.",
        bases=("van_upgraded",),
        as_found="""
[as_found]
change_wires = [{ id = "heater-feed", to = "found_end.joint" }]
"""
        + END,
        codes=("PWR-LOOSE-END",),
        names=("heater-feed",),
        severity="caution",
    ),
]
