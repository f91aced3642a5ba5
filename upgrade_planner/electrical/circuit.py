"""Turns a configuration in a state into a network of elements."""

from collections.abc import Callable, Mapping
from functools import lru_cache

from upgrade_planner.configuration.kinds import JOINS_ONLY, Family
from upgrade_planner.configuration.model import (
    Component,
    Conductor,
    Configuration,
    TerminalRef,
    Wire,
)
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.electrical.batteries import grounded_post
from upgrade_planner.electrical.conductors import wire_resistance
from upgrade_planner.electrical.metals import resistance_ratio
from upgrade_planner.electrical.models import assumptions as assumed
from upgrade_planner.electrical.models import (
    consumers,
    dynamos,
    ignition_units,
    sources,
    switching,
)
from upgrade_planner.electrical.models.context import (
    Context,
    case_terminals,
    metal_node,
    mounting_ohm,
    node_of,
)
from upgrade_planner.electrical.models.without_model import joining
from upgrade_planner.electrical.network.elements import Resistor, WireResistor
from upgrade_planner.electrical.network.laws import Element
from upgrade_planner.electrical.network.network import Network
from upgrade_planner.electrical.network.unsolvable import NetworkError
from upgrade_planner.electrical.states import OFF, State

Model = Callable[[Component, Context], list[Element]]

KEPT = 8
"""Configurations whose cold wires and bonds are kept, for every state has them. Our choice."""

MODELS: Mapping[str, Model] = {
    model.__name__: model
    for model in (
        sources.battery,
        sources.alternator_internal_regulator,
        sources.alternator_external_regulator,
        sources.regulator_electromechanical,
        sources.regulator_transistor,
        dynamos.dynamo,
        dynamos.cut_out,
        switching.starter,
        switching.starter_motor,
        switching.starter_relay,
        switching.switch,
        switching.relay,
        switching.fuse_box,
        switching.fuse,
        ignition_units.pick_up,
        ignition_units.ignition_module,
        ignition_units.ignition_controller,
        ignition_units.coil_pack,
        ignition_units.tachometer_current_sensing,
        ignition_units.capacitor_discharge_unit,
        consumers.coil,
        consumers.points_distributor,
        consumers.integral_coil_distributor,
        consumers.lamp,
        consumers.load,
        consumers.motor,
        consumers.voltmeter,
        consumers.tachometer,
        consumers.gauge,
        consumers.sender,
    )
} | {JOINS_ONLY: joining}
"""Models by the name that a kind gives."""

STEADY = frozenset(
    (
        joining,
        sources.battery,
        dynamos.cut_out,
        switching.fuse_box,
        switching.fuse,
        switching.starter_motor,
        ignition_units.pick_up,
        ignition_units.ignition_module,
        ignition_units.coil_pack,
        ignition_units.tachometer_current_sensing,
        consumers.coil,
        consumers.points_distributor,
        consumers.lamp,
        consumers.load,
        consumers.motor,
        consumers.voltmeter,
        consumers.tachometer,
        consumers.gauge,
        consumers.sender,
    )
)
"""Models of parts that are the same whatever state they are in."""


class UnknownModel(NetworkError):
    """A kind names an electrical model that there is not."""

    def __init__(self, kind: str, model: str) -> None:
        self.kind, self.model = kind, model
        names = ", ".join(sorted(MODELS))
        super().__init__(f"kinds.toml: {kind}.model: found {model!r}; expected one of {names}")


class NoBattery(NetworkError):
    """A configuration without a battery has no post to refer voltages to."""

    def __init__(self) -> None:
        super().__init__("configuration: found no battery; expected a component of that kind")


def wire_name(wire_id: str) -> str:
    """Name of the element that stands for a wire."""
    return f"wire {wire_id}"


def role_of(element: str) -> str:
    """Role of the part that an element belongs to, by the element's name; of a wire its name."""
    return element.partition(":")[0]


def reference_node(configuration: Configuration) -> str:
    """
    The grounded battery post, to which all voltages are referred.

    Raises:
        NoBattery: there is none.
    """
    post = grounded_post(configuration)
    if post is None:
        raise NoBattery
    return node_of(post)


