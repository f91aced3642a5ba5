"""Rules on studs, blades and connectors."""

from every_case import every_case
from planting import rules_of

from upgrade_planner.checks import connections
from upgrade_planner.checks.examined import Examined

RULES = rules_of(connections)


def found_in(configuration):
    examined = Examined(configuration=configuration)
    return [finding for rule in RULES for finding in rule(examined)]


@every_case(
    "name", ["van_original_ballast", "van_upgraded", "tractor_original", "tractor_upgraded"]
)
def test_sound_connections_raise_nothing(load, name):
    assert found_in(load(name)) == []
