"""
Writes a network for ngspice, a general circuit simulator, with the same laws; reads its result.

For whoever wants to check a result by other means: write the text to a file, run
`ngspice -b FILE`, and parse what it prints. Only text goes in and out here.
"""

import re
from collections.abc import Callable, Mapping

from attrs import frozen

from upgrade_planner.electrical.network.elements import Diode, Regulated, Resistor, Source
from upgrade_planner.electrical.network.equations import PULL_S
from upgrade_planner.electrical.network.laws import Element, Node
from upgrade_planner.electrical.network.loads import CurrentSink, Lamp, PowerSink
from upgrade_planner.electrical.network.network import Network
from upgrade_planner.electrical.network.unsolvable import NetworkError

# Tighter than the simulator's own, so that its result can be told from ours to 1e-6. [-, A, V]
TOLERANCES = "reltol=1e-10 abstol=1e-13 vntol=1e-11 itl1=5000"
PRINTED_DIGITS = 15

CONTROL = f"""\
.control
set numdgt={PRINTED_DIGITS}
op
print all
.endc
.end
"""


class NoOperatingPoint(NetworkError):
    """
    The simulator's text holds no value for something.

    Attributes:
        missing: What has no value, in the simulator's own names, sorted.
    """

    def __init__(self, missing: set[str]) -> None:
        self.missing = tuple(sorted(missing))
        super().__init__(
            f"simulator: found no value for {', '.join(self.missing)}; "
            "expected the printed result of an operating point"
        )


@frozen
class SimulatedPoint:
    """
    What the simulator found.

    Attributes:
        voltage_v: Of each connected node against the reference. [V]
        current_a: Of each connected element, from its first end to its second. [A]
    """

    voltage_v: Mapping[Node, float]
    current_a: Mapping[str, float]


def netlist(network: Network) -> str:
    """
    The network as input for ngspice, to be asked for its operating point.

    Args:
        network: Any network.
    """
    return f"{circuit(network, metered=True)}.options {TOLERANCES}\n{CONTROL}"


def circuit(network: Network, *, metered: bool) -> str:
    """
    The elements of a network in the language of ngspice, without what is asked about them.

    Nodes and elements get short names in the order of the network; comments tell the real ones.
    What is unconnected is left out.

    Args:
        network: Any network.
        metered: Whether each element has an ammeter at its first end. Without, the simulator has a
            third of the unknowns.
    """
    names = _node_names(network)
    lines = ["* direct-current network"]
    lines += [f"* {name} = {_printable(node)}" for node, name in names.items()]
    for number, element in enumerate(network.elements):
        lines.append(f"* e{number} = {_printable(element.name)}")
        if network.is_connected(element):
            lines += _element_lines(number, element, names, network, metered)
    lines += [f"Rpull{name} {name} 0 {1.0 / PULL_S!r}" for name in held_names(network)]
    return "\n".join(lines) + "\n"


def held_names(network: Network) -> list[str]:
    """Short names of the connected nodes beside the reference."""
    names = _node_names(network)
    return [name for node, name in names.items() if node not in network.unconnected][1:]


def parse_operating_point(text: str, network: Network) -> SimulatedPoint:
    """
    Read what ngspice printed for a netlist of a network.

    Args:
        text: Its output.
        network: The network that was written.

    Raises:
        NoOperatingPoint: A value is missing, as after a run that found no operating point.
    """
    return printed_point(text, network, {n: f"ve{e}#branch" for n, e in _elements(network)})


def printed_point(text: str, network: Network, currents: Mapping[str, str]) -> SimulatedPoint:
    """
    Read what ngspice printed of voltages of nodes and of currents.

    Args:
        text: Its output; of values at several times the last one counts.
        network: The network that was written.
        currents: What the simulator calls the currents that were printed, by element.

    Raises:
        NoOperatingPoint: A value is missing.
    """
    last = re.sub(r"= \([^)]*?(\S+)\s*\)", r"= \1", text)
    pattern = re.compile(r"^(\S+) = (-?\d\S*)\s*$", re.MULTILINE)
    values = {name: float(value) for name, value in pattern.findall(last)}
    voltages = {n: s for n, s in _node_names(network).items() if n not in network.unconnected}
    values["0"] = 0.0
    missing = {*voltages.values(), *currents.values()} - set(values)
    if missing:
        raise NoOperatingPoint(missing)
    return SimulatedPoint(
        {node: values[name] for node, name in voltages.items()},
        {name: values[current] for name, current in currents.items()},
    )


