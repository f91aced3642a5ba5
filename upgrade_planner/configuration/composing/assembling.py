"""Puts vehicle, systems and changes together into one configuration, and proves it whole."""

from collections.abc import Iterable, Iterator, Mapping, Set
from functools import lru_cache

from attrs import evolve, field

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.composing.changes import ROLE, WIRE, Draft
from upgrade_planner.configuration.composing.digest import digest_of
from upgrade_planner.configuration.composing.joining import VEHICLE, Joiner, Offered
from upgrade_planner.configuration.composing.made_once import faults_in_entry, part_of
from upgrade_planner.configuration.composing.places import (
    passage_faults,
    place_faults,
    unreached_places,
)
from upgrade_planner.configuration.composing.routing import RouteMap
from upgrade_planner.configuration.composing.superseded import Superseded
from upgrade_planner.configuration.composing.switch_positions import state_faults, switch_positions
from upgrade_planner.configuration.composing.this import This
from upgrade_planner.configuration.equipment import (
    NO,
    NOT_KNOWN,
    ROAD,
    YES,
    Equipment,
    usual_equipment,
)
from upgrade_planner.configuration.files.faults import Fault, meant, nearest, one_of, quoted
from upgrade_planner.configuration.files.loaded import ANY, Gaps, Loaded
from upgrade_planner.configuration.files.positions import Origin
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import (
    Component,
    Configuration,
    Vehicle,
    Wire,
)
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.structuring.entries import (
    ComponentEntry,
    ConfigurationFile,
    RouteEntry,
    SystemFile,
    VehicleFile,
    VehicleHeader,
)
from upgrade_planner.configuration.ways import Place, Route, Run

KEPT_WAYS = 20
"""Vehicles whose ways stay in memory once they are searched. A number of our own."""


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
    named_in: Mapping[str, str] = field(factory=dict)
    """Slot to the file of the chain that chose its system."""
    superseded: Mapping[str, Superseded] = field(factory=dict)
    """File of the chain to what it says of systems that a later file replaced."""

    @property
    def ground(self) -> str:
        """The grounded battery post: of the vehicle, or as the configuration converts it."""
        given = (file.configuration.ground for _, file in reversed(self.chain))
        return next((word for word in given if word), self.vehicle.vehicle.ground)

    @property
    def voltage_v(self) -> float:
        """The system voltage: of the vehicle, or as the configuration converts it. [V]"""
        given = (file.configuration.voltage for _, file in reversed(self.chain))
        return next((volts for volts in given if volts), self.vehicle.vehicle.voltage)

    @property
    def files(self) -> tuple[tuple[str, VehicleFile | SystemFile | ConfigurationFile], ...]:
        """All files, the vehicle first, then systems by slot, then the chain; the last one wins."""
        systems = [(file, content) for _, (_, file, content) in sorted(self.systems.items())]
        return ((self.vehicle_file, self.vehicle), *systems, *self.chain)

    @property
    def named_terminals(self) -> dict[str, str]:
        """Terminals by the name that vehicle, systems or configuration give them."""
        return {
            key: ref
            for name, file in self.files
            for key, ref in file.named_terminals.items()
            if ref.partition(".")[0] not in self._brought_instead(name)
        }

    def _brought_instead(self, file: str) -> set[str]:
        """Roles of parts that a system brings which a later file than that one chose."""
        slots = self.superseded.get(file, Superseded()).slots
        return {part.role for slot in slots for part in self.systems[slot][2].component}

    @property
    def states(self) -> tuple[tuple[str, Mapping[str, Mapping[str, str]]], ...]:
        """Switch positions by role, by state, of each file that names any."""
        return tuple((name, file.states) for name, file in self.files if file.states)


def composed(parts: Parts, gaps: Gaps | None = None) -> Loaded[Configuration | None]:
    """
    The configuration, or None, and what stands against it; all faults, not the first.

    Args:
        parts: The sound content of the files.
        gaps: What is known to be missing from it; the configuration is whole only without any.
    """
    gaps = gaps or Gaps()
    header = parts.vehicle.vehicle
    offered_slots = {*header.slots, *header.optional_slots}
    misplaced = {
        slot
        for slot, (_, _, file) in parts.systems.items()
        if file.system.slot != slot or slot not in offered_slots
    }
    unfilled = set(header.slots) - set(parts.systems)
    if misplaced or unfilled:  # what belongs there is not known
        gaps |= Gaps.of_any(ROLE, WIRE)
    changed = _draft(parts, gaps, misplaced)
    draft = changed.content
    parts_made = [_component(parts, draft, role, gaps) for role in sorted(draft.components)]
    components = tuple(part.content for part in parts_made)
    by_role = {component.role: component for component in components}
    offered = Offered(parts.vehicle_file, header.size_system, parts.named_terminals)
    joiner = Joiner(draft, by_role, parts.ground, offered, gaps)
    wires = joiner.wires()
    ways = _ways(tuple(place.id for place in parts.vehicle.place), parts.vehicle.route)
    runs = joiner.runs(ways, wires.content, unreached_places(parts.vehicle, gaps))
    faults = (
        *_slot_faults(parts, gaps),
        *place_faults(parts.vehicle_file, parts.vehicle, gaps),
        *(fault for part in parts_made for fault in part.faults),
        *passage_faults(parts.vehicle, by_role, draft.removed, gaps),
        *state_faults(parts.states, components, draft.gone, gaps),
        *changed.faults,
        *wires.faults,
        *runs.faults,
    )
    if faults or gaps.names:
        return Loaded(None, tuple(_naming_misfits(faults, parts)))
    made = (components, ways.routes, wires.content, runs.content)
    return Loaded(_configuration(parts, *made, joiner))


