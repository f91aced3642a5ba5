"""Overrides, intended changes and as-found changes, applied to the entries of a configuration."""

from typing import Any, TypeVar

from attrs import evolve, fields

from upgrade_planner.configuration.entries import (
    ChangesEntry,
    ComponentChange,
    ComponentEntry,
    WireChange,
    WireEntry,
)
from upgrade_planner.configuration.faults import Fault, one_of
from upgrade_planner.configuration.model import Conductor, Origin

AnyEntry = TypeVar("AnyEntry", WireEntry, ComponentEntry)


class Draft:
    """
    Components and wires of a configuration while it is being put together.

    Keeps the origin of each, the slot it belongs to, and whether as-found notes touched it.
    """

    def __init__(self) -> None:
        self.components: dict[str, ComponentEntry] = {}
        self.wires: dict[str, WireEntry] = {}
        self.slots: dict[tuple[str, str], str] = {}
        self.as_found: set[tuple[str, str]] = set()
        self.faults: list[Fault] = []

    def add_components(self, new: tuple[ComponentEntry, ...], slot: str) -> None:
        """Adds components; a role that is taken is a fault."""
        for entry in new:
            self._add(self.components, entry, entry.role, ("role", entry.role), slot)

    def add_wires(self, new: tuple[WireEntry, ...], slot: str) -> None:
        """Adds wires; an id that is taken is a fault."""
        for entry in new:
            self._add(self.wires, entry, entry.id, ("wire", entry.id), slot)

    def _add(
        self,
        into: dict[str, AnyEntry],
        entry: AnyEntry,
        name: str,
        key: tuple[str, str],
        slot: str,
    ) -> None:
        if name in into:
            other = into[name].origin.file
            found = f"{key[0]} '{name}' a second time (the first is in {other})"
            self.faults.append(Fault(entry.origin, name, found, f"another {_noun(key[0])}"))
            return
        into[name] = entry
        self.slots[key] = slot

    def override(self, role: str, ratings: dict[str, Any], origin: Origin) -> None:
        """Replaces single ratings of a component."""
        change = ComponentChange(role=role, ratings=ratings, origin=origin)
        self._change_component(change, as_found=False)

    def apply(self, changes: ChangesEntry, origin: Origin, *, as_found: bool) -> None:
        """Carries out one `[changes]` or `[as_found]` table."""
        for index, wire_id in enumerate(changes.remove_wires):
            at = Origin(origin.file, (*origin.path, "remove_wires", index))
            self._remove(self.wires, wire_id, at, "wire")
        for index, role in enumerate(changes.remove_components):
            at = Origin(origin.file, (*origin.path, "remove_components", index))
            self._remove(self.components, role, at, "component")
        self.add_components(changes.add_component, "as found" if as_found else "changes")
        self.add_wires(changes.add_wires, "as found" if as_found else "changes")
        for component_change in changes.change_component:
            self._change_component(component_change, as_found=as_found)
        for wire_change in changes.change_wires:
            self._change_wire(wire_change, as_found=as_found)
        if as_found:
            self.as_found |= {("wire", entry.id) for entry in changes.add_wires}
            self.as_found |= {("role", entry.role) for entry in changes.add_component}

    def _remove(self, from_: dict[str, AnyEntry], name: str, origin: Origin, noun: str) -> None:
        if name not in from_:
            self.faults.append(Fault(origin, name, f"no {noun} '{name}'", one_of(name, from_)))
            return
        del from_[name]

    def _change_component(self, change: ComponentChange, *, as_found: bool) -> None:
        old = self.components.get(change.role)
        if old is None:
            found = f"no component with the role '{change.role}'"
            expected = one_of(change.role, self.components)
            self.faults.append(Fault(change.origin, change.role, found, expected))
            return
        given = _given(change, ("kind", "name", "place", "terminals", "note"))
        merged = {**old.ratings, **change.ratings} if change.kind is None else change.ratings
        new = evolve(old, ratings=merged, origin=change.origin, **given)
        self.components[change.role] = new
        if as_found:
            self.as_found.add(("role", change.role))

    def _change_wire(self, change: WireChange, *, as_found: bool) -> None:
        old = self.wires.get(change.id)
        if old is None:
            found, expected = f"no wire '{change.id}'", one_of(change.id, self.wires)
            self.faults.append(Fault(change.origin, change.id, found, expected))
            return
        names = tuple(field.name for field in fields(WireChange))
        given = _given(change, tuple(n for n in names if n not in ("id", "origin")))
        becomes_plain = given.get("conductor") not in (None, Conductor.RESISTANCE)
        if becomes_plain:
            given["resistance"] = None
        self.wires[change.id] = evolve(old, origin=change.origin, **given)
        if as_found:
            self.as_found.add(("wire", change.id))


def _given(change: Any, names: tuple[str, ...]) -> dict[str, Any]:
    values = {name: getattr(change, name) for name in names}
    return {name: value for name, value in values.items() if value is not None}


def _noun(word: str) -> str:
    return "id" if word == "wire" else "role"
