"""
What a reading is: two probe points, a state, and the voltage between them.

Probes are written as in profiles, with a few words that hold whatever the polarity and the parts:

- `battery.live`, `battery.grounded`: the battery posts;
- `coil.feed`, `coil.switched`: the coil terminals towards key switch and points;
- `metal.engine`, `metal.body`: bare metal;
- any other `role.terminal`.

Alternatives stand in a row, and the first that a configuration has is the probe. Voltages count
from the ground side to the live side, so that they read alike on positive ground.
"""

from collections.abc import Iterable

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import OTHER_POST, Configuration, Joint, TerminalRef
from upgrade_planner.electrical.batteries import grounded_post, live_post
from upgrade_planner.electrical.models.context import METAL, metal_node, node_of
from upgrade_planner.electrical.network.elements import Regulated
from upgrade_planner.electrical.network.solving import Solution

SLIGHT_RATIO = 1e-6
"""Share of the greatest current in a network below which a current is none. [1] Source: our
assumption; rounding leaves less than a billionth, and so near its set point a machine shows the
same voltage to a tenth of a millivolt, whether it delivers or not."""

_FEEDING = ("ignition feed", "start bypass")


@frozen(kw_only=True)
class ReadingPoint:
    """
    A voltage to measure, for any configuration.

    Attributes:
        id: Name of the reading.
        state: Name of the operating state; see `electrical.states`.
        live_side: Probe nearer to the live post, alternatives in order.
        ground_side: The other probe.
    """

    id: str
    state: str
    live_side: tuple[str, ...]
    ground_side: tuple[str, ...]


@frozen
class Probe:
    """
    One place a meter lead touches.

    Attributes:
        node: Node of the network.
        ref: The terminal, or None for bare metal.
    """

    node: str
    ref: TerminalRef | None = None


@frozen(kw_only=True)
class PlacedReading:
    """A reading in one configuration."""

    point: ReadingPoint
    live: Probe
    ground: Probe
    is_negative_ground: bool

    @property
    def red(self) -> Probe:
        """Where the red lead goes, so that the meter shows no minus sign."""
        return self.live if self.is_negative_ground else self.ground

    @property
    def black(self) -> Probe:
        """Where the black lead goes."""
        return self.ground if self.is_negative_ground else self.live

    def value_v(self, solution: Solution) -> float:
        """
        What the meter shows in a solved network. [V]

        Zero if a lead stands where nothing but the meter holds the voltage: its own resistance
        pulls that lead to the other one. An open sensing terminal is pulled to ground by its
        regulator.
        """
        live_v, ground_v = (_held_v(probe.node, solution) for probe in (self.live, self.ground))
        if live_v is None or ground_v is None:
            return 0.0
        return live_v - ground_v if self.is_negative_ground else ground_v - live_v


def _held_v(node: str, solution: Solution) -> float | None:
    """Voltage of a node; None if nothing but a meter would hold it. [V]"""
    if node in solution.voltage_v and (node not in solution.loose or _is_driven(node, solution)):
        return solution.voltage_v[node]
    senses = (e.sense_plus for e in solution.network.elements if isinstance(e, Regulated))
    return 0.0 if node in senses and node not in solution.voltage_v else None


def _is_driven(node: str, solution: Solution) -> bool:
    """True at a machine's output that only a blocking diode follows: it feeds the meter too."""
    return any(
        isinstance(element, Regulated)
        and node in element.ends
        and _holds_set_point(element, solution)
        for element in solution.network.elements
    )


def _holds_set_point(machine: Regulated, solution: Solution) -> bool:
    """Whether a machine regulates, be it a current of nothing, within rounding to both sides."""
    sensed_v = solution.across_v(machine.sense_plus, machine.sense_minus) or 0.0
    slight_a = SLIGHT_RATIO * max(map(abs, solution.current_a.values()))
    return machine.is_active and -slight_a <= machine.wanted_a(sensed_v) < machine.limit_a


def placed(point: ReadingPoint, configuration: Configuration) -> PlacedReading | None:
    """The reading in a configuration; None if it cannot be measured there."""
    live = _first(point.live_side, configuration)
    ground = _first(point.ground_side, configuration)
    if live is None or ground is None or live == ground:
        return None
    return PlacedReading(
        point=point,
        live=live,
        ground=ground,
        is_negative_ground=configuration.vehicle.ground == "negative",
    )


def _first(alternatives: Iterable[str], configuration: Configuration) -> Probe | None:
    found = (probe_of(words, configuration) for words in alternatives)
    return next((probe for probe in found if probe is not None), None)


def probe_of(words: str, configuration: Configuration) -> Probe | None:
    """The probe of one alternative; None if the terminal does not exist or nothing joins it."""
    role, _, name = _post(words, configuration).partition(".")
    if role == METAL:
        metals = {place.metal for place in configuration.places}
        return Probe(metal_node(name)) if name in metals else None
    ref = TerminalRef(role, _terminal_name(role, name, configuration))
    part = configuration.component_by_role.get(role)
    terminal = part.terminal(ref.terminal) if part else None
    if terminal is None:
        return None
    is_case = terminal.connection.joint is Joint.CASE
    if not is_case and not configuration.wires_at.get(ref):
        return None
    return Probe(node_of(ref), ref)


def _post(words: str, configuration: Configuration) -> str:
    """Of a pair of batteries the post at the end of the string that the words mean."""
    posts = {
        "battery.live": live_post(configuration),
        "battery.grounded": grounded_post(configuration),
    }
    return str(posts.get(words) or words)


def _terminal_name(role: str, name: str, configuration: Configuration) -> str:
    if role == "coil" and name in ("feed", "switched"):
        feed = _coil_feed(configuration)
        other = OTHER_POST[feed]
        return feed if name == "feed" else other
    return name


def _coil_feed(configuration: Configuration) -> str:
    """The coil terminal that a feed is joined to; by polarity if that tells nothing."""
    for name in ("positive", "negative"):
        wires = configuration.wires_at.get(TerminalRef("coil", name), ())
        if any(wire.circuit in _FEEDING for wire in wires):
            return name
    return OTHER_POST[configuration.vehicle.ground]
