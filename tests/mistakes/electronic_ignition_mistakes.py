"""Mistakes around trigger modules, pick-ups, capacitor-discharge units and coil packs."""

from planting import Mistake

MODULE = ("van_trigger_module", "tractor_trigger_module")
DISCHARGE = ("van_discharge_unit", "van_discharge_unit_pick_up")
POINTS_FIRE_IT = ("van_discharge_unit",)
EXTERNAL = ("van_external_module",)
PACK = ("van_coil_pack",)

MISTAKES = [
    Mistake(
        id="module-behind-ballast",
        words="The module takes its supply from the coil side of the ballast, past its fuse.",
        bases=MODULE,
        as_found="""
[as_found]
change_wires = [{ id = "module-supply", from = "ballast.out" }]
""",
        codes=("IGN-STARVED",),
        names=("distributor", "ballast"),
        is_double=True,
    ),
    Mistake(
        id="module-with-strong-coil",
        words="A coil and ballast for a current-limiting unit were fitted behind a plain module.",
        bases=MODULE,
        as_found="""
[as_found]
[[as_found.change_component]]
role = "coil"
ratings = { primary_resistance = "0.5 ohm" }

[[as_found.change_component]]
role = "ballast"
ratings = { resistance = "0.4 ohm" }
""",
        codes=("IGN-MODULE-CURRENT",),
        names=("coil", "distributor"),
    ),
    Mistake(
        id="module-ballast-bridged",
        words="The ballast was bridged, and the coil has less resistance than the module wants.",
        bases=EXTERNAL,
        as_found="""
[as_found]
add_wires = [
  { id = "found-bridge", circuit = "ignition feed", from = "ballast.in", to = "ballast.out", size = "16 SAE", colour = "RD", insulation = "PVC", length = "0.1 m" },
]
""",  # noqa: E501
        codes=("IGN-BALLAST-BRIDGED",),
        names=("ballast", "found-bridge"),
    ),
    Mistake(
        id="condenser-on-module",
        words="The old condenser stayed at the coil when the module went in.",
        bases=MODULE,
        as_found="""
[as_found]
add_wires = [
  { id = "old-condenser", circuit = "ignition primary", from = "coil.negative", to = "condenser.in", size = "16 SAE or 1.5 mm²", colour = "BK", insulation = "PVC", length = "0.2 m" },
]

[[as_found.add_component]]
role = "condenser"
kind = "condenser"
name = "Old condenser"
place = "coil_bracket"
terminals = [
  { name = "in", label = "1", connection = "blade 6.3 mm" },
  { name = "case", label = "clip", connection = "case" },
]
ratings = { capacitance = "0.22 µF" }
""",  # noqa: E501
        codes=("IGN-CONDENSER",),
        names=("condenser", "distributor"),
    ),
    Mistake(
        id="condenser-forgotten",
        words="Points went back in without their condenser.",
        bases=("van_original_ballast", "van_original_resistance"),
        as_found="""
[as_found]
[[as_found.change_component]]
role = "distributor"
kind = "points_distributor"
ratings = { cylinders = 6, dwell_angle = "38 deg" }
""",
        codes=("IGN-NO-CONDENSER",),
        names=("distributor",),
    ),
    Mistake(
        id="full-voltage-coil-on-resistance-wire",
        words="A coil for full voltage was joined to the old resistance wire.",
        bases=("van_full_voltage_points",),
        as_found="""
[as_found]
change_wires = [
  { id = "ignition-feed", size = "20 AWG", insulation = "SXL", conductor = "resistance wire", resistance = "1.35 ohm" },
]
""",  # noqa: E501
        codes=("IGN-COIL-STARVED",),
        names=("coil", "ignition-feed"),
    ),
    Mistake(
        id="module-of-the-other-polarity",
        words="The module is the version for positive ground.",
        bases=MODULE,
        as_found="""
[as_found]
[[as_found.change_component]]
role = "distributor"
ratings = { polarity = "positive ground only" }
""",
        codes=("PWR-GROUND-SIDE",),
        names=("distributor",),
    ),
    Mistake(
        id="module-starves-while-cranking",
        words="The battery is worn out: the module drops out while the starter turns.",
        bases=("van_trigger_module",),
        as_found="""
[as_found]
[[as_found.change_component]]
role = "battery"
ratings = { internal_resistance = "50 mohm" }
""",
        codes=("IGN-CRANK-LOW",),
        names=("distributor.supply",),
    ),
    Mistake(
        id="module-not-grounded",
        words="The module's ground wire was left off.",
        bases=EXTERNAL,
        as_found="""
[as_found]
remove_wires = ["module-ground"]
""",
        codes=("IGN-GROUND",),
        names=("ignition_module",),
    ),
    Mistake(
        id="module-coil-swapped",
        words="The primary wires of the coil were swapped.",
        bases=EXTERNAL,
        as_found="""
[as_found]
change_wires = [
  { id = "coil-feed", to = "coil.negative" },
  { id = "start-bypass", to = "coil.negative" },
  { id = "module-lead", from = "coil.positive" },
  { id = "tachometer", from = "coil.positive" },
]
""",
        codes=("IGN-POLARITY",),
        names=("coil",),
    ),
    Mistake(
        id="discharge-coil-still-fed",
        words="The old feed of the coil was left on when the discharge unit went in.",
        bases=DISCHARGE,
        as_found="""
[as_found]
add_wires = [
  { id = "old-feed", circuit = "ignition feed", from = "ignition_switch.ignition", to = "coil.positive", size = "10 SAE", colour = "BU", insulation = "GPT" },
]
""",  # noqa: E501
        codes=("IGN-CD-COIL",),
        names=("discharge_unit", "old-feed"),
    ),
    Mistake(
        id="discharge-bypass-left",
        words="The old bypass wire was left on the coil of the discharge unit.",
        bases=DISCHARGE,
        as_found="""
[as_found]
add_wires = [
  { id = "old-bypass", circuit = "start bypass", from = "starter.bypass", to = "coil.positive", size = "14 SAE", colour = "YE", insulation = "GPT" },
]
""",  # noqa: E501
        codes=("IGN-CD-COIL",),
        names=("discharge_unit", "old-bypass"),
    ),
    Mistake(
        id="discharge-points-on-coil",
        words="The points lead was left on the coil instead of going to the unit.",
        bases=POINTS_FIRE_IT,
        as_found="""
[as_found]
remove_wires = ["points-lead"]
add_wires = [
  { id = "old-points-lead", circuit = "ignition primary", from = "coil.negative", to = "distributor.points", size = "16 SAE", colour = "WH", insulation = "GPT" },
]
""",  # noqa: E501
        codes=("IGN-CD-COIL", "IGN-CONDENSER"),
        names=("discharge_unit", "distributor"),
    ),
    Mistake(
        id="discharge-fed-by-key",
        words="The heavy lead of the unit was joined to the ignition terminal of the key switch.",
        bases=DISCHARGE,
        as_found="""
[as_found]
change_wires = [
  { id = "unit-fuse-feed", from = "ignition_switch.ignition", length = "3.0 m" },
]
""",
        codes=("IGN-CD-SUPPLY",),
        names=("discharge_unit", "ignition_switch"),
    ),
    Mistake(
        id="discharge-heavy-lead-off",
        words="The heavy lead of the unit was forgotten.",
        bases=DISCHARGE,
        as_found="""
[as_found]
remove_wires = ["unit-supply"]
""",
        codes=("IGN-CD-SUPPLY",),
        names=("discharge_unit",),
    ),
    Mistake(
        id="discharge-return-off",
        words="The heavy return of the unit was forgotten.",
        bases=DISCHARGE,
        as_found="""
[as_found]
remove_wires = ["unit-return"]
""",
        codes=("IGN-CD-RETURN",),
        names=("discharge_unit",),
    ),
    Mistake(
        id="discharge-without-engine-ground",
        words="The unit's own ground wire to the engine was left off.",
        bases=DISCHARGE,
        as_found="""
[as_found]
remove_wires = ["unit-ground"]
""",
        codes=("IGN-CD-GROUND",),
        names=("discharge_unit",),
    ),
    Mistake(
        id="discharge-without-fuse",
        words="The heavy lead was joined to the battery without its fuse.",
        bases=DISCHARGE,
        as_found="""
[as_found]
remove_wires = ["unit-fuse-feed"]
remove_components = ["discharge_unit_fuse"]
change_wires = [{ id = "unit-supply", from = "battery.positive" }]
""",
        codes=("IGN-CD-FUSE",),
        names=("unit-supply",),
    ),
    Mistake(
        id="discharge-lead-too-thin",
        words="The heavy lead was run in the thin wire of the switched lead.",
        bases=DISCHARGE,
        as_found="""
[as_found]
change_wires = [{ id = "unit-supply", size = "18 SAE" }]
""",
        codes=("IGN-CD-THIN",),
        names=("unit-supply",),
    ),
    Mistake(
        id="discharge-tachometer-on-coil",
        words="The tachometer stayed on the negative terminal of the coil.",
        bases=DISCHARGE,
        as_found="""
[as_found]
change_wires = [{ id = "tachometer", from = "coil.negative" }]
""",
        codes=("IGN-TACHOMETER-HIGH",),
        names=("tachometer",),
    ),
    Mistake(
        id="discharge-coil-swapped",
        words="The unit's two coil leads were changed over.",
        bases=DISCHARGE,
        as_found="""
[as_found]
change_wires = [
  { id = "coil-positive", to = "coil.negative" },
  { id = "coil-negative", to = "coil.positive" },
]
""",
        codes=("IGN-POLARITY",),
        names=("coil",),
    ),
    Mistake(
        id="discharge-current-tachometer",
        words="A tachometer that senses the coil current stayed in the feed.",
        bases=DISCHARGE,
        as_found="""
[as_found]
change_wires = [{ id = "fuse-feed", from = "old_meter.out" }]
add_wires = [
  { id = "meter-feed", circuit = "ignition feed", from = "ignition_switch.ignition", to = "old_meter.in", size = "10 SAE", colour = "WH", insulation = "GPT" },
]

[[as_found.add_component]]
role = "old_meter"
kind = "tachometer_current_sensing"
name = "Old tachometer"
place = "behind_dash"
terminals = [
  { name = "in", label = "in", connection = "blade 6.3 mm" },
  { name = "out", label = "out", connection = "blade 6.3 mm" },
]
ratings = { resistance = "0.02 ohm" }
""",  # noqa: E501
        codes=("IGN-TACHOMETER-CURRENT",),
        names=("old_meter", "discharge_unit"),
    ),
    Mistake(
        id="discharge-of-the-other-polarity",
        words="The unit is made for positive ground only.",
        bases=DISCHARGE,
        as_found="""
[as_found]
[[as_found.change_component]]
role = "discharge_unit"
ratings = { polarity = "positive ground only" }
""",
        codes=("PWR-GROUND-SIDE",),
        names=("discharge_unit",),
    ),
    Mistake(
        id="discharge-pair-reversed",
        words="The heavy pair was changed over at the unit.",
        bases=DISCHARGE,
        as_found="""
[as_found]
change_wires = [
  { id = "unit-supply", to = "discharge_unit.battery_negative" },
  { id = "unit-return", from = "discharge_unit.battery_positive" },
]
""",
        codes=("PWR-PART-REVERSED",),
        names=("discharge_unit",),
    ),
    Mistake(
        id="discharge-starves-while-cranking",
        words="The battery is worn out: the unit drops out while the starter turns.",
        bases=DISCHARGE,
        as_found="""
[as_found]
[[as_found.change_component]]
role = "battery"
ratings = { internal_resistance = "45 mohm" }
""",
        codes=("IGN-CRANK-LOW",),
        names=("discharge_unit",),
    ),
    Mistake(
        id="discharge-always-awake",
        words="The switched lead was taken from the main junction.",
        bases=DISCHARGE,
        as_found="""
[as_found]
change_wires = [{ id = "fuse-feed", from = "main_junction.stud", length = "3.0 m" }]
""",
        codes=("IGN-KEY-OFF",),
        names=("discharge_unit", "fuse-feed"),
    ),
    Mistake(
        id="discharge-without-diode",
        words="The diode in the lamp wire was left out: the unit stays awake after key-off.",
        bases=("van_discharge_unit_pick_up",),
        as_found="""
[as_found]
remove_wires = ["lamp-diode-lead"]
remove_components = ["lamp_diode"]
change_wires = [{ id = "charge-lamp", from = "charge_lamp.return" }]
""",
        codes=("CHG-RUN-ON",),
        names=("discharge_unit", "charge-lamp"),
    ),
    Mistake(
        id="discharge-with-points-without-diode",
        words="The diode in the lamp wire was left out: points open, the unit stays awake.",
        bases=POINTS_FIRE_IT,
        as_found="""
[as_found]
remove_wires = ["lamp-diode-lead"]
remove_components = ["lamp_diode"]
change_wires = [{ id = "charge-lamp", from = "charge_lamp.return" }]
""",
        codes=("IGN-CD-RUN-ON",),
        names=("discharge_unit",),
    ),
    Mistake(
        id="pick-up-crossed-external",
        words="The two wires of the pick-up were changed over at the module.",
        bases=EXTERNAL,
        as_found="""
[as_found]
change_wires = [
  { id = "pick-up-plus", to = "ignition_module.trigger_minus" },
  { id = "pick-up-minus", to = "ignition_module.trigger_plus" },
]
""",
        codes=("IGN-PICK-UP-CROSSED",),
        names=("ignition_module", "distributor"),
    ),
    Mistake(
        id="pick-up-in-the-loom-of-the-coil",
        words="The wires of the pick-up were taped into the loom that holds the coil's lead.",
        bases=(*EXTERNAL, "van_discharge_unit_pick_up"),
        as_found="""
[as_found]
change_wires = [
  { id = "pick-up-plus", route = "engine loom" },
  { id = "pick-up-minus", route = "engine loom" },
]
""",
        codes=("IGN-LEADS",),
        names=("pick-up-plus", "pick-up-minus"),
    ),
    Mistake(
        id="pick-up-wire-off",
        words="One wire of the pick-up was not joined.",
        bases=(*EXTERNAL, *PACK, "van_discharge_unit_pick_up"),
        as_found="""
[as_found]
remove_wires = ["pick-up-minus"]
""",
        codes=("IGN-NO-TRIGGER",),
    ),
    Mistake(
        id="points-lead-off-unit",
        words="The points were not joined to the discharge unit.",
        bases=POINTS_FIRE_IT,
        as_found="""
[as_found]
remove_wires = ["points-lead"]
""",
        codes=("IGN-NO-TRIGGER",),
        names=("discharge_unit",),
    ),
    Mistake(
        id="pack-on-resistance-wire",
        words="The coil pack was joined to the old resistance wire.",
        bases=PACK,
        as_found="""
[as_found]
change_wires = [
  { id = "ignition-feed", size = "20 AWG", insulation = "SXL", conductor = "resistance wire", resistance = "1.35 ohm" },
]
""",  # noqa: E501
        codes=("IGN-STARVED",),
        names=("coil_pack", "ignition-feed"),
    ),
    Mistake(
        id="controller-not-grounded",
        words="The controller's ground wire was left off.",
        bases=PACK,
        as_found="""
[as_found]
remove_wires = ["controller-ground"]
""",
        codes=("IGN-GROUND",),
        names=("ignition_controller",),
    ),
    Mistake(
        id="pack-tachometer-on-one-coil",
        words="The tachometer was joined to one coil of the pack, a third of the sparks.",
        bases=PACK,
        as_found="""
[as_found]
change_wires = [{ id = "tachometer", from = "coil_pack.primary_1" }]
""",
        codes=("IGN-TACHOMETER",),
        names=("tachometer",),
    ),
]