def _naming_misfits(faults: Iterable[Fault], parts: Parts) -> Iterator[Fault]:
    """The same faults; the first one of each system names it, and the file that chose it."""
    untold = {file: slot for slot, (_, file, _) in parts.systems.items()}
    for fault in faults:
        system = fault.misfit or fault.origin.file
        slot = untold.pop(system, "")
        chosen_in = parts.named_in.get(slot, "")
        is_elsewhere = chosen_in and fault.origin.file == system
        asked = fault.expected.removesuffix(", or another system")
        hint = f"; or another system for {slot} in {chosen_in}" if is_elsewhere else ""
        expected = f"{asked}{hint}" if hint else fault.expected
        yield evolve(fault, expected=expected, misfit=system if slot else "")


def _draft(parts: Parts, gaps: Gaps, misplaced: Set[str]) -> Loaded[Draft]:
    """Components and wires as the files change them one after the other."""
    draft = Draft(gaps)
    faults = [
        *draft.add_components(parts.vehicle.component, VEHICLE),
        *draft.add_wires(parts.vehicle.wiring.wires, VEHICLE),
    ]
    fitting = [(slot, *parts.systems[slot][1:]) for slot in sorted(set(parts.systems) - misplaced)]
    for slot, _, system in fitting:
        faults += draft.add_components(system.component, slot)
        faults += draft.add_wires(system.wiring.wires, slot)
    if parts.vehicle.vehicle.cylinders is not None:
        draft.fit_to_engine(parts.vehicle.vehicle.cylinders)
    for slot, file, system in fitting:  # when all they may change is there
        at = Origin(file, ("changes",))
        faults += draft.apply(system.changes, at, as_found=False, slot=slot)
    draft.choose_sizes(parts.vehicle.vehicle.size_system)
    for file, content in parts.chain:
        draft.void = parts.superseded.get(file, Superseded())
        for role, ratings in content.overrides.items():
            faults += draft.override(role, ratings, Origin(file, ("overrides", role)))
        faults += draft.apply(content.changes, Origin(file, ("changes",)), as_found=False)
        faults += draft.apply(content.as_found, Origin(file, ("as_found",)), as_found=True)
    draft.drop_wires_to_nowhere()
    return Loaded(draft, tuple(faults))


def _slot_faults(parts: Parts, gaps: Gaps) -> list[Fault]:
    last, _ = parts.chain[-1]
    header = parts.vehicle.vehicle
    slots = (*header.slots, *header.optional_slots)
    filled = {*parts.systems, *meant(parts.systems, slots)}
    faults = [
        Fault(
            Origin(last, ("systems",)),
            slot,
            f"no system for the slot {quoted(slot)}",
            f'{slot} = "…" under [systems]',
        )
        for slot in dict.fromkeys(header.slots)
        if slot not in filled and not gaps.has("slot", slot)
    ]
    for slot, (name, file, system) in sorted(parts.systems.items()):
        here = Origin(parts.named_in.get(slot, last), ("systems", slot))
        if slot not in slots and not gaps.has("slot", ANY):
            found = f"a slot {quoted(slot)} that {parts.vehicle_file} does not have"
            misfit = file if system.system.slot == slot else ""
            faults.append(Fault(here, slot, found, one_of(slot, slots), misfit=misfit))
        elif system.system.slot not in (slot, ANY):
            found = f"{quoted(name)}, a system for the slot {quoted(system.system.slot)}"
            faults.append(Fault(here, slot, found, f"a system for the slot {quoted(slot)}"))
    return faults


def _component(parts: Parts, draft: Draft, role: str, gaps: Gaps) -> Loaded[Component]:
    """The component of a role; with faults, as far as wires can be joined to it."""
    entry, key = draft.components[role], (ROLE, role)
    this, kind = This(entry), This(kinds()[entry.kind])
    faults = [
        Fault(draft.where(key, *fault.inner), role, fault.found, fault.expected)
        for fault in faults_in_entry(this, kind)
    ]
    place = _place(parts, draft, entry, gaps)
    component = part_of(
        this,
        kind,
        place.content,
        slot=draft.slots[key],
        is_marked=_is_marked(entry, draft.slots[key], parts.vehicle.vehicle),
        as_found=key in draft.as_found,
    )
    return Loaded(component, (*faults, *place.faults))


