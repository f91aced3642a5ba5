"""
Means of a chopped coil, against a transient simulation: switch, condenser, coil, spark as a clamp.

One process of the simulator solves all speeds of all vehicles side by side.
"""

import re
import subprocess

import pytest
from every_case import every_case

from upgrade_planner.electrical.coil_current import closed_time, primary_current
from upgrade_planner.electrical.mean_points import mean_of
from upgrade_planner.electrical.operating_points import operating_point
from upgrade_planner.electrical.states import IDLING, KEY_ON

SPEEDS_RPM = (700, 1500, 3000)
CARS = ("van_original_ballast", "van_original_resistance", "van_full_voltage_points")
CASES = [(car, speed) for car in CARS for speed in SPEEDS_RPM]
PERIODS = 12
"""Spark periods of the slowest speed that are simulated; the last half of them is looked at."""

FEED, SWITCHED = "positive", "negative"


def circuit(load, car):
    """Volts, ohms before the coil, of it, henries, closed degrees and cylinders of a car."""
    configuration = load(car)
    point = operating_point(configuration, IDLING)
    coil, points = (configuration.component(role) for role in ("coil", "distributor"))
    amps = abs(point.element_current_a("coil"))
    coil_ohm = coil.ratings["primary_resistance"]
    return {
        "point": point,
        "volts": point.battery_v,
        "before_ohm": point.battery_v / amps - coil_ohm - 0.005,
        "coil_ohm": coil_ohm,
        "henry": coil.ratings["primary_inductance"],
        "dwell": points.ratings["dwell_angle"],
        "cylinders": points.ratings["cylinders"],
    }


def deck(cases):
    """All circuits in one text; means and peaks over the last whole periods."""
    lines, measures = ["chopped coils", ".model points sw(vt=0.5 vh=0.1 ron=5m roff=1e8)"], []
    lines += [".model spark d(bv=250 ibv=1m rs=2)"]
    end_s = PERIODS * 120.0 / min(SPEEDS_RPM) / 6
    for n, (parts, speed) in enumerate(cases):
        period = 120.0 / speed / parts["cylinders"]
        closed = closed_time(parts["dwell"], speed)
        whole = int(end_s / period / 2) * period
        start = end_s - whole
        lines += [
            f"vs{n} s{n} 0 {parts['volts']}",
            f"vg{n} g{n} 0 pulse(0 1 0 1u 1u {closed} {period})",
            f"rb{n} s{n} a{n} {parts['before_ohm']}",
            f"rc{n} a{n} b{n} {parts['coil_ohm']}",
            f"lc{n} b{n} c{n} {parts['henry']}",
            f"sp{n} c{n} 0 g{n} 0 points",
            f"cc{n} c{n} 0 0.22u",
            f"rl{n} b{n} c{n} 3k",  # core and secondary damp the ringing
            f"dz{n} 0 c{n} spark",
        ]
        span = f"from={start} to={end_s}"
        measures += [
            f"meas tran mi{n} avg i(vs{n}) {span}",
            f"meas tran mv{n} avg v(a{n}) {span}",
            f"meas tran pk{n} max i(lc{n}) {span}",
        ]
    control = [".control", f"tran 20u {end_s} 0 20u", *measures, "quit", ".endc", ".end"]
    return "\n".join([*lines, *control]) + "\n"


@pytest.fixture(scope="module")
def simulated(load, tmp_path_factory):
    parts = {car: circuit(load, car) for car in CARS}
    cases = [(parts[car], speed) for car, speed in CASES]
    file = tmp_path_factory.mktemp("deck") / "coils.cir"
    file.write_text(deck(cases))
    text = subprocess.run(
        ["ngspice", "-b", str(file)], capture_output=True, text=True, check=False
    ).stdout
    found = {name: float(v) for name, v in re.findall(r"^(m[iv]\d+|pk\d+)\s*=\s*(\S+)", text, re.M)}
    assert len(found) == 3 * len(CASES), text[-2000:]
    return parts, found


@every_case("number", range(len(CASES)))
def test_mean_volts_and_amperes_and_the_current_at_break_agree(simulated, number):
    parts, found = simulated
    car, speed = CASES[number]
    one = parts[car]
    mean = mean_of(one["point"], speed)
    amps = abs(mean.element_current_a("coil"))
    volts = one["volts"] - amps * one["before_ohm"]
    assert amps == pytest.approx(-found[f"mi{number}"], rel=0.05)
    assert volts == pytest.approx(found[f"mv{number}"], rel=0.05)
    whole = one["before_ohm"] + one["coil_ohm"] + 0.005
    peak = primary_current(one["volts"], whole, one["henry"], closed_time(one["dwell"], speed))
    assert peak == pytest.approx(found[f"pk{number}"], rel=0.03)


def test_mean_voltage_at_the_coil_rises_with_speed(load):
    point = operating_point(load(CARS[0]), IDLING)
    ref = next(r for r in point.configuration.wires_at if str(r) == "coil.positive")
    volts = [mean_of(point, speed).live_v(ref) for speed in SPEEDS_RPM]
    assert point.live_v(ref) < volts[0] < volts[1] < volts[2]


def test_a_standing_engine_has_no_means(load):
    point = operating_point(load(CARS[0]), KEY_ON)
    assert mean_of(point) is point
