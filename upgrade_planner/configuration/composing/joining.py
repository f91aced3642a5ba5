"""Joins wires to terminals and leads them along the routes, once all parts are known."""

from collections.abc import Iterator, Mapping

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.composing.changes import (
    POSTS,
    ROLE,
    WIRE,
    Draft,
    with_one_size,
)
from upgrade_planner.configuration.composing.made_once import wire_of
from upgrade_planner.configuration.composing.routing import NoWay, RouteMap
from upgrade_planner.configuration.composing.this import This
from upgrade_planner.configuration.files.faults import ELSEWHERE, Fault, FieldFault, one_of, quoted
from upgrade_planner.configuration.files.loaded import ANY, Gaps, Loaded
from upgrade_planner.configuration.model import (
    OTHER_POST,
    Component,
    Joint,
    TerminalRef,
    Wire,
)
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.structuring.entries import WireEntry
from upgrade_planner.configuration.structuring.wholeness import conductor_faults, ends_faults
from upgrade_planner.configuration.ways import Run

VEHICLE = "vehicle"
"""`vehicle.NAME` is the terminal that [named_terminals] of vehicle or systems gives that name."""

_UNNAMED = {"instrument_ground": "body_ground.stud"}
"""What a name means in a vehicle that does not give it."""

OPTIONAL_ROLES = frozenset(
    {
        "tachometer",
        "charge_lamp",
        "ammeter",
        "voltmeter",
        "clock",
        "radio",
        "ballast",
        "start_interlock",
        "fuel_pump",
        "fuel_gauge",
        "temperature_gauge",
        "horn",
        "main_junction",
    }
)
"""Parts that many vehicles have and many have not: wires may ask for them with `if_present`."""


@frozen
class Offered:
    """What a vehicle and its systems offer to wires, beside parts."""

    file: str
    size_system: str
    named_terminals: Mapping[str, str]


