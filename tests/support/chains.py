"""Chains of configurations of one generated vehicle, and vehicles carried through job after job."""

from collections.abc import Mapping
from itertools import pairwise

from attrs import frozen
from generating import (
    COLOURS,
    INSULATIONS,
    SIZES,
    as_found,
    configuration_from,
    one_of,
    systems,
    vehicles,
)
from hypothesis import assume
from hypothesis import strategies as st

from upgrade_planner.comparison.wire_changes import Disposition, IntoTarget
from upgrade_planner.configuration.model import Wire
from upgrade_planner.planning.operations import ConductorKey, RemoveWire, RunWire, Side
from upgrade_planner.planning.simulation import ConductorState, VehicleState

IN_USE = (Disposition.KEEP, Disposition.MOVE)


@st.composite
def chains(draw):
    """Four configurations in which the same wires take now this size, now that."""
    vehicle = draw(vehicles())
    made = []
    for prefix in "abcd":
        system = draw(systems(vehicle, prefix if draw(st.booleans()) else "a"))
        changes = draw(as_found(vehicle))
        gone = set(changes["remove_wires"]) | {w["id"] for w in changes["change_wires"]}
        changes["change_wires"] += [
            draw(_changed(wire)) for wire in vehicle["wiring"]["wires"] if wire["id"] not in gone
        ]
        header = {"title": prefix, "summary": prefix, "vehicle": "generated"}
        configuration = {"configuration": header, "as_found": changes}
        made.append(configuration_from(vehicle, {"ignition": system}, configuration, prefix))
    assume(all(one.digest != other.digest for one, other in pairwise(made)))
    return tuple(made)


@st.composite
def _changed(draw, wire):
    change = {"id": wire["id"], "size": draw(one_of(SIZES))}
    if wire.get("conductor") is None:
        change["insulation"] = draw(one_of(INSULATIONS))
        change["colour"] = draw(one_of(COLOURS))
    return change


def spec(wire):
    """What a conductor is made of."""
    return (
        wire.size.label,
        wire.conductor,
        wire.resistance_ohm,
        wire.insulation.name,
        wire.colour.code,
    )


def names_after(comparison):
    """The id in AFTER of every conductor that serves after a job."""
    found = {}
    for change in comparison.wires:
        if not isinstance(change, IntoTarget):
            continue
        if change.disposition in IN_USE:
            found[ConductorKey(Side.OLD, change.before.id)] = change.after.id
        elif change.disposition is Disposition.REJOIN:
            found[ConductorKey(Side.CAPPED, change.after.id)] = change.after.id
        else:
            found[ConductorKey(Side.NEW, change.after.id)] = change.after.id
    return found


@frozen
class Vehicle:
    """A vehicle between two jobs: conductors by wire id, parts, dead wires, what is in the bag."""

    conductors: Mapping[str, ConductorState]
    parts: Mapping[str, str]
    spares: Mapping[str, Wire]
    bag: Mapping[str, Wire]


def vehicle_of(configuration):
    """The vehicle as a configuration says."""
    conductors = {w.id: ConductorState(w, set(w.ends)) for w in configuration.wires}
    return Vehicle(conductors, {p.role: p.kind for p in configuration.components}, {}, {})


def carried_on(plan, vehicle):
    """
    The vehicle after a further job.

    A conductor stays what it was made of, whatever the plan calls it; a wire out of the bag must
    have lain there before the job.
    """
    splices = {p.role: p.kind for p in plan.comparison.after.components if p.kind == "splice"}
    kept = {
        ConductorKey(Side.OLD, name): ConductorState(item.wire, set(item.joined))
        for name, item in vehicle.conductors.items()
    }
    dead = {
        ConductorKey(Side.CAPPED, name): ConductorState(wire, capped=True)
        for name, wire in vehicle.spares.items()
    }
    state = VehicleState({**splices, **vehicle.parts}, {**kept, **dead})
    made = {key: item.wire for key, item in state.conductors.items()}
    bag, taken_out = dict(vehicle.bag), {}
    for operation in plan.operations:
        state.carry_out(operation)
        if isinstance(operation, RunWire):
            from_bag = operation.from_bag
            made[operation.conductor] = bag.pop(operation.wire.id) if from_bag else operation.wire
        if isinstance(operation, RemoveWire):
            out = made.pop(operation.conductor)
            taken_out[operation.wire.id] = out
    for key, item in state.conductors.items():
        item.wire = made[key]
    return Vehicle(
        conductors=_in_use(plan.comparison, state),
        parts=state.parts,
        spares={key.wire_id: item.wire for key, item in state.conductors.items() if item.capped},
        bag=bag | taken_out,
    )


def _in_use(comparison, state):
    """Conductors that are not capped, by their id in AFTER."""
    names = names_after(comparison)
    live = {key: conductor for key, conductor in state.conductors.items() if not conductor.capped}
    assert set(live) == set(names)
    return {names[key]: conductor for key, conductor in live.items()}