def network_of(
    configuration: Configuration,
    state: State,
    temperatures_c: Mapping[str, float] | None = None,
    operated: frozenset[str] = frozenset(),
) -> Network:
    """
    The network of a configuration in a state.

    Args:
        configuration: The wiring.
        state: Key, engine and loads.
        temperatures_c: Temperature of each wire's conductor, by wire id; None where they are as
            cold as the air around them. [°C]
        operated: Relays that are pulled in and machines that are excited, by role.
    """
    elements = elements_of(configuration, state, temperatures_c, operated)
    return Network(reference_node(configuration), tuple(elements))


def elements_of(
    configuration: Configuration,
    state: State,
    temperatures_c: Mapping[str, float] | None = None,
    operated: frozenset[str] = frozenset(),
) -> list[Element]:
    """The elements of `network_of`, not yet joined to a network."""
    context = Context(configuration=configuration, state=state, operated=operated)
    elements: list[Element] = []
    for part, model, steady in _parts(configuration):
        elements += steady
        if model is not None:
            elements += model(part, context)
    if temperatures_c is None:
        return [*elements, *cold_wires(configuration)]
    elements += [
        wire_element(wire, configuration, temperatures_c.get(wire.id, 20.0))
        for wire in configuration.wires
    ]
    return elements


@lru_cache(maxsize=KEPT)
def cold_wires(configuration: Configuration) -> tuple[WireResistor, ...]:
    """All wires, as cold as the air around them."""
    wires, runs = configuration.wires, configuration.runs
    return tuple(wire_element(wire, configuration, runs[wire.id].ambient_c) for wire in wires)


@lru_cache(maxsize=KEPT)
def _parts(
    configuration: Configuration,
) -> tuple[tuple[Component, Model | None, list[Element]], ...]:
    """Each part with the elements that it has in any state, and what makes the others, if any."""
    return tuple(_with_steady(part, configuration) for part in configuration.components)


def _with_steady(
    part: Component, configuration: Configuration
) -> tuple[Component, Model | None, list[Element]]:
    model, bonds = _model_of(part), _bonds(part, configuration)
    if model not in STEADY:
        return part, model, bonds
    return part, None, bonds + model(part, Context(configuration=configuration, state=OFF))


def wire_element(wire: Wire, configuration: Configuration, temperature_c: float) -> WireResistor:
    """The element of a wire: its metal, its two joints, the connectors it passes."""
    run = configuration.runs[wire.id]
    joints = 2 * assumed.joint_ohm(wire.size.area_mm2) + len(run.connectors) * assumed.CAVITY_OHM
    metal = wire.resistance_ohm or 0.0
    if wire.conductor is not Conductor.RESISTANCE:
        alike_ohm = wire_resistance(wire.size, run.length_m, temperature_c)
        metal = resistance_ratio(wire) * alike_ohm
    ends = node_of(wire.start), node_of(wire.end)
    return WireResistor(wire_name(wire.id), *ends, metal + joints, joints)


def wire_ohms(wire: Wire, configuration: Configuration, temperature_c: float) -> float:
    """Resistance of a wire with its two joints and the connectors it passes. [Ω]"""
    return wire_element(wire, configuration, temperature_c).resistance_ohm


def _model_of(part: Component) -> Model:
    name = kinds()[part.kind].model
    if name not in MODELS:
        raise UnknownModel(part.kind, name)
    return MODELS[name]


def _bonds(part: Component, configuration: Configuration) -> list[Element]:
    """Case terminals and ground points are joined to the metal they are mounted on."""
    metal = configuration.place_by_id[part.place].metal
    names = case_terminals(part)
    if part.family is Family.GROUND_POINT:
        names = [terminal.name for terminal in part.terminals]
    if not metal:
        return []
    return [
        Resistor(
            f"{part.role}:{name} on {metal}",
            node_of(TerminalRef(part.role, name)),
            metal_node(metal),
            mounting_ohm(part),
        )
        for name in names
    ]