class Joiner:
    """Makes the wires of one configuration."""

    def __init__(
        self,
        draft: Draft,
        components: Mapping[str, Component],
        ground: str,
        offered: Offered,
        gaps: Gaps,
    ) -> None:
        self._draft = draft
        self._components = components
        self._ground = ground
        self._offered = offered
        self._gaps = gaps

    def wires(self) -> Loaded[tuple[Wire, ...]]:
        """All wires whose ends exist; a wire for an optional part is left out without it."""
        made = [self._wire(entry) for _, entry in sorted(self._draft.wires.items())]
        wires = tuple(wire.content for wire in made if wire.content is not None)
        return Loaded(wires, tuple(fault for wire in made for fault in wire.faults))

    def named_terminals(self) -> dict[str, TerminalRef]:
        """The terminals behind the names that vehicle or systems give, where they exist."""
        found = {}
        for name, reference in sorted(self._offered.named_terminals.items()):
            role, _, written = reference.partition(".")
            part = self._components.get(role)
            if part is not None and part.terminal(self._post(part, written)) is not None:
                found[name] = TerminalRef(role, self._post(part, written))
        return found

    def _wire(self, entry: WireEntry) -> Loaded[Wire | None]:
        if entry.if_present is not None and entry.if_present not in self._components:
            return Loaded(None, tuple(self._condition_faults(entry, entry.if_present)))
        if self._gaps.has_exactly(WIRE, entry.id):
            return Loaded(None)
        ends = [self._end(entry, "from", entry.start), self._end(entry, "to", entry.end)]
        start, end = (end if isinstance(end, TerminalRef) else None for end in ends)
        chosen = with_one_size(entry, self._offered.size_system)
        faults = (
            *(end for end in ends if isinstance(end, Fault)),
            *self._together_faults(entry, start, end),
            *([self._size_fault(entry, chosen)] if isinstance(chosen, FieldFault) else ()),
        )
        if start is None or end is None or isinstance(chosen, FieldFault):
            return Loaded(None, faults)
        key = (WIRE, entry.id)
        wire = wire_of(
            This(chosen),
            start,
            end,
            slot=self._draft.slots[key],
            as_found=key in self._draft.as_found,
            altered=entry.id in self._draft.altered,
        )
        return Loaded(wire, faults)

    def _condition_faults(self, entry: WireEntry, role: str) -> Iterator[Fault]:
        """What is wrong with the condition of a wire whose optional part is not there."""
        known = role in OPTIONAL_ROLES or (ROLE, role) in self._draft.removed
        if not known and not self._gaps.has(ROLE, role):
            roles = {*self._components, *OPTIONAL_ROLES}
            found = f"no role {quoted(role)}, neither here nor among the optional ones"
            yield self._fault(entry, FieldFault(found, one_of(role, roles), inner=("if_present",)))

    def _together_faults(
        self, entry: WireEntry, start: TerminalRef | None, end: TerminalRef | None
    ) -> Iterator[Fault]:
        has_ohms = entry.resistance is not None
        for fault in conductor_faults(entry.conductor, has_ohms=has_ohms):
            yield self._fault(entry, fault)
        for fault in ends_faults(start, end):
            yield self._fault(entry, fault)

    def _size_fault(self, entry: WireEntry, fault: FieldFault) -> Fault:
        where = f" for {self._offered.file}" if fault.inner == ("size",) else ""
        return self._fault(
            entry, FieldFault(fault.found + where, fault.expected, inner=fault.inner)
        )

    def _end(self, entry: WireEntry, key: str, reference: str) -> TerminalRef | Fault | None:
        """The terminal that one end of a wire names, or a fault; None if that is told elsewhere."""
        role, _, written = reference.partition(".")
        if role == VEHICLE and VEHICLE not in self._components:
            return self._named_end(entry, key, written)
        component = self._components.get(role)
        if component is None:
            return self._role_fault(entry, key, role, written)
        name = self._post(component, written)
        terminal = component.terminal(name)
        if terminal is None:
            if self._is_told_elsewhere(component, name):
                return None
            return self._fault(entry, self._no_terminal(component, written).inside(key))
        if terminal.connection.joint is Joint.CASE:
            found = f"a wire on {reference}, which is grounded by its mounting"
            expected = "a terminal that takes a wire"
            return self._fault(entry, FieldFault(found, expected, inner=(key,)))
        return TerminalRef(role, name)

    def _is_told_elsewhere(self, component: Component, terminal: str) -> bool:
        """True if the component has a fault of its own that explains a missing terminal."""
        is_required = terminal in kinds()[component.kind].required_terminals
        return is_required or self._gaps.has_exactly(ROLE, component.role)

    def _named_end(self, entry: WireEntry, key: str, name: str) -> TerminalRef | Fault | None:
        """The terminal behind `vehicle.NAME`."""
        reference = self._offered.named_terminals.get(name, _UNNAMED.get(name))
        if reference is None:
            if self._gaps.has("named_terminal", name):
                return None
            found = f"no terminal named {quoted(name)} in {self._offered.file} or its systems"
            expected = one_of(name, self._offered.named_terminals)
            if not self._offered.named_terminals:
                expected = f'{name} = "role.terminal" under [named_terminals] there'
            return self._fault(entry, FieldFault(found, expected, inner=(key,)))
        if reference.startswith(f"{VEHICLE}."):
            found = f"{quoted(reference)}, which leads to another name"
            return self._fault(entry, FieldFault(found, "a role.terminal", inner=(key,)))
        return self._end(entry, key, reference)

    def _post(self, part: Component, name: str) -> str:
        """`live` and `grounded`: the posts of a battery or coil whatever the polarity is."""
        if name not in POSTS or not {"positive", "negative"} <= {t.name for t in part.terminals}:
            return name
        return {"live": OTHER_POST[self._ground], "grounded": self._ground}[name]

    def _role_fault(self, entry: WireEntry, key: str, role: str, terminal: str) -> Fault | None:
        gone = self._draft.removed.get((ROLE, role))
        if gone is not None:
            found = (
                f"{quoted(role)} removed, but wire {quoted(entry.id)} ({ELSEWHERE}) joined to it"
            )
            expected = f"{quoted(entry.id)} in remove_wires too, or a new end in change_wires"
            at = self._draft.where((WIRE, entry.id), key)
            return Fault(gone, entry.id, found, expected, at)
        if not self._gaps.has(ROLE, role):
            found = f"no role {quoted(role)} in {self._offered.file} and its systems"
            expected = one_of(role, self._components)
        elif terminal not in self._gaps.terminals.get(role, {terminal}) | set(POSTS):
            found = f"no terminal {quoted(terminal)} on {role}"
            expected = one_of(terminal, self._gaps.terminals[role])
        else:
            return None
        return self._fault(entry, FieldFault(found, expected, inner=(key,)))

    def _no_terminal(self, component: Component, name: str) -> FieldFault:
        found = f"no terminal {quoted(name)} on {component.role} ({component.origin.file})"
        names = [terminal.name for terminal in component.terminals]
        names += POSTS if "positive" in names and "negative" in names else ()
        wanted = f"another part: {component.role} has no terminals"
        return FieldFault(found, one_of(name, names) if names else wanted)

    def _fault(self, entry: WireEntry, fault: FieldFault) -> Fault:
        at = self._draft.where((WIRE, entry.id), *fault.inner)
        return Fault(at, entry.id, fault.found, fault.expected)

    def runs(
        self, ways: RouteMap, wires: tuple[Wire, ...], unreached: frozenset[str]
    ) -> Loaded[dict[str, Run]]:
        """The way of each wire; wires of a place that no route reaches are that place's fault."""
        runs: dict[str, Run] = {}
        faults: list[Fault] = []
        for wire in wires:
            ends = [self._components[ref.role].place for ref in wire.ends]
            if not unreached.isdisjoint(ends) or not set(ends) <= set(ways.places):
                continue
            try:
                runs[wire.id] = ways.run(*ends, loom=wire.loom, measured_m=wire.measured_length_m)
            except NoWay as no_way:
                faults += self._no_way(wire, no_way)
        return Loaded(runs, tuple(faults))

    def _no_way(self, wire: Wire, no_way: NoWay) -> Iterator[Fault]:
        if not self._gaps.has("route", ANY) and not self._gaps.has("place", ANY):
            at = self._draft.where((WIRE, wire.id), *(["route"] if no_way.is_about_loom else []))
            yield Fault(at, wire.id, no_way.found, no_way.expected)
