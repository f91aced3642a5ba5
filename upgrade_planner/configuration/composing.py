"""Puts vehicle, systems and changes together into one configuration, and proves it whole."""

import hashlib
import json
from collections import Counter
from collections.abc import Mapping
from typing import Any

from attrs import frozen

from upgrade_planner.configuration.changes import Draft
from upgrade_planner.configuration.entries import (
    ComponentEntry,
    ConfigurationFile,
    RouteEntry,
    SystemFile,
    VehicleFile,
    WireEntry,
)
from upgrade_planner.configuration.faults import Fault, one_of
from upgrade_planner.configuration.model import (
    Component,
    Conductor,
    Configuration,
    Joint,
    Origin,
    Place,
    Route,
    Run,
    Terminal,
    TerminalRef,
    Vehicle,
    Wire,
)
from upgrade_planner.configuration.ratings import parse_ratings
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.routing import NoWay, RouteMap


@frozen(kw_only=True)
class Parts:
    """Everything that makes up one configuration, as read."""

    name: str
    chain: tuple[tuple[str, ConfigurationFile], ...]
    vehicle_name: str
    vehicle_file: str
    vehicle: VehicleFile
    systems: Mapping[str, tuple[str, str, SystemFile]]
    """Slot to (system name, file, content)."""


def composed(parts: Parts) -> tuple[Configuration | None, list[Fault]]:
    """The configuration, or None, and what stands against it; all faults, not the first."""
    draft = _draft(parts)
    faults = draft.faults + _slot_faults(parts)
    faults += _place_faults(parts.vehicle)
    components = _components(parts, draft, faults)
    roles = {component.role for component in components}
    entries = [entry for entry in draft.wires.values() if entry.if_present in (None, *roles)]
    wires = _wires(parts, draft, entries, components, faults)
    if faults:
        return None, faults
    routes = tuple(_route(entry) for entry in parts.vehicle.route)
    runs = _runs(parts.vehicle, routes, components, wires, faults)
    if faults:
        return None, faults
    return _configuration(parts, components, routes, wires, runs), []


def _draft(parts: Parts) -> Draft:
    draft = Draft()
    draft.add_components(parts.vehicle.component, "vehicle")
    draft.add_wires(parts.vehicle.wiring.wires, "vehicle")
    for slot in sorted(parts.systems):
        _, _, system = parts.systems[slot]
        draft.add_components(system.component, slot)
        draft.add_wires(system.wiring.wires, slot)
    for file, content in parts.chain:
        for role, ratings in content.overrides.items():
            draft.override(role, ratings, Origin(file, ("overrides", role)))
        draft.apply(content.changes, Origin(file, ("changes",)), as_found=False)
        draft.apply(content.as_found, Origin(file, ("as_found",)), as_found=True)
    return draft


def _slot_faults(parts: Parts) -> list[Fault]:
    file, _ = parts.chain[-1]
    slots = parts.vehicle.vehicle.slots
    at = Origin(file, ("systems",))
    faults = [
        Fault(at, slot, f"no system for the slot '{slot}'", f'[systems] {slot} = "…"')
        for slot in slots
        if slot not in parts.systems
    ]
    for slot, (name, _, system) in sorted(parts.systems.items()):
        here = Origin(file, ("systems", slot))
        if slot not in slots:
            found = f"a system for the slot '{slot}', which {parts.vehicle_file} does not have"
            faults.append(Fault(here, slot, found, one_of(slot, slots)))
        elif system.system.slot != slot:
            found = f"'{name}', a second system for the slot '{system.system.slot}'"
            faults.append(Fault(here, slot, found, f"a system whose slot is '{slot}'"))
    return faults


