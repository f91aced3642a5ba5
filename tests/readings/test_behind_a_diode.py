"""A lamp terminal that only a diode follows still stands at the machine's voltage."""

from upgrade_planner.electrical.operating_points import operating_point
from upgrade_planner.electrical.states import IDLING
from upgrade_planner.readings.points import ReadingPoint, placed

LAMP_TERMINAL = ReadingPoint(
    id="lamp-terminal-running",
    state="idling",
    live_side=("alternator.lamp",),
    ground_side=("battery.grounded",),
)


def reading(configuration):
    at = placed(LAMP_TERMINAL, configuration)
    return at.value_v(operating_point(configuration, IDLING).solution)


def test_reading_is_that_of_the_machine_with_and_without_a_diode(load):
    with_diode, without = load("van_discharge_unit"), load("van_upgraded")
    assert 13.9 < reading(without) < 14.5
    assert abs(reading(with_diode) - reading(without)) < 0.1
