"""Rules on studs, blades and connectors."""

import pytest
from connection_mistakes import MISTAKES
from planting import planted, rules_of

from upgrade_planner.checks import connections
from upgrade_planner.checks.examined import Examined

RULES = rules_of(connections)


def found_in(configuration):
    examined = Examined(configuration=configuration)
    return [finding for rule in RULES for finding in rule(examined)]


@pytest.mark.parametrize("mistake", MISTAKES, ids=lambda mistake: mistake.id)
def test_mistake_is_named(mistake, tmp_path):
    findings = found_in(planted(mistake, mistake.bases[-1], tmp_path))
    assert set(mistake.codes) <= {finding.code for finding in findings}
    where = {name for f in findings if f.code in mistake.codes for name in f.where}
    assert set(mistake.names) <= where


@pytest.mark.parametrize(
    "name", ["van_original_ballast", "van_upgraded", "tractor_original", "tractor_upgraded"]
)
def test_sound_connections_raise_nothing(load, name):
    assert found_in(load(name)) == []
