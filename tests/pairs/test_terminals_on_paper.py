"""
Five jobs planned on paper at the level of each terminal, then compared with the plan.

The tables were written from the wiring of both vehicles and from the practice of the trade, with
the program closed: which rings, receptacles, clamps and barrels meet where, in which order, which
are made anew; from which terminals that stay in use a wire leaves and what lies there on; which
fuse goes where.
"""

from every_case import every_case
from on_paper import agrees, expected, in_words, joined, told
from pair_facts import found, planned

from upgrade_planner.planning.operations import InsertFuse

CHARGING = """
    alternator.output: charge-output*
    alternator.lamp: charge-lamp*
    alternator.sense: sensing*
    sensing_joint.joint: sensing*+sensing-link*
"""

VAN = (
    CHARGING
    + """
    battery.negative: clamp battery-ground > bolt body-ground
    battery_link_joint.joint: battery-main*+battery-link*
    main_junction.stud: battery-main* = charge-output* > link* > sensing-link*
    link_joint.joint: main-feed*+link*
    distribution.stud: main-feed* > fuse-box-feed = key-feed = lamp-feed
"""
)

TABLES = {
    ("van_original_resistance", "van_upgraded"): VAN
    + """
    battery.positive: clamp starter-cable > bolt battery-link*
    charge_lamp.return: charge-lamp* > lamp-resistance
    ignition_switch.ignition: ignition-feed* = ignition-fuse-feed > lamp-resistance
    distributor.supply: ignition-feed*
    distributor.tachometer: tachometer*
""",
    ("van_original_ballast", "van_discharge_unit"): VAN.replace(
        "bolt body-ground", "bolt body-ground > bolt unit-return*"
    )
    + """
    battery.positive: clamp starter-cable > bolt battery-link* > bolt unit-fuse-feed*
    charge_lamp.return: lamp-diode-lead* > lamp-resistance
    lamp_diode.anode: lamp-diode-lead*
    lamp_diode.cathode: charge-lamp*
    ignition_switch.ignition: fuse-feed* = ignition-fuse-feed > lamp-resistance
    ignition_fuse.in: fuse-feed*
    ignition_fuse.out: ignition-feed*
    discharge_unit.switched: ignition-feed*
    discharge_unit_fuse.in: unit-fuse-feed*
    discharge_unit_fuse.out: unit-supply*
    discharge_unit.battery_positive: unit-supply*
    discharge_unit.battery_negative: unit-return*
    discharge_unit.ground: unit-ground*
    engine_ground.stud: battery-ground > engine-strap > unit-ground*
    discharge_unit.coil_positive: coil-positive*
    discharge_unit.coil_negative: coil-negative*
    coil.positive: coil-positive*
    coil.negative: coil-negative*
    discharge_unit.points: points-lead*
    distributor.points: points-lead*
    discharge_unit.tachometer: tachometer*
""",
    ("pickup_original", "pickup_upgraded"): CHARGING
    + """
    battery.negative: clamp battery-ground > bolt body-ground
    start_relay.battery: starter-cable > main-link*
    main_link_joint.joint: main-feed*+main-link*
    main_junction.stud: charge-output* = main-feed* > cab-link* > sensing-link*
    cab_link_joint.joint: cab-feed*+horn-fuse-feed*+cab-link*
    horn_fuse.in: horn-fuse-feed*
    horn_fuse.out: horn-feed*
    ignition_switch.ignition:
        ignition-feed* = ignition-fuse-feed > indicator-feed* > lamp-resistance*
    indicator_fuse.in: indicator-feed*
    indicator_fuse.out: charge-lamp-supply*
    charge_lamp.supply: charge-lamp-supply* > voltmeter-supply*
    charge_lamp.return: charge-lamp* > lamp-resistance*
    voltmeter.supply: voltmeter-supply*
    voltmeter.return: voltmeter-ground*
    distributor.supply: ignition-feed*
    dash_ground.stud: heater-ground > voltmeter-ground*
""",
    ("six_volt_tractor_original", "six_volt_tractor_twelve"): """
    battery.negative: clamp battery-ground*
    battery.positive: clamp starter-cable*
    engine_ground.stud: battery-ground* > engine-strap*
    body_ground.stud: engine-strap*
    start_switch.battery: starter-cable* > link*
    start_switch.starter: starter-motor-cable*
    starter.battery: starter-motor-cable*
    link_joint.joint: ammeter-feed*+link*
    ammeter.battery_side: ammeter-feed*
    ammeter.load_side: ammeter-main*
    main_junction.stud: ammeter-main* = key-fuse-feed* = lamp-feed* > output-link*
    output_joint.joint: charge-output*+output-link*
    alternator.output: charge-output*
    key_fuse.in: key-fuse-feed*
    key_fuse.out: key-feed*
    ignition_switch.battery: key-feed*
    ignition_switch.ignition: ignition-feed* > gauge-dropper-feed*
    gauge_dropper.in: gauge-dropper-feed*
    gauge_dropper.out: fuel-gauge-supply*
    fuel_gauge.supply: fuel-gauge-supply*
    fuel_gauge.sender: fuel-sender*
    fuel_sender.signal: fuel-sender*
    coil.positive: ignition-feed*
    coil.negative: points-lead*
    distributor.points: points-lead*
    lamp_fuse.in: lamp-feed*
    lamp_fuse.out: lamp-fused*
    lamp_switch.supply: lamp-fused*
    lamp_switch.head: headlamps*
    lamp_switch.tail: tail-lamp*
    headlamp_left.supply: headlamp-right* = headlamps*
    headlamp_right.supply: headlamp-right*
    tail_lamp.supply: tail-lamp*
""",
    ("saloon_original", "saloon_negative_alternator"): """
    battery.negative: clamp battery-ground*
    battery.positive: clamp starter-cable*
    start_relay.battery: starter-cable > main-link*
    main_link_joint.joint: main-feed*+main-link*
    main_junction.stud: charge-output* = main-feed* > block-link*
    block_link_joint.joint: fuse-block-feed*+block-link*
    fuse_block.battery_supply: feed-fuses-feed* = fuse-block-feed
    feed_fuses.supply: feed-fuses-feed*
    feed_fuses.key: key-feed*
    feed_fuses.lamps: lamp-feed*
    feed_fuses.extras: radio-fuse-feed*
    radio_fuse.in: radio-fuse-feed*
    radio_fuse.out: interior-lamp* & radio-feed; two ends, one adapter
    radio.supply: radio
    lamp_switch.side: side-fuse-feed*
    side_fuse.in: side-fuse-feed*
    side_fuse.out: panel-lamps* & side-lamps* & tail-lamps*; two ends, one adapter
    ignition_switch.ignition: dash-fuses-feed* = ignition-fuse-feed > indicator-feed*
    dash_fuses.supply: dash-fuses-feed*
    dash_fuses.ignition: ignition-feed*
    dash_fuses.pump: inertia-feed*
    dash_fuses.heater: heater-feed*
    inertia_switch.in: inertia-feed*
    inertia_switch.out: fuel-pump-feed*
    indicator_fuse.in: indicator-feed*
    indicator_fuse.out: charge-lamp-supply*
    charge_lamp.supply: charge-lamp-supply* > voltmeter-supply*
    charge_lamp.return: charge-lamp*
    voltmeter.supply: voltmeter-supply*
    voltmeter.return: voltmeter-ground*
    dash_ground.stud: heater-ground > voltmeter-ground*
    alternator.output: charge-output*
    alternator.lamp: charge-lamp*
    coil.positive: ignition-feed = module-supply*
    coil.negative: points-lead
    distributor.supply: module-supply*
    distributor.coil: points-lead*
""",
}

