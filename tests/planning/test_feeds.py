"""Which end of a wire is nearer to the battery, through what parts pass and no further."""

from every_case import every_case

from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.planning.feeds import feed_end, steps_from_battery


@every_case(
    ("name", "wire", "end"),
    [
        ("van_upgraded", "start-signal", "start_interlock.out"),
        ("van_upgraded", "start-interlock", "ignition_switch.start"),
        ("pickup_original", "start-signal", "start_interlock.out"),
        ("van_headlamp_relays", "low-beam", "dip_switch.low"),
        ("launch_original", "dynamo-output", "regulator.armature"),
        ("van_upgraded", "charge-lamp-supply", "tachometer.supply"),
        ("truck_external_module", "ignition-feed", "ignition_switch.ignition"),
    ],
)
def test_wire_is_fed_where_current_comes_from(name, wire, end):
    configuration = load_configuration(name)
    found = configuration.wire_by_id[wire]
    steps = steps_from_battery(configuration)
    assert str(feed_end(found, steps, configuration)) == end
