"""Findings on the screen: each gravity can be shown."""

from upgrade_planner.checks.findings import Severity
from upgrade_planner.documents.terminal.findings import STYLES


def test_every_gravity_has_a_colour():
    assert set(STYLES) == set(Severity)
