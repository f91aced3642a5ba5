"""Generated networks: elements of every kind with values as in vehicles, grounded or not."""

from functools import cache

from generating import EITHER, numbers, one_of
from hypothesis import strategies as st

from upgrade_planner.electrical.network import (
    CurrentSink,
    Diode,
    FloatingSource,
    Lamp,
    Network,
    PowerSink,
    Regulated,
    Resistor,
    Source,
)

REFERENCE = "0"


floats = cache(st.floats)


@cache
def powers_of_ten(lowest, highest):
    return floats(lowest, highest).map(lambda exponent: 10.0**exponent)


resistances_ohm = powers_of_ten(-4, 3)
wire_resistances_ohm = powers_of_ten(-3, 0)
droops_ohm = powers_of_ten(-2.5, 0)


def resistor(draw, name, a, b):
    return Resistor(name, a, b, draw(resistances_ohm))


def source(draw, name, a, b):
    resistances = draw(powers_of_ten(-2.5, 0)), draw(powers_of_ten(-2.5, 0))
    return Source(name, a, b, draw(floats(0, 28)), *resistances)


def linear_source(draw, name, a, b):
    resistance_ohm = draw(powers_of_ten(-2.5, 0))
    return Source(name, a, b, draw(floats(0, 28)), resistance_ohm, resistance_ohm)


def current_sink(draw, name, a, b):
    knee_v = draw(floats(0.1, 2))
    return CurrentSink(name, a, b, draw(powers_of_ten(-1, 1.5)), knee_v, draw(EITHER))


def power_sink(draw, name, a, b):
    return PowerSink(name, a, b, draw(powers_of_ten(0, 2)), 12.0, draw(floats(5, 9)))


def lamp(draw, name, a, b):
    return Lamp(name, a, b, draw(powers_of_ten(0, 2)), 12.0)


def diode(draw, name, a, b):
    leakage_s = draw(one_of((0.0, 0.0, 1e-4)))
    return Diode(name, a, b, draw(floats(0.3, 0.9)), draw(powers_of_ten(-2, 0)), leakage_s)


def regulated(draw, name, a, b):
    limit_a = draw(floats(0, 80))
    return Regulated(name, a, b, a, b, draw(floats(12, 16)), draw(droops_ohm), limit_a)


LINEAR = (resistor, linear_source)
MONOTONE = (resistor, resistor, source, current_sink, lamp, diode, diode, regulated)
ALL = (*MONOTONE, power_sink)


@st.composite
def grounded_networks(draw, kinds=ALL, most_remote=1, most_nodes=9):
    """Every node has a path of wires to the reference; a battery; any elements between nodes."""
    nodes = [REFERENCE, *(f"n{number}" for number in range(1, draw(numbers(2, most_nodes))))]
    elements = []
    for number, node in enumerate(nodes[1:], start=1):
        parent = nodes[draw(numbers(0, number - 1))]
        elements.append(Resistor(f"wire{number}", node, parent, draw(wire_resistances_ohm)))
    elements.append(Source("battery", nodes[1], REFERENCE, 12.6, 0.01, 0.02))
    if linear_source in kinds:
        elements[-1] = Source("battery", nodes[1], REFERENCE, 12.6, 0.01, 0.01)
    elements += _between(draw, nodes, kinds, draw(numbers(0, 10)))
    elements += _remote(draw, nodes, draw(numbers(0, most_remote)))
    return Network(REFERENCE, tuple(elements))


@st.composite
def any_networks(draw, kinds=ALL, most_remote=0, most_nodes=9):
    """Joined by elements of any kind, so that blocking ones may leave nodes loose."""
    nodes = [REFERENCE, *(f"n{number}" for number in range(1, draw(numbers(2, most_nodes))))]
    elements = [Source("battery", nodes[1], REFERENCE, 12.6, 0.01, 0.02)]
    for number, node in enumerate(nodes[1:], start=1):
        ends = [node, nodes[draw(numbers(0, number - 1))]][:: draw(one_of((1, -1)))]
        kind = draw(one_of(kinds))
        elements.append(kind(draw, f"tree{number}", *ends))
    elements += _between(draw, nodes, kinds, draw(numbers(0, 8)))
    elements += _remote(draw, nodes, draw(numbers(0, most_remote)))
    return Network(REFERENCE, tuple(elements))


def held_networks():
    """Of every kind, each node held by wires; one machine may sense afar."""
    return grounded_networks()


def far_sensing_networks():
    """The same with up to three machines that sense afar."""
    return grounded_networks(most_remote=3)


def steady_networks():
    """Of laws that never fall, each node held, no machine that senses afar."""
    return grounded_networks(kinds=MONOTONE, most_remote=0)


@st.composite
def scattered_networks(draw):
    """Elements thrown between nodes; some may be joined to nothing. None if a source floats."""
    nodes = [REFERENCE, *(f"n{number}" for number in range(1, 8))]
    elements = _between(draw, nodes, ALL, draw(numbers(1, 9)))
    try:
        return Network(REFERENCE, tuple(elements))
    except FloatingSource:
        return None


def _between(draw, nodes, kinds, count):
    elements = []
    for number in range(count):
        kind = draw(one_of(kinds))
        elements.append(kind(draw, f"{kind.__name__}{number}", *two_of(draw, nodes)))
    return elements


def _remote(draw, nodes, count):
    return [
        Regulated(
            f"remote{number}",
            *two_of(draw, nodes),
            *two_of(draw, nodes),
            draw(floats(12, 16)),
            draw(droops_ohm),
            draw(floats(0, 80)),
        )
        for number in range(count)
    ]


def two_of(draw, nodes):
    first = draw(numbers(0, len(nodes) - 1))
    second = (first + draw(numbers(1, len(nodes) - 1))) % len(nodes)
    return nodes[first], nodes[second]


def voltages_at(network):
    """Voltages for all nodes, as a guess to start from."""
    return st.fixed_dictionaries({node: st.floats(-40, 40) for node in network.nodes})
