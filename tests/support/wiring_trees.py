"""Tree-like wiring of any size: feeds that branch from a stud, loads, grounds that join again."""

from upgrade_planner.electrical.network import (
    CurrentSink,
    Diode,
    Lamp,
    Network,
    PowerSink,
    Regulated,
    Resistor,
    Source,
)

REFERENCE = "battery.minus"
TOTAL_POWER_W = 400.0
BRANCHES = 3
LOADS_PER_GROUND = 8
WIRES_PER_JUNCTION = 3 + 1 / LOADS_PER_GROUND

# Name, share of the switches that are closed as one in so many (0: none), output limit of the
# alternator [A], whether the starter runs.
STATES = (
    ("off", 0, 0.0, False),
    ("key_on", 4, 0.0, False),
    ("cranking", 4, 0.0, True),
    ("idling", 2, 20.0, False),
    ("loaded", 1, 60.0, False),
    ("coasting", 8, 20.0, False),
)


def wiring(wire_count, state):
    """The network of about so many wires in one of the states."""
    _, closed_one_in, limit_a, is_cranking = state
    junctions = max(round(wire_count / WIRES_PER_JUNCTION), 2)
    elements = _engine_side(limit_a, is_cranking)
    for number in range(junctions):
        is_closed = bool(closed_one_in) and number % closed_one_in == 0
        elements += _branch(number, is_closed, TOTAL_POWER_W / junctions)
    for number in range(-(-junctions // LOADS_PER_GROUND)):
        parent = f"ground{(number - 1) // BRANCHES}" if number else REFERENCE
        elements.append(Resistor(f"strap{number}", f"ground{number}", parent, 0.0005))
    return Network(REFERENCE, tuple(elements))


def wires_in(network):
    """How many of the elements are wires."""
    return sum(element.name.startswith(("wire", "strap")) for element in network.elements)


def _engine_side(limit_a, is_cranking):
    elements = [
        Source("battery", "battery.plus", REFERENCE, 12.6, 0.012, 0.03),
        Resistor("wire.battery", "battery.plus", "junction0", 0.001),
        Resistor("wire.output", "alternator.output", "junction0", 0.006),
        Resistor("wire.engine", "engine", REFERENCE, 0.0004),
        Regulated(
            "alternator", "alternator.output", "engine", "junction0", "engine", 14.2, 0.01, limit_a
        ),
    ]
    if is_cranking:
        elements.append(Resistor("starter", "battery.plus", "engine", 0.03))
    return elements


def _branch(number, is_closed, power_w):
    """A junction with its feed, and a load with its own feed and ground."""
    here, fed, low = f"junction{number}", f"load{number}.feed", f"load{number}.ground"
    elements = [
        Resistor(f"wire.load{number}", f"switch{number}", fed, 0.02),
        Resistor(f"wire.ground{number}", low, f"ground{number // LOADS_PER_GROUND}", 0.01),
        *_load(number, fed, low, power_w),
    ]
    if number:
        parent = f"junction{(number - 1) // BRANCHES}"
        elements.append(Resistor(f"wire.feed{number}", parent, here, 0.004))
    if is_closed:
        elements.append(Resistor(f"contact{number}", here, f"switch{number}", 0.003))
    return elements


def _load(number, fed, low, power_w):
    name = f"load{number}"
    kinds = (
        lambda: [Lamp(name, fed, low, power_w, 12.0)],
        lambda: [Resistor(name, fed, low, 144.0 / power_w)],
        lambda: [CurrentSink(name, fed, low, power_w / 12.0, 0.5)],
        lambda: [PowerSink(name, fed, low, power_w, 12.0, 8.0)],
        lambda: [
            Diode(f"{name}.diode", fed, f"{name}.field", 0.7, 0.05),
            Resistor(name, f"{name}.field", low, 144.0 / power_w),
        ],
    )
    return kinds[number % len(kinds)]()