def _place_faults(vehicle: VehicleFile) -> list[Fault]:
    places = Counter(place.id for place in vehicle.place)
    faults = [
        Fault(place.origin, place.id, f"place '{place.id}' a second time", "another id")
        for place in vehicle.place
        if places[place.id] > 1
    ][1:]
    roles = {component.role: component for component in vehicle.component}
    for route in vehicle.route:
        for end in (route.start, route.end):
            if end not in places:
                faults.append(
                    Fault(route.origin, "route", f"no place '{end}'", one_of(end, places))
                )
        if route.through and getattr(roles.get(route.through), "kind", "") != "connector":
            connectors = [role for role, entry in roles.items() if entry.kind == "connector"]
            found = f"no connector '{route.through}'"
            faults.append(Fault(route.origin, "route", found, one_of(route.through, connectors)))
    return faults


def _components(parts: Parts, draft: Draft, faults: list[Fault]) -> tuple[Component, ...]:
    made = []
    places = {place.id for place in parts.vehicle.place}
    for role in sorted(draft.components):
        entry = draft.components[role]
        place = entry.place or parts.vehicle.mounting.get(role)
        if place is None:
            found = f"no place for the role '{role}' in {parts.vehicle_file}"
            expected = f"[mounting] {role} = … there, or another system"
            faults.append(Fault(entry.origin, role, found, expected))
        elif place not in places:
            faults.append(Fault(entry.origin, role, f"no place '{place}'", one_of(place, places)))
        made.append(_component(entry, place or "", draft, faults))
    return tuple(made)


def _component(entry: ComponentEntry, place: str, draft: Draft, faults: list[Fault]) -> Component:
    kind = kinds()[entry.kind]
    names = tuple(terminal.name for terminal in entry.terminals)
    ratings, bad = parse_ratings(kind, entry.ratings, names)
    faults += [
        Fault(
            Origin(entry.origin.file, (*entry.origin.path, "ratings", *fault.inner)),
            entry.role,
            fault.found,
            fault.expected,
        )
        for fault in bad
    ]
    return Component(
        role=entry.role,
        kind=entry.kind,
        name=entry.name,
        place=place,
        terminals=tuple(
            Terminal(name=t.name, label=t.label, connection=t.connection) for t in entry.terminals
        ),
        ratings=ratings,
        note=entry.note,
        as_found=("role", entry.role) in draft.as_found,
        slot=draft.slots.get(("role", entry.role), "vehicle"),
        origin=entry.origin,
    )


def _wires(
    parts: Parts,
    draft: Draft,
    entries: list[WireEntry],
    components: tuple[Component, ...],
    faults: list[Fault],
) -> tuple[Wire, ...]:
    by_role = {component.role: component for component in components}
    made = []
    for entry in sorted(entries, key=lambda entry: entry.id):
        start = _end(parts, entry, "from", entry.start, by_role, faults)
        end = _end(parts, entry, "to", entry.end, by_role, faults)
        if start and end:
            made.append(_wire(entry, start, end, draft))
        if entry.conductor is not Conductor.RESISTANCE and entry.resistance is not None:
            found = "a resistance on plain wire"
            faults.append(Fault(entry.origin, entry.id, found, 'conductor = "resistance wire"'))
    return tuple(made)


def _wire(entry: WireEntry, start: TerminalRef, end: TerminalRef, draft: Draft) -> Wire:
    return Wire(
        id=entry.id,
        circuit=entry.circuit,
        start=start,
        end=end,
        size=entry.size,
        conductor=entry.conductor,
        resistance_ohm=entry.resistance,
        insulation=entry.insulation,
        colour=entry.colour,
        measured_length_m=entry.length,
        loom=entry.route,
        note=entry.note,
        as_found=("wire", entry.id) in draft.as_found,
        slot=draft.slots.get(("wire", entry.id), "vehicle"),
        origin=entry.origin,
    )


def _end(
    parts: Parts,
    entry: WireEntry,
    key: str,
    reference: str,
    by_role: Mapping[str, Component],
    faults: list[Fault],
) -> TerminalRef | None:
    role, _, name = reference.partition(".")
    name = _post(name, parts.vehicle.vehicle.ground)
    at = Origin(entry.origin.file, (*entry.origin.path, key))
    component = by_role.get(role)
    if component is None:
        found = f"no role '{role}' in {parts.vehicle_file} and its systems"
        faults.append(Fault(at, entry.id, found, one_of(role, by_role)))
        return None
    terminal = component.terminal(name)
    if terminal is None:
        found = f"no terminal '{name}' on {role} ({component.origin.file})"
        expected = one_of(name, [item.name for item in component.terminals])
        faults.append(Fault(at, entry.id, found, expected))
        return None
    if terminal.connection.joint is Joint.CASE:
        found = f"a wire on {reference}, which is grounded by its mounting"
        faults.append(Fault(at, entry.id, found, "a terminal that takes a wire"))
        return None
    return TerminalRef(role, name)


