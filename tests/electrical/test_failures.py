"""Single failures on request."""

import pytest

from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.electrical.failures import UnknownWire, with_open_wire
from upgrade_planner.electrical.operating_points import operating_point
from upgrade_planner.electrical.states import KEY_ON

UNIT = TerminalRef("distributor", "supply")


def test_open_feed_leaves_the_unit_dead(load):
    whole = load("van_upgraded")
    broken = with_open_wire(whole, "ignition-feed")
    assert operating_point(whole, KEY_ON).live_v(UNIT) > 12.0
    assert abs(operating_point(broken, KEY_ON).live_v(UNIT) or 0.0) < 0.1
    assert "ignition-feed open" in broken.title


def test_unknown_wire_is_answered_with_the_nearest(load):
    with pytest.raises(UnknownWire, match="ignition-feed"):
        with_open_wire(load("van_upgraded"), "ignition-fed")
