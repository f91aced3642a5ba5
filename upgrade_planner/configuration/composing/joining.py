"""Joins wires to terminals and leads them along the routes, once all parts are known."""

from collections.abc import Iterator, Mapping

from attrs import frozen

from upgrade_planner.configuration.composing.changes import POSTS, ROLE, WIRE, Draft
from upgrade_planner.configuration.composing.routing import NoWay, RouteMap
from upgrade_planner.configuration.files.faults import ELSEWHERE, Fault, FieldFault, one_of, quoted
from upgrade_planner.configuration.model import (
    OTHER_POST,
    Component,
    Conductor,
    Joint,
    Run,
    TerminalRef,
    Wire,
)
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.structuring.entries import WireEntry
from upgrade_planner.configuration.structuring.salvage import ANY, Gaps
from upgrade_planner.configuration.structuring.wholeness import conductor_faults, ends_faults

VEHICLE = "vehicle"
"""`vehicle.NAME` is the terminal that [named_terminals] of vehicle or systems gives that name."""

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
    """Makes the wires of one configuration; its faults are collected beside them."""

    def __init__(
        self,
        draft: Draft,
        components: Mapping[str, Component],
        ground: str,
        offered: Offered,
        gaps: Gaps,
    ) -> None:
        self.faults: list[Fault] = []
        self._draft = draft
        self._components = components
        self._ground = ground
        self._offered = offered
        self._gaps = gaps

    def wires(self) -> tuple[Wire, ...]:
        """All wires whose ends exist; a wire for an optional part is left out without it."""
        entries = [self._draft.wires[name] for name in sorted(self._draft.wires)]
        made = [self._wire(entry) for entry in entries if self._is_wanted(entry)]
        return tuple(wire for wire in made if wire is not None)

    def _is_wanted(self, entry: WireEntry) -> bool:
        role = entry.if_present
        if role is None or role in self._components:
            return True
        known = role in OPTIONAL_ROLES or (ROLE, role) in self._draft.removed
        if not known and not self._gaps.has(ROLE, role):
            roles = {*self._components, *OPTIONAL_ROLES}
            found = f"no role {quoted(role)}, neither here nor among the optional ones"
            self._refuse(entry, FieldFault(found, one_of(role, roles), inner=("if_present",)))
        return False

    def _wire(self, entry: WireEntry) -> Wire | None:
        if self._gaps.has_exactly(WIRE, entry.id):
            return None
        start = self._end(entry, "from", entry.start)
        end = self._end(entry, "to", entry.end)
        has_ohms = entry.resistance is not None
        for fault in (
            *conductor_faults(entry.conductor, has_ohms=has_ohms),
            *ends_faults(start, end),
        ):
            self._refuse(entry, fault)
        option = self._option(entry)
        if start is None or end is None or option is None:
            return None
        sizes, insulations = entry.size.options, entry.insulation.options
        return Wire(
            id=entry.id,
            circuit=entry.circuit,
            start=start,
            end=end,
            size=sizes[option],
            conductor=entry.conductor,
            resistance_ohm=entry.resistance if entry.conductor is Conductor.RESISTANCE else None,
            insulation=insulations[option if len(insulations) > 1 else 0],
            colour=entry.colour,
            measured_length_m=entry.length,
            loom=entry.route,
            note=entry.note,
            as_found=(WIRE, entry.id) in self._draft.as_found,
            slot=self._draft.slots[(WIRE, entry.id)],
            origin=entry.origin,
        )

    def _option(self, entry: WireEntry) -> int | None:
        """Which of the sizes of a wire is the one for this vehicle; None with a fault."""
        sizes, insulations = entry.size.options, entry.insulation.options
        if len(insulations) not in (1, len(sizes)):
            found = f"{len(insulations)} insulations for {len(sizes)} sizes"
            expected = "one, or one for each size"
            self._refuse(entry, FieldFault(found, expected, inner=("insulation",)))
            return None
        option = entry.size.index_in(self._offered.size_system)
        if option is None:
            found = f"no {self._offered.size_system} size for {self._offered.file}"
            systems = " or ".join(size.system for size in sizes)
            expected = f"a size of that system beside the one in {systems}"
            self._refuse(entry, FieldFault(found, expected, inner=("size",)))
        return option

    def _end(self, entry: WireEntry, key: str, reference: str) -> TerminalRef | None:
        """The terminal that one end of a wire names, or None with a fault."""
        role, _, written = reference.partition(".")
        if role == VEHICLE and VEHICLE not in self._components:
            return self._named_end(entry, key, written)
        component = self._components.get(role)
        if component is None:
            self._refuse_role(entry, key, role, written)
            return None
        name = self._post(component, written)
        terminal = component.terminal(name)
        if terminal is None:
            if not self._is_told_elsewhere(component, name):
                self._refuse(entry, self._no_terminal(component, written).inside(key))
            return None
        if terminal.connection.joint is Joint.CASE:
            found = f"a wire on {reference}, which is grounded by its mounting"
            self._refuse(entry, FieldFault(found, "a terminal that takes a wire", inner=(key,)))
            return None
        return TerminalRef(role, name)

    def _is_told_elsewhere(self, component: Component, terminal: str) -> bool:
        """True if the component has a fault of its own that explains a missing terminal."""
        is_required = terminal in kinds()[component.kind].required_terminals
        return is_required or self._gaps.has_exactly(ROLE, component.role)

    def _named_end(self, entry: WireEntry, key: str, name: str) -> TerminalRef | None:
        """The terminal behind `vehicle.NAME`."""
        reference = self._offered.named_terminals.get(name)
        if reference is None:
            if not self._gaps.has("named_terminal", name):
                found = f"no terminal named {quoted(name)} in {self._offered.file} or its systems"
                expected = one_of(name, self._offered.named_terminals)
                if not self._offered.named_terminals:
                    expected = f'{name} = "role.terminal" under [named_terminals] there'
                self._refuse(entry, FieldFault(found, expected, inner=(key,)))
            return None
        if reference.startswith(f"{VEHICLE}."):
            found = f"{quoted(reference)}, which leads to another name"
            self._refuse(entry, FieldFault(found, "a role.terminal", inner=(key,)))
            return None
        return self._end(entry, key, reference)

    def _post(self, part: Component, name: str) -> str:
        """`live` and `grounded`: the posts of a battery or coil whatever the polarity is."""
        if name not in POSTS or not {"positive", "negative"} <= {t.name for t in part.terminals}:
            return name
        return {"live": OTHER_POST[self._ground], "grounded": self._ground}[name]

    def _refuse_role(self, entry: WireEntry, key: str, role: str, terminal: str) -> None:
        gone = self._draft.removed.get((ROLE, role))
        if gone is not None:
            found = (
                f"{quoted(role)} removed, but wire {quoted(entry.id)} ({ELSEWHERE}) joined to it"
            )
            expected = f"{quoted(entry.id)} in remove_wires too, or a new end in change_wires"
            at = self._draft.where((WIRE, entry.id), key)
            self.faults.append(Fault(gone, entry.id, found, expected, at))
        elif not self._gaps.has(ROLE, role):
            found = f"no role {quoted(role)} in {self._offered.file} and its systems"
            expected = one_of(role, self._components)
            self._refuse(entry, FieldFault(found, expected, inner=(key,)))
        elif terminal not in self._gaps.terminals.get(role, {terminal}) | set(POSTS):
            found = f"no terminal {quoted(terminal)} on {role}"
            expected = one_of(terminal, self._gaps.terminals[role])
            self._refuse(entry, FieldFault(found, expected, inner=(key,)))

    def _no_terminal(self, component: Component, name: str) -> FieldFault:
        found = f"no terminal {quoted(name)} on {component.role} ({component.origin.file})"
        names = [terminal.name for terminal in component.terminals]
        names += POSTS if "positive" in names and "negative" in names else ()
        wanted = f"another part: {component.role} has no terminals"
        return FieldFault(found, one_of(name, names) if names else wanted)

    def _refuse(self, entry: WireEntry, fault: FieldFault) -> None:
        at = self._draft.where((WIRE, entry.id), *fault.inner)
        self.faults.append(Fault(at, entry.id, fault.found, fault.expected))

    def runs(
        self, ways: RouteMap, wires: tuple[Wire, ...], unreached: frozenset[str]
    ) -> dict[str, Run]:
        """The way of each wire; wires of a place that no route reaches are that place's fault."""
        runs = {}
        for wire in wires:
            ends = [self._components[ref.role].place for ref in wire.ends]
            if not unreached.isdisjoint(ends) or not set(ends) <= set(ways.places):
                continue
            try:
                runs[wire.id] = ways.run(*ends, loom=wire.loom, measured_m=wire.measured_length_m)
            except NoWay as no_way:
                self.faults += self._no_way(wire, no_way)
        return runs

    def _no_way(self, wire: Wire, no_way: NoWay) -> Iterator[Fault]:
        if not self._gaps.has("route", ANY) and not self._gaps.has("place", ANY):
            at = self._draft.where((WIRE, wire.id), *(["route"] if no_way.is_about_loom else []))
            yield Fault(at, wire.id, no_way.found, no_way.expected)
