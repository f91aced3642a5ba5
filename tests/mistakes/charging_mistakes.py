"""Mistakes around alternator, regulator, charge lamp and sensing."""

from planting import Mistake

VAN, TRACTOR = "van_upgraded", "tractor_upgraded"
UPGRADED = (VAN, TRACTOR)
ORIGINAL = ("van_original_ballast", "van_original_resistance", "tractor_original")
ALL = (*ORIGINAL, *UPGRADED)

MISTAKES = [
    Mistake(
        id="sensing-at-output",
        words="The sensing wire was looped to the alternator's own output stud.",
        bases=UPGRADED,
        as_found="""
[as_found]
change_wires = [{ id = "sensing", from = "alternator.output", length = "0.2 m" }]
""",
        codes=("CHG-SENSE-OWN",),
        names=("sensing",),
    ),
    Mistake(
        id="sensing-forgotten",
        words="The sensing wire was never run.",
        bases=UPGRADED,
        as_found="""
[as_found]
remove_wires = ["sensing"]
""",
        codes=("CHG-SENSE-OPEN",),
        names=("alternator.sense",),
    ),
    Mistake(
        id="sensing-at-fuse-box",
        words="The sensing wire was taken from the accessory side of the fuse box.",
        bases=(VAN,),
        as_found="""
[as_found]
change_wires = [{ id = "sensing", from = "fuse_box.accessory_supply" }]
""",
        codes=("CHG-SENSE-DROP",),
        names=("sensing",),
    ),
    Mistake(
        id="sensing-at-dead-switch",
        words="The sensing wire ends at the start terminal, which is dead while running.",
        bases=UPGRADED,
        as_found="""
[as_found]
change_wires = [{ id = "sensing", from = "ignition_switch.start" }]
""",
        codes=("CHG-SENSE-OPEN",),
        names=("sensing",),
    ),
    Mistake(
        id="old-regulator-left-van",
        words="The old regulator stayed on the wing, its field wire joined to the lamp terminal.",
        bases=(VAN,),
        as_found="""
[as_found]
add_wires = [
  { id = "old-field", circuit = "field", from = "regulator.field", to = "alternator.lamp", size = "16 SAE", colour = "BU", insulation = "GPT" },
]

[[as_found.add_component]]
role = "regulator"
kind = "regulator_electromechanical"
name = "Old regulator"
place = "inner_wing_left"
terminals = [
  { name = "supply", label = "B+", connection = "blade 6.3 mm" },
  { name = "field", label = "DF", connection = "blade 6.3 mm" },
  { name = "case", label = "base", connection = "case" },
]
ratings = { set_point = "14.2 V" }
""",  # noqa: E501
        codes=("CHG-TWO-REGULATORS", "CHG-FIELD-LEFT"),
        names=("regulator", "old-field"),
    ),
    Mistake(
        id="lamp-wire-forgotten",
        words="The charge lamp wire was not joined to the new alternator.",
        bases=UPGRADED,
        as_found="""
[as_found]
remove_wires = ["charge-lamp"]
""",
        codes=("CHG-NO-EXCITE",),
        names=("alternator.lamp",),
    ),
    Mistake(
        id="lamp-of-a-tenth-watt",
        words="A light-emitting lamp of 0.1 W was fitted and the resistance beside it taken out.",
        bases=UPGRADED,
        as_found="""
[as_found]
remove_wires = ["lamp-resistance"]

[[as_found.change_component]]
role = "charge_lamp"
ratings = { power = "0.1 W" }
""",
        codes=("CHG-NO-EXCITE",),
        names=("alternator.lamp",),
    ),
    Mistake(
        id="lamp-bypassed",
        words="The lamp wire was joined straight to the ignition terminal of the key switch.",
        bases=UPGRADED,
        as_found="""
[as_found]
change_wires = [{ id = "charge-lamp", from = "ignition_switch.ignition" }]
""",
        codes=("CHG-LAMP-BRIDGED", "CHG-RUN-ON"),
        names=("charge-lamp",),
    ),
    Mistake(
        id="lamp-resistance-became-wire",
        words="The burnt resistance wire beside the lamp was replaced by plain wire.",
        bases=UPGRADED,
        as_found="""
[as_found]
change_wires = [{ id = "lamp-resistance", size = "18 SAE", conductor = "copper" }]
""",
        codes=("CHG-LAMP-BRIDGED", "CHG-RUN-ON"),
        names=("lamp-resistance", "charge-lamp"),
    ),
    Mistake(
        id="relay-lamp-without-resistance",
        words="The resistance beside the charge lamp of the relay regulator is gone.",
        bases=ORIGINAL,
        as_found="""
[as_found]
remove_wires = ["lamp-resistance"]
""",
        codes=("CHG-LAMP-RESISTANCE",),
        names=("charge_lamp",),
    ),
    Mistake(
        id="lamp-resistance-always-live",
        words="The resistance beside the lamp was fed from the main junction, live without key.",
        bases=ALL,
        as_found="""
[as_found]
change_wires = [{ id = "lamp-resistance", from = "main_junction.stud" }]
""",
        codes=("CHG-FIELD-DRAIN",),
        names=("alternator", "lamp-resistance"),
    ),
    Mistake(
        id="set-point-too-high",
        words="An alternator with a regulator for 15.6 V was fitted.",
        bases=UPGRADED,
        as_found="""
[as_found]
[[as_found.change_component]]
role = "alternator"
ratings = { set_point = "15.6 V" }
""",
        codes=("CHG-SET-POINT",),
        names=("alternator",),
    ),
    Mistake(
        id="set-point-of-six-volts",
        words="A regulator of a 6 V vehicle was fitted.",
        bases=ORIGINAL,
        as_found="""
[as_found]
[[as_found.change_component]]
role = "regulator"
ratings = { set_point = "7.2 V" }
""",
        codes=("CHG-SET-POINT",),
        names=("regulator",),
    ),
    Mistake(
        id="alternator-beyond-stud",
        words="A 100 A alternator was fitted to a stud made for 80 A.",
        bases=(VAN,),
        as_found="""
[as_found]
[[as_found.change_component]]
role = "alternator"
ratings = { rated_output = "100 A" }
""",
        codes=("CHG-JUNCTION",),
        names=("main_junction",),
    ),
    Mistake(
        id="alternator-beyond-ammeter",
        words="A 75 A alternator was fitted behind the old ammeter.",
        bases=("tractor_original", TRACTOR),
        as_found="""
[as_found]
[[as_found.change_component]]
role = "alternator"
ratings = { rated_output = "75 A" }
""",
        codes=("CHG-AMMETER",),
        names=("ammeter",),
    ),
    Mistake(
        id="output-wire-too-thin",
        words="The output wire was renewed far too thin.",
        bases=UPGRADED,
        as_found="""
[as_found]
change_wires = [{ id = "charge-output", size = "2.5 mm²" }]
""",
        codes=("CHG-OUTPUT-DROP",),
        names=("charge-output",),
    ),
    Mistake(
        id="link-too-small",
        words="The link in the charging path was replaced by a much thinner one.",
        bases=(TRACTOR,),
        as_found="""
[as_found]
change_wires = [{ id = "link", size = "0.75 mm²" }]
""",
        codes=("CHG-LINK",),
        names=("link",),
    ),
    Mistake(
        id="output-not-joined",
        words="The output wire was left hanging.",
        bases=ALL,
        as_found="""
[as_found]
remove_wires = ["charge-output"]
""",
        codes=("CHG-OUTPUT-OPEN",),
        names=("alternator",),
    ),
    Mistake(
        id="output-through-connector",
        words="The output wire was led through the bulkhead connector to the dash.",
        bases=(VAN,),
        as_found="""
[as_found]
change_wires = [{ id = "charge-output", to = "distribution.stud" }]
""",
        codes=("CHG-CAVITY",),
        names=("bulkhead_connector",),
    ),
    Mistake(
        id="alternator-on-rubber",
        words="The alternator sits in rubber bushes and has no ground wire.",
        bases=UPGRADED,
        as_found="""
[as_found]
[[as_found.change_component]]
role = "alternator"
terminals = [
  { name = "output", label = "B+", connection = "stud M6" },
  { name = "lamp", label = "lamp", connection = "blade 6.3 mm" },
  { name = "sense", label = "sense", connection = "blade 6.3 mm" },
  { name = "ground", label = "B-", connection = "stud M5" },
]
""",
        codes=("CHG-GROUND",),
        names=("alternator",),
    ),
    Mistake(
        id="regulator-without-ground",
        words="The ground wire of the regulator was forgotten.",
        bases=ORIGINAL,
        as_found="""
[as_found]
remove_wires = ["regulator-ground"]
""",
        codes=("CHG-GROUND",),
        names=("regulator",),
    ),
    Mistake(
        id="field-wire-off",
        words="The field wire fell off.",
        bases=ORIGINAL,
        as_found="""
[as_found]
remove_wires = ["field"]
""",
        codes=("CHG-NO-REGULATOR",),
        names=("alternator",),
    ),
    Mistake(
        id="too-many-loads",
        words="A heater of 900 W hangs on the main junction.",
        bases=UPGRADED,
        as_found="""
[as_found]
add_wires = [
  { id = "found-load", circuit = "accessory", from = "main_junction.stud", to = "found_heater.supply", size = "10 mm²", colour = "RD", insulation = "GXL", length = "1 m" },
]

[[as_found.add_component]]
role = "found_heater"
kind = "load"
name = "Heater of 900 W"
place = "{engine_place}"
terminals = [
  { name = "supply", label = "+", connection = "stud M6" },
  { name = "case", label = "housing", connection = "case" },
]
ratings = { power = "900 W", rated_voltage = "12 V" }
""".replace("{engine_place}", "coil_bracket"),  # noqa: E501
        codes=("CHG-BALANCE",),
        names=("alternator",),
    ),
    Mistake(
        id="box-of-the-other-circuit",
        words="A control box for the other field circuit was fitted.",
        bases=("tractor_dynamo",),
        as_found="""
[overrides.regulator]
field_circuit = "B"
""",
        codes=("CHG-FIELD-CIRCUIT",),
        names=("dynamo", "regulator"),
    ),
    Mistake(
        id="dynamo-past-the-cut-out",
        words="The dynamo cable was put on the battery stud of the control box.",
        bases=("tractor_dynamo",),
        as_found="""
[as_found]
change_wires = [{ id = "dynamo-output", to = "regulator.supply" }]
""",
        codes=("CHG-NO-CUT-OUT",),
        names=("dynamo", "dynamo-output"),
    ),
    Mistake(
        id="dynamo-field-grounded",
        words="The field terminal was grounded for a test, and the wire was left.",
        bases=("tractor_dynamo",),
        as_found="""
[as_found]
add_wires = [{ id = "test-wire", circuit = "field", from = "dynamo.field", to = "engine_ground.stud", size = "1.5 mm²", colour = "BK", insulation = "PVC" }]
""",  # noqa: E501
        codes=("CHG-FULL-FIELD",),
        names=("dynamo", "test-wire"),
    ),
    Mistake(
        id="control-box-ground-off",
        words="The ground wire of the control box fell off.",
        bases=("tractor_dynamo",),
        as_found="""
[as_found]
remove_wires = ["regulator-ground"]
""",
        codes=("CHG-BOX-GROUND",),
        names=("regulator",),
    ),
    Mistake(
        id="control-box-b-ground-off",
        words="The ground wire of a control box for circuit B fell off.",
        bases=("tractor_dynamo",),
        as_found="""
[overrides.dynamo]
field_circuit = "B"
[overrides.regulator]
field_circuit = "B"
[as_found]
remove_wires = ["regulator-ground"]
""",
        codes=("CHG-BOX-GROUND",),
        names=("regulator",),
    ),
    Mistake(
        id="dynamo-field-wire-off",
        words="The field wire fell off the dynamo.",
        bases=("tractor_dynamo",),
        as_found="""
[as_found]
remove_wires = ["field"]
""",
        codes=("CHG-NO-REGULATOR", "CHG-NO-FIELD"),
        names=("dynamo",),
    ),
    Mistake(
        id="dynamo-of-six-volts",
        words="A dynamo for 6 V was fitted on 12 V.",
        bases=("tractor_dynamo",),
        as_found="""
[overrides.dynamo]
rated_voltage = "6 V"
""",
        codes=("RATED-MACHINE",),
        names=("dynamo",),
    ),
    Mistake(
        id="third-brush-without-fuse",
        words="The field fuse was bypassed.",
        bases=("six_volt_tractor_original",),
        as_found="""
[as_found]
change_wires = [{ id = "field", to = "body_ground.stud" }]
remove_wires = ["field-ground"]
""",
        codes=("CHG-FIELD-FUSE",),
        names=("dynamo",),
    ),
    Mistake(
        id="regulator-without-feed",
        words="The feed of the regulator fell off.",
        bases=("pickup_original",),
        as_found="""
[as_found]
remove_wires = ["regulator-supply"]
""",
        codes=("CHG-NO-FIELD",),
        names=("alternator",),
    ),
    Mistake(
        id="charge-lamp-joined-to-nothing",
        words="The wire of the charge lamp was never joined.",
        bases=("van_upgraded", "tractor_upgraded"),
        as_found="""
[as_found]
remove_wires = ["charge-lamp", "lamp-resistance"]
""",
        codes=("CHG-LAMP-LOOSE",),
        names=("charge_lamp",),
    ),
    Mistake(
        id="voltmeter-always-live",
        words="The voltmeter was joined to the main junction.",
        bases=("van_voltmeter",),
        as_found="""
[as_found]
change_wires = [{ id = "voltmeter-supply", from = "main_junction.stud" }]
""",
        codes=("CHG-VOLTMETER",),
        names=("voltmeter", "voltmeter-supply"),
    ),
]