def _is_marked(entry: ComponentEntry, slot: str, vehicle: VehicleHeader) -> bool:
    """A stud or bolt bears no mark; an old vehicle may say that none of its own parts does."""
    if entry.marked in (YES, NO):
        return entry.marked == YES
    is_bare = kinds()[entry.kind].family in (Family.GROUND_POINT, Family.JOINT)
    return not is_bare and not (slot == VEHICLE and vehicle.marked == NO)


def _place(parts: Parts, draft: Draft, entry: ComponentEntry, gaps: Gaps) -> Loaded[str]:
    """Where a component sits; "" with a fault if that is not known."""
    role = entry.role
    places = [place.id for place in parts.vehicle.place]
    place = entry.place or parts.vehicle.mounting.get(role)
    if place in places:
        return Loaded(place or "")
    if place is None and not gaps.has("mounting", role):
        unused = set(parts.vehicle.mounting) - set(draft.components)
        misspelt = nearest(role, unused)
        hint = f", which mounts {quoted(misspelt)}" if misspelt else ""
        found = f"no place for the role {quoted(role)} in {parts.vehicle_file}{hint}"
        expected = f'{role} = "…" under [mounting] there, or another system'
        return Loaded("", (Fault(draft.where((ROLE, role)), role, found, expected),))
    if entry.place and not gaps.has("place", entry.place):  # a bad mounting has its own fault
        at = draft.where((ROLE, role), "place")
        found = f"no place {quoted(entry.place)}"
        return Loaded("", (Fault(at, role, found, one_of(entry.place, places)),))
    return Loaded("")


@lru_cache(KEPT_WAYS)
def _ways(places: tuple[str, ...], routes: tuple[RouteEntry, ...]) -> RouteMap:
    """The ways of a vehicle: the same for all of its configurations, which are read together."""
    return RouteMap(places, tuple(sorted(map(_route, routes), key=str)))


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


def _configuration(
    parts: Parts,
    components: tuple[Component, ...],
    routes: tuple[Route, ...],
    wires: tuple[Wire, ...],
    runs: dict[str, Run],
    joiner: Joiner,
) -> Configuration:
    header = parts.chain[-1][1].configuration
    as_found = [file.as_found.note for _, file in parts.chain if file.as_found.note]
    places = tuple(
        Place(
            id=p.id,
            name=p.name,
            space=p.space,
            metal=p.metal,
            walk=p.walk,
            along=p.along,
            across=p.across,
        )
        for p in sorted(parts.vehicle.place, key=lambda place: (place.walk, place.id))
    )
    vehicle = _vehicle(parts)
    return Configuration(
        name=parts.name,
        title=header.title,
        summary=header.summary,
        vehicle=vehicle,
        systems={slot: parts.systems[slot][0] for slot in sorted(parts.systems)},
        system_titles={slot: parts.systems[slot][2].system.name for slot in sorted(parts.systems)},
        places=places,
        routes=routes,
        components=components,
        wires=wires,
        runs=runs,
        switch_positions=switch_positions(parts.states, components),
        named_terminals=joiner.named_terminals(),
        as_found_note=" ".join(as_found),
        as_found_remarks=tuple(text for _, file in parts.chain for text in file.as_found.remarks),
        file=parts.chain[-1][0],
        digest=digest_of((vehicle.voltage_v, vehicle.ground, places, components, routes, wires)),
    )


def _equipment(header: VehicleHeader) -> Equipment:
    """What the profile says; else what such vehicles have as a rule; else not known."""
    usual = usual_equipment().get(header.built_as, {})
    speeds = [s for s in (header.governed_speed, header.highest_test_speed) if s is not None]
    return Equipment(
        doors=header.doors or usual.get("doors", NOT_KNOWN),
        crank_handle=header.crank_handle or usual.get("crank_handle", NOT_KNOWN),
        governed=YES if header.governed_speed else usual.get("governed", NOT_KNOWN),
        switched_by=header.switched_by or usual.get("switched_by", NOT_KNOWN),
        rules=header.rules or usual.get("rules", ROAD),
        highest_speed_rpm=min(speeds, default=None),
    )


def _vehicle(parts: Parts) -> Vehicle:
    header = parts.vehicle.vehicle
    configurations = [file.configuration for _, file in reversed(parts.chain)]
    return Vehicle(
        name=parts.vehicle_name,
        title=next((c.called for c in configurations if c.called), header.title),
        summary=header.summary,
        voltage_v=parts.voltage_v,
        ground=parts.ground,
        size_system=header.size_system,
        engine=header.engine,
        body=header.body,
        equipment=_equipment(header),
        owner=next((c.owner for c in configurations if c.owner), ""),
        serial_number=next((c.serial_number for c in configurations if c.serial_number), ""),
    )
