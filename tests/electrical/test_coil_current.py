"""Primary current of the ignition coil against published figures and against its own limits."""

import math

import pytest
from every_case import every_case
from hypothesis import given
from hypothesis import strategies as st

from upgrade_planner.electrical.coil_current import (
    closed_time,
    primary_current,
    stored_energy,
)

# Service manual for a 3.0 L four-cylinder LP-gas industrial engine, electronic-ignition section,
# p. 54: 8 cylinders, 30 deg dwell, 2.6 ohm. The battery is 12 V.
SUPPLY_V, CIRCUIT_OHM, DWELL_DEG = 12.0, 2.6, 30.0

ohms = st.floats(0.5, 6.0)
henries = st.floats(0.001, 0.02)
seconds = st.floats(0.0005, 0.05)
volts = st.floats(4.0, 30.0)


@every_case(("speed_rpm", "milliseconds"), [(1000, 10.0), (2000, 5.0)])
def test_closed_time_is_as_published(speed_rpm, milliseconds):
    # the same page: 10 ms at 1000 r/min, 5 ms at 2000 r/min
    assert closed_time(DWELL_DEG, speed_rpm) * 1000 == pytest.approx(milliseconds, abs=0.05)


def test_current_of_one_speed_foretells_that_of_the_other():
    """The page gives no inductance: the row at 2000 r/min gives it, the one at 1000 judges it."""
    # the same page: 3.8 A at 2000 r/min; 4.0 to 4.6 A at 1000 r/min
    share = 3.8 * CIRCUIT_OHM / SUPPLY_V
    inductance_h = -closed_time(DWELL_DEG, 2000) * CIRCUIT_OHM / math.log1p(-share)
    found = primary_current(SUPPLY_V, CIRCUIT_OHM, inductance_h, closed_time(DWELL_DEG, 1000))
    assert 4.0 <= found <= 4.6


def test_coil_loses_energy_with_speed():
    slow = primary_current(12.0, 2.6, 0.007, closed_time(30, 1000))
    fast = primary_current(12.0, 2.6, 0.007, closed_time(30, 5000))
    assert stored_energy(0.007, fast) < stored_energy(0.007, slow) / 2


@given(supply_v=volts, circuit_ohm=ohms, inductance_h=henries, closed_s=seconds)
def test_current_stays_below_that_of_the_resistance_alone(
    supply_v, circuit_ohm, inductance_h, closed_s
):
    found = primary_current(supply_v, circuit_ohm, inductance_h, closed_s)
    assert 0 < found <= supply_v / circuit_ohm
    assert found <= supply_v * closed_s / inductance_h * (1 + 1e-12)


@given(supply_v=volts, circuit_ohm=ohms, inductance_h=henries, closed_s=seconds)
def test_current_obeys_its_differential_equation(supply_v, circuit_ohm, inductance_h, closed_s):
    """V = R i + L di/dt, by central difference."""
    step = closed_s * 1e-4
    before, now, after = (
        primary_current(supply_v, circuit_ohm, inductance_h, closed_s + offset)
        for offset in (-step, 0.0, step)
    )
    slope = (after - before) / (2 * step)
    assert circuit_ohm * now + inductance_h * slope == pytest.approx(supply_v, rel=1e-5)


def test_energy_is_the_integral_of_power_into_the_inductance():
    """W = integral of L di/dt i dt, by the midpoint rule."""
    supply_v, circuit_ohm, inductance_h, closed_s, count = 12.0, 2.6, 0.007, 0.01, 2000
    step = closed_s / count
    work = 0.0
    for number in range(count):
        current = primary_current(supply_v, circuit_ohm, inductance_h, (number + 0.5) * step)
        work += (supply_v - circuit_ohm * current) * current * step
    end = primary_current(supply_v, circuit_ohm, inductance_h, closed_s)
    assert stored_energy(inductance_h, end) == pytest.approx(work, rel=1e-4)


@every_case(
    "call",
    [
        lambda: closed_time(0, 1000),
        lambda: closed_time(30, math.inf),
        lambda: primary_current(12, 0, 0.007, 0.01),
        lambda: primary_current(12, 2.6, -1, 0.01),
        lambda: stored_energy(0.007, -1),
        lambda: stored_energy(0.007, math.nan),
    ],
)
def test_values_out_of_range_are_refused(call):
    with pytest.raises(ValueError, match="is wanted"):
        call()