def _post(name: str, ground: str) -> str:
    """`live` and `grounded` are the battery posts whatever the polarity of the vehicle."""
    live = "positive" if ground == "negative" else "negative"
    return {"live": live, "grounded": ground}.get(name, name)


def _route(entry: RouteEntry) -> Route:
    start, end = sorted((entry.start, entry.end))
    return Route(
        start=start,
        end=end,
        length_m=entry.length,
        covering=entry.covering,
        loom=entry.loom,
        ambient_c=entry.ambient,
        through=entry.through or "",
    )


def _runs(
    vehicle: VehicleFile,
    routes: tuple[Route, ...],
    components: tuple[Component, ...],
    wires: tuple[Wire, ...],
    faults: list[Fault],
) -> dict[str, Run]:
    ways = RouteMap(tuple(place.id for place in vehicle.place), routes)
    place = {component.role: component.place for component in components}
    runs = {}
    for wire in wires:
        start, end = place[wire.start.role], place[wire.end.role]
        try:
            runs[wire.id] = ways.run(start, end, loom=wire.loom, measured_m=wire.measured_length_m)
        except NoWay as error:
            faults.append(Fault(wire.origin, wire.id, str(error), "a [[route]] between them"))
    return runs


def _configuration(
    parts: Parts,
    components: tuple[Component, ...],
    routes: tuple[Route, ...],
    wires: tuple[Wire, ...],
    runs: dict[str, Run],
) -> Configuration:
    header = parts.chain[-1][1].configuration
    as_found = [file.as_found.note for _, file in parts.chain if file.as_found.note]
    places = sorted(parts.vehicle.place, key=lambda place: (place.walk, place.id))
    return Configuration(
        name=parts.name,
        title=header.title,
        summary=header.summary,
        vehicle=_vehicle(parts),
        systems={slot: parts.systems[slot][0] for slot in sorted(parts.systems)},
        system_titles={slot: parts.systems[slot][2].system.name for slot in sorted(parts.systems)},
        places=tuple(
            Place(id=p.id, name=p.name, space=p.space, metal=p.metal, walk=p.walk) for p in places
        ),
        routes=routes,
        components=components,
        wires=wires,
        runs=runs,
        as_found_note=" ".join(as_found),
        digest=digest_of((components, routes, wires, parts.vehicle.vehicle.ground)),
    )


def _vehicle(parts: Parts) -> Vehicle:
    header = parts.vehicle.vehicle
    configurations = [file.configuration for _, file in reversed(parts.chain)]
    return Vehicle(
        name=parts.vehicle_name,
        title=header.title,
        summary=header.summary,
        voltage_v=header.voltage,
        ground=header.ground,
        size_system=header.size_system,
        owner=next((c.owner for c in configurations if c.owner), ""),
        serial_number=next((c.serial_number for c in configurations if c.serial_number), ""),
    )


def digest_of(value: Any) -> str:
    """SHA-256 of plain or attrs values, independent of hash seeds and of file order."""
    return hashlib.sha256(json.dumps(_plain(value), sort_keys=True).encode()).hexdigest()


def _plain(value: Any) -> Any:
    fields = getattr(value, "__attrs_attrs__", None)
    if fields is not None:
        return {f.name: _plain(getattr(value, f.name)) for f in fields if f.name != "origin"}
    if isinstance(value, Mapping):
        return {str(key): _plain(item) for key, item in value.items()}
    if isinstance(value, tuple | list):
        return [_plain(item) for item in value]
    return value if isinstance(value, int | float | str | bool | None) else str(value)
