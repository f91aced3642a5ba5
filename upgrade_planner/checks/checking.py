"""Runs every rule; the list of rules is the contents page of this folder."""

from upgrade_planner.checks import (
    back_feeding,
    charging,
    charging_output,
    connections,
    drops,
    excitation,
    grounds,
    ignition,
    ignition_coil,
    links,
    polarity,
    power,
    protection,
    starting,
)
from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.configuration.model import Configuration

RULES = (
    connections.crowded_studs,
    connections.overfull_connectors,
    connections.cavity_overloaded,
    connections.cable_too_thick_for_blade,
    ignition.feed_live_with_key_off,
    ignition.feed_dead_in_start,
    ignition.starved_unit,
    ignition.feed_open,
    ignition.low_while_cranking,
    ignition.bypass_without_ballast,
    ignition.unit_not_grounded,
    ignition_coil.points_overloaded,
    ignition_coil.coil_reversed,
    ignition_coil.tachometer_misplaced,
    ignition_coil.condenser_on_unit,
    charging.sensing_at_own_output,
    charging.sensing_with_drop,
    charging.sensing_open,
    charging.two_regulators,
    charging.field_wires_left,
    charging.machine_without_regulator,
    charging.set_point_wrong,
    charging.machine_not_grounded,
    charging.dynamo_polarising,
    charging_output.output_not_joined,
    charging_output.output_drop,
    charging_output.output_above_ratings,
    charging_output.output_above_link,
    charging_output.ammeter_overloaded,
    charging_output.battery_discharging,
    excitation.no_excitation,
    excitation.lamp_bridged,
    excitation.lamp_without_resistance,
    back_feeding.runs_on,
    back_feeding.field_drains,
    back_feeding.solenoid_fed,
    starting.solenoid_circuit_drop,
    starting.no_start_signal,
    starting.interlock_missing,
    starting.cable_drop,
    starting.starter_not_grounded,
    starting.terminals_swapped,
    power.not_solved,
    polarity.battery_post_open,
    polarity.battery_reversed,
    polarity.part_reversed,
    power.short_circuit,
    power.load_without_feed,
    power.load_without_return,
    power.live_with_key_off,
    power.dead_when_needed,
    power.switched_on_but_dead,
    power.key_off_drain,
    power.orphan_wire,
    grounds.battery_ground_thin,
    grounds.metal_without_battery,
    grounds.thin_strap,
    grounds.cranking_return,
    grounds.loaded_return,
    grounds.case_without_metal,
    drops.wire_drop,
    drops.path_drop,
    drops.hot_wire,
    drops.current_above_table,
    drops.too_thin_to_handle,
    drops.below_regulation_size,
    protection.no_device,
    protection.fuse_too_big,
    protection.fuse_too_small,
    protection.opens_too_late,
    protection.output_above_wire,
    protection.output_above_fuse,
    links.link_too_big,
    links.link_badly_made,
    links.link_too_small,
)


SHORT = "PWR-SHORT"

FOLLOW_FROM_A_SHORT = (
    "DROP-", "GND-CRANKING", "GND-LOADED", "STA-DROP", "STA-SIGNAL-DROP", "CHG-BALANCE",
    "CHG-OUTPUT-DROP", "IGN-CRANK-LOW", "PWR-DRAIN", "PWR-DEAD",
)  # fmt: skip
"""Codes, or their beginnings, of findings that a short circuit makes and that go with it."""


def check(configuration: Configuration) -> tuple[Finding, ...]:
    """
    All findings, gravest first; rules never raise and never print.

    Beside a short circuit, what only follows from it is left out: it would hide the cause.
    """
    gravity = list(Severity)
    examined = Examined(configuration=configuration)
    found = [finding for rule in RULES for finding in rule(examined)]
    if any(finding.code == SHORT for finding in found):
        found = [finding for finding in found if not finding.code.startswith(FOLLOW_FROM_A_SHORT)]
    return tuple(sorted(found, key=lambda f: (gravity.index(f.severity), f.code, f.where)))