def own_currents(network: Network) -> dict[str, str]:
    """What the simulator calls the current that a connected element tells without an ammeter."""
    kind = {e.name: "re" if isinstance(e, Resistor) else "be" for e in network.elements}
    return {name: f"@{kind[name]}{number}[i]" for name, number in _elements(network)}


def _elements(network: Network) -> list[tuple[str, int]]:
    """Connected elements with their numbers."""
    numbered = enumerate(network.elements)
    return [(e.name, number) for number, e in numbered if network.is_connected(e)]


def _node_names(network: Network) -> dict[Node, str]:
    return {node: f"n{number}" if number else "0" for number, node in enumerate(network.nodes)}


def _printable(name: object) -> str:
    return str(name).encode("unicode_escape").decode("ascii")


def _element_lines(
    number: int,
    element: Element,
    names: Mapping[Node, str],
    network: Network,
    metered: bool,
) -> list[str]:
    first, second = (names[node] for node in element.ends)
    meter = [f"Ve{number} {first} m{number} 0"] if metered else []
    start = f"m{number}" if metered else first
    if isinstance(element, Resistor):
        return [*meter, f"Re{number} {start} {second} {element.resistance_ohm!r}"]
    across = f"V({first},{second})"
    if isinstance(element, Regulated):
        across = _sensed(element, names, network)
    current = EXPRESSIONS[type(element)](element, across)
    return [*meter, f"Be{number} {start} {second} I={{{current}}}"]


def _sensed(element: Regulated, names: Mapping[Node, str], network: Network) -> str:
    leads = (element.sense_plus, element.sense_minus)
    if network.unconnected.intersection(leads):
        return "0.0"
    return f"V({names[leads[0]]},{names[leads[1]]})"


def _source(source: Source, v: str) -> str:
    excess = f"({v}-{source.emf_v!r})"
    charging, discharging = source.charging_resistance_ohm, source.resistance_ohm
    return f"{excess} > 0 ? {excess}/{charging!r} : {excess}/{discharging!r}"


def _current_sink(sink: CurrentSink, v: str) -> str:
    lowest = -1.0 if sink.is_symmetric else 0.0
    return f"{sink.current_a!r}*min(max({v}/{sink.knee_v!r},{lowest!r}),1.0)"


def _power_sink(sink: PowerSink, v: str) -> str:
    ohmic = f"max({v},0.0)*{sink.power_w / sink.lowest_v**2!r}"
    constant = f"{sink.power_w!r}/max({v},{sink.lowest_v!r})"
    return f"{v} < {sink.lowest_v!r} ? {ohmic} : {constant}"


def _lamp(lamp: Lamp, v: str) -> str:
    rated_a = lamp.power_w / lamp.rated_v
    ratio = f"max(abs({v}),{lamp.cold_v!r})/{lamp.rated_v!r}"
    glowing = f"sgn({v})*{rated_a!r}*pow({ratio},{lamp.exponent!r})"
    cold_s = lamp.law(lamp.cold_v)[1]
    return f"abs({v}) < {lamp.cold_v!r} ? {v}*{cold_s!r} : {glowing}"


def _diode(diode: Diode, v: str) -> str:
    above = f"max({v}-{diode.forward_v!r},0.0)"
    return f"{diode.leakage_s!r}*{v}+{above}/{diode.on_resistance_ohm!r}"


def _regulated(regulated: Regulated, sensed: str) -> str:
    wanted = f"({regulated.set_point_v!r}-{sensed})/{regulated.droop_ohm!r}"
    return f"-min(max({wanted},0.0),{regulated.limit_a!r})"


EXPRESSIONS: Mapping[type[Element], Callable[..., str]] = {
    Source: _source,
    CurrentSink: _current_sink,
    PowerSink: _power_sink,
    Lamp: _lamp,
    Diode: _diode,
    Regulated: _regulated,
}
