"""Runs every rule; the list of rules is the contents page of this folder."""

from functools import lru_cache

from upgrade_planner.checks import (
    back_feeding,
    charging,
    charging_output,
    connections,
    drops,
    dynamos,
    excitation,
    fuel_pumps,
    grounds,
    ignition,
    ignition_coil,
    ignition_discharge,
    ignition_leads,
    ignition_tachometer,
    ignition_trigger,
    isolators,
    links,
    polarity,
    power,
    protection,
    rated_voltage,
    relays,
    starting,
    starting_kinds,
)
from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.configuration.model import Configuration

RULES = (
    connections.crowded_studs,
    connections.overfull_terminals,
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
    ignition_coil.coil_starved,
    ignition_coil.coil_reversed,
    ignition_coil.condenser_on_unit,
    ignition_coil.condenser_missing,
    ignition_tachometer.tachometer_misplaced,
    ignition_tachometer.tachometer_cannot_read,
    ignition_trigger.pick_up_crossed,
    ignition_trigger.trigger_missing,
    ignition_leads.coil_beside_trigger,
    ignition_discharge.coil_not_alone,
    ignition_discharge.supply_not_straight,
    ignition_discharge.heavy_pair_unfit,
    ignition_discharge.kept_awake,
    ignition_discharge.return_missing,
    ignition_discharge.spark_return_missing,
    charging.sensing_at_own_output,
    charging.sensing_with_drop,
    charging.sensing_open,
    charging.two_regulators,
    charging.field_wires_left,
    charging.machine_without_regulator,
    charging.set_point_wrong,
    charging.machine_not_grounded,
    charging.dynamo_polarising,
    dynamos.field_circuits_differ,
    dynamos.no_cut_out,
    dynamos.full_field,
    dynamos.box_not_grounded,
    dynamos.cut_out_not_grounded,
    dynamos.does_not_build_up,
    dynamos.unregulated,
    dynamos.no_field_fuse,
    charging_output.output_not_joined,
    charging_output.output_drop,
    charging_output.output_above_ratings,
    charging_output.output_above_link,
    charging_output.ammeter_overloaded,
    charging_output.ammeter_passed_by,
    charging_output.battery_discharging,
    excitation.no_excitation,
    excitation.lamp_bridged,
    excitation.lamp_without_resistance,
    excitation.lamp_joined_to_nothing,
    excitation.excites_itself_late,
    excitation.voltmeter_fed_wrong,
    back_feeding.runs_on,
    back_feeding.field_drains,
    back_feeding.solenoid_fed,
    starting.solenoid_circuit_drop,
    starting.no_start_signal,
    starting.interlock_missing,
    starting.cable_drop,
    starting.starter_not_grounded,
    starting.terminals_swapped,
    starting_kinds.does_not_turn,
    starting_kinds.turns_unasked,
    starting_kinds.mechanical_switch,
    starting_kinds.holds_itself,
    starting_kinds.feeds_while_running_down,
    relays.chatters,
    relays.coil_never_fed,
    relays.coil_too_weak,
    relays.latches,
    relays.contact_overloaded,
    fuel_pumps.runs_with_engine_stopped,
    isolators.bypassed,
    isolators.too_weak,
    isolators.never_while_running,
    rated_voltage.made_for_less,
    rated_voltage.made_for_more,
    rated_voltage.battery_of_other_voltage,
    power.not_solved,
    polarity.battery_post_open,
    polarity.battery_reversed,
    polarity.part_reversed,
    polarity.wrong_ground_side,
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
    "DROP-",
    "GND-CRANKING",
    "GND-LOADED",
    "STA-DROP",
    "STA-SIGNAL-DROP",
    "CHG-BALANCE",
    "CHG-OUTPUT-DROP",
    "IGN-CRANK-LOW",
    "PWR-DRAIN",
    "PWR-DEAD",
)
"""Codes, or their beginnings, of findings that a short circuit makes and that go with it."""


LOST_METAL = "GND-NO-PATH"

FOLLOW_FROM_LOST_METAL = (
    "GND-CRANKING",
    "GND-LOADED",
    "STA-GROUND",
    "CHG-GROUND",
    "IGN-GROUND",
    "CHG-BALANCE",
    "PWR-SOLENOID-LIVE",
    "PWR-NO-RETURN",
    "PWR-DEAD",
    "RLY-WEAK",
    "STA-DEAD",
    "CHG-NO-FIELD",
    "CHG-CUT-OUT-GROUND",
)
"""The same for a lump of metal that no cable joins to the battery: all that is bolted to it fails,
and its current looks for a way through coils and lamps."""


def _is_cause(finding: Finding, codes: set[str]) -> bool:
    """False for what only follows from a short circuit or a lost ground that is told as well."""
    if SHORT in codes and finding.code.startswith(FOLLOW_FROM_A_SHORT):
        return False
    if LOST_METAL not in codes:
        return True
    through_nothing = finding.cause == protection.NOTHING_OPENS
    return not through_nothing and not finding.code.startswith(FOLLOW_FROM_LOST_METAL)


@lru_cache(maxsize=64)
def check(configuration: Configuration) -> tuple[Finding, ...]:
    """
    All findings, gravest first; rules never raise and never print.

    Computed once for each configuration: plans, choices and stages of one job share their ends.

    Beside a short circuit or a lost ground, what only follows from it is left out: it would hide
    the cause.
    """
    gravity = list(Severity)
    examined = Examined(configuration=configuration)
    found = [finding for rule in RULES for finding in rule(examined)]
    codes = {finding.code for finding in found}
    found = [finding for finding in found if _is_cause(finding, codes)]
    return tuple(sorted(found, key=lambda f: (gravity.index(f.severity), f.code, f.where)))
