"""Runs every rule; the list of rules is the contents page of this folder."""

from upgrade_planner.checks import charging, connections, ignition
from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.configuration.model import Configuration

RULES = (
    connections.crowded_studs,
    connections.overfull_connectors,
    ignition.feed_live_with_key_off,
    ignition.feed_dead_in_start,
    ignition.starved_unit,
    ignition.bypass_on_full_voltage_unit,
    charging.sensing_at_own_output,
    charging.sensing_open,
    charging.two_regulators,
)


def check(configuration: Configuration) -> tuple[Finding, ...]:
    """All findings, gravest first; rules never raise and never print."""
    gravity = list(Severity)
    examined = Examined(configuration=configuration)
    found = [finding for rule in RULES for finding in rule(examined)]
    return tuple(sorted(found, key=lambda f: (gravity.index(f.severity), f.code, f.where)))