LEFT_BEHIND = {
    ("van_original_resistance", "van_upgraded"): """
    body_ground.stud: engine-strap > body-ground
""",
    ("van_original_ballast", "van_discharge_unit"): """
    body_ground.stud: engine-strap > body-ground
""",
    ("pickup_original", "pickup_upgraded"): "",
    ("six_volt_tractor_original", "six_volt_tractor_twelve"): "",
    ("saloon_original", "saloon_negative_alternator"): """
    wiper_switch.supply: auxiliary-feed > gauge-supply = stop-feed
    lamp_switch.supply: lamp-feed
    fuse_block.horn: horns
""",
}
"""Terminals from which something goes and to which nothing comes: what is tightened there again."""

FUSES = {
    ("van_original_resistance", "van_upgraded"): "",
    ("van_original_ballast", "van_discharge_unit"): """
    discharge_unit_fuse.out: 20
    ignition_fuse.out: 5
""",
    ("pickup_original", "pickup_upgraded"): """
    horn_fuse.out: 15
    indicator_fuse.out: 3
""",
    ("six_volt_tractor_original", "six_volt_tractor_twelve"): """
    key_fuse.out: 10
    lamp_fuse.out: 10
""",
    ("saloon_original", "saloon_negative_alternator"): """
    feed_fuses.key: 15
    feed_fuses.lamps: 15
    feed_fuses.extras: 10
    dash_fuses.ignition: 7.5
    dash_fuses.pump: 5
    dash_fuses.heater: 5
    indicator_fuse.out: 3
    side_fuse.out: 5
    radio_fuse.out: 7.5
    fuse_block.horn: 15
    fuse_block.auxiliary: 10
""",
}
"""Fuses that go in: slot and amperes."""

pairs = every_case("pair", TABLES)


@pairs
def test_what_meets_at_each_terminal(pair):
    met, wanted = joined(planned(*pair)), expected(TABLES[pair])
    wrong = {
        terminal: (told(met[terminal], line), line)
        for terminal, line in wanted.items()
        if terminal in met and not agrees(met[terminal], line)
    }
    assert not wrong
    assert set(met) == set(wanted)


@pairs
def test_what_stays_where_something_goes(pair):
    plan = planned(*pair)
    stays = {str(left.end): left for each in plan.left_behind.values() for left in each}
    wanted = expected(LEFT_BEHIND[pair])
    assert {end: in_words(left.fittings) for end, left in stays.items()} == wanted


@pairs
def test_fuses_that_go_in(pair):
    wanted = {slot: float(amps) for slot, amps in expected(FUSES[pair]).items()}
    fitted = {
        f"{op.part.role}.{op.fuse.way}": op.fuse.rated_current_a
        for op in planned(*pair).operations
        if isinstance(op, InsertFuse)
    }
    assert fitted == wanted


HEAVY = {
    ("six_volt_tractor_original", "six_volt_tractor_twelve"): {"main_junction.stud"},
}
"""Where paper would not stack what the wiring asks for: three cables of 8 gauge, and practice is
two. The plan stacks them and the target says so, with what to fit instead."""


@pairs
def test_studs_that_paper_would_part_are_told(pair):
    told_of = {one.where[0] for one in found(pair[1]) if one.code == "CONN-STUD-HEAVY"}
    assert told_of & set(joined(planned(*pair))) == HEAVY.get(pair, set())
