"""
Time to check generated vehicles of 125, 500 and 2,000 wires, and how it grows.

Run by hand: `python tests/benchmarks/large_vehicles.py`. Processor time, so that other work on the
machine counts little. Each vehicle has fused and switched branches of ten lamps and motors.
"""

import sys
import time
from math import log
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "support"))

from generating import configuration_from

from upgrade_planner.checks.checking import check

SIZES = (125, 500, 2000)
LOADS_A_BRANCH = 10
WIRES_A_BRANCH = 3 + 2 * LOADS_A_BRANCH


def part(role, kind, place, terminals, **ratings):
    """A part whose terminals all take a stud."""
    named = [{"name": t, "label": t[:1].upper(), "connection": "stud M6"} for t in terminals]
    return {
        "role": role,
        "kind": kind,
        "name": f"{role}, made up",
        "place": place,
        "terminals": named,
        "ratings": ratings,
    }


def wire(name, start, end, size="2.5 mm²", circuit="lamps"):
    """A wire of copper."""
    return {
        "id": name,
        "circuit": circuit,
        "from": start,
        "to": end,
        "size": size,
        "colour": "RD",
        "insulation": "PVC",
    }


def vehicle(wire_count):
    """A vehicle of about so many wires, as a configuration."""
    branches = max(1, round((wire_count - 2) / WIRES_A_BRANCH))
    places = [
        {"id": f"place_{i}", "name": f"place {i}", "space": "engine", "metal": "body", "walk": i}
        for i in range(branches + 1)
    ]
    routes = [
        {
            "from": f"place_{(i - 1) // 2}",
            "to": f"place_{i}",
            "length": "600 mm",
            "covering": "exposed",
            "ambient": "50 °C",
        }
        for i in range(1, branches + 1)
    ]
    components = [
        part(
            "battery",
            "battery",
            "place_0",
            ("positive", "negative"),
            emf="12.6 V",
            internal_resistance="10 mohm",
        ),
        part("ground", "ground_point", "place_0", ("stud",)),
        part("main", "junction", "place_0", ("stud",)),
    ]
    wires = [
        wire("battery-ground", "battery.negative", "ground.stud", "25 mm²", "battery cable"),
        wire("battery-main", "battery.positive", "main.stud", "25 mm²", "battery cable"),
    ]
    for number in range(branches):
        components += branch_parts(number)
        wires += branch_wires(number)
    header = {
        "title": "Generated",
        "summary": "generated",
        "voltage": "12 V",
        "ground": "negative",
        "size_system": "mm²",
        "slots": [],
    }
    data = {"vehicle": header, "place": places, "route": routes, "component": components}
    data["wiring"] = {"wires": wires}
    configuration = {"title": "Generated", "summary": "generated", "vehicle": "vehicle"}
    return configuration_from(data, {}, {"configuration": configuration})


def branch_parts(number):
    """A fuse, a switch, a splice, a ground point, lamps and motors."""
    place = f"place_{number + 1}"
    positions = {"off": [], "on": [["in", "out"]]}
    yield part(f"fuse_{number}", "fuse", place, ("in", "out"), rated_current="20 A")
    yield part(f"switch_{number}", "switch", place, ("in", "out"), positions=positions)
    yield part(f"joint_{number}", "junction", place, ("stud",))
    yield part(f"ground_{number}", "ground_point", place, ("stud",))
    for load in range(LOADS_A_BRANCH):
        role, ends = f"load_{number}_{load}", ("supply", "return")
        if load % 3:
            yield part(role, "lamp", place, ends, power="5 W", rated_voltage="12 V")
        else:
            yield part(role, "motor", place, ends, running_current="1 A")


def branch_wires(number):
    """Feed, fused, switched, and two wires a load."""
    yield wire(f"feed-{number}", "main.stud", f"fuse_{number}.in", "4 mm²")
    yield wire(f"fused-{number}", f"fuse_{number}.out", f"switch_{number}.in")
    yield wire(f"switched-{number}", f"switch_{number}.out", f"joint_{number}.stud")
    for load in range(LOADS_A_BRANCH):
        name = f"load_{number}_{load}"
        yield wire(f"to-{name}", f"joint_{number}.stud", f"{name}.supply")
        yield wire(f"from-{name}", f"{name}.return", f"ground_{number}.stud", circuit="ground")


def main():
    """One line for each size."""
    before = None
    for size in SIZES:
        start_s = time.process_time()
        configuration = vehicle(size)
        made_s = time.process_time()
        findings = check(configuration)
        done_s = time.process_time()
        wires = len(configuration.wires)
        took_s = done_s - made_s
        growth = f"  n^{log(took_s / before[1]) / log(wires / before[0]):.2f}" if before else ""
        print(f"{wires:5} wires: made {made_s - start_s:6.2f} s, checked {took_s:6.2f} s{growth}")
        print(f"      {len(findings)} findings", flush=True)
        before = wires, took_s


if __name__ == "__main__":
    main()
