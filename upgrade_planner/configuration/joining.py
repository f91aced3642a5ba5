"""Joins wires to terminals and leads them along the routes, once all parts are known."""

from collections.abc import Iterator, Mapping

from upgrade_planner.configuration.changes import ROLE, WIRE, Draft
from upgrade_planner.configuration.entries import WireEntry
from upgrade_planner.configuration.faults import ELSEWHERE, Fault, FieldFault, one_of, quoted
from upgrade_planner.configuration.model import (
    Component,
    Conductor,
    Joint,
    Run,
    TerminalRef,
    Wire,
)
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.routing import NoWay, RouteMap
from upgrade_planner.configuration.salvage import ANY, Gaps
from upgrade_planner.configuration.wholeness import conductor_faults, ends_faults

BATTERY_POSTS = ("live", "grounded")


class Joiner:
    """Makes the wires of one configuration; its faults are collected beside them."""

    def __init__(
        self,
        draft: Draft,
        components: Mapping[str, Component],
        ground: str,
        vehicle_file: str,
        gaps: Gaps,
    ) -> None:
        self.faults: list[Fault] = []
        self._draft = draft
        self._components = components
        self._ground = ground
        self._vehicle_file = vehicle_file
        self._gaps = gaps

    def wires(self) -> tuple[Wire, ...]:
        """All wires whose ends exist; a wire for an optional part is left out without it."""
        entries = [self._draft.wires[name] for name in sorted(self._draft.wires)]
        present = (None, *self._components)
        made = [self._wire(entry) for entry in entries if entry.if_present in present]
        return tuple(wire for wire in made if wire is not None)

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
        if start is None or end is None:
            return None
        return Wire(
            id=entry.id,
            circuit=entry.circuit,
            start=start,
            end=end,
            size=entry.size,
            conductor=entry.conductor,
            resistance_ohm=entry.resistance if entry.conductor is Conductor.RESISTANCE else None,
            insulation=entry.insulation,
            colour=entry.colour,
            measured_length_m=entry.length,
            loom=entry.route,
            note=entry.note,
            as_found=(WIRE, entry.id) in self._draft.as_found,
            slot=self._draft.slots[(WIRE, entry.id)],
            origin=entry.origin,
        )

    def _end(self, entry: WireEntry, key: str, reference: str) -> TerminalRef | None:
        """The terminal that one end of a wire names, or None with a fault."""
        role, _, written = reference.partition(".")
        component = self._components.get(role)
        if component is None:
            self._refuse_role(entry, key, role, written)
            return None
        name = self._post(written) if component.kind == "battery" else written
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

    def _post(self, name: str) -> str:
        """`live` and `grounded` are the battery posts whatever the polarity of the vehicle."""
        live = "positive" if self._ground == "negative" else "negative"
        return {"live": live, "grounded": self._ground}.get(name, name)

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
            found = f"no role {quoted(role)} in {self._vehicle_file} and its systems"
            expected = one_of(role, self._components)
            self._refuse(entry, FieldFault(found, expected, inner=(key,)))
        elif terminal not in self._gaps.terminals.get(role, {terminal}) | set(BATTERY_POSTS):
            found = f"no terminal {quoted(terminal)} on {role}"
            expected = one_of(terminal, self._gaps.terminals[role])
            self._refuse(entry, FieldFault(found, expected, inner=(key,)))

    def _no_terminal(self, component: Component, name: str) -> FieldFault:
        found = f"no terminal {quoted(name)} on {component.role} ({component.origin.file})"
        names = [terminal.name for terminal in component.terminals]
        names += BATTERY_POSTS if component.kind == "battery" else ()
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
