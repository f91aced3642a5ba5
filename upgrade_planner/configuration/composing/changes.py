"""Overrides, intended changes and as-found changes, applied to the entries of a configuration."""

import re
from collections.abc import Iterable
from functools import lru_cache
from typing import Any, TypeVar

from attrs import evolve, fields

from upgrade_planner.configuration.composing.superseded import Superseded
from upgrade_planner.configuration.composing.this import KEPT, This
from upgrade_planner.configuration.files.faults import ELSEWHERE, Fault, FieldFault, one_of, quoted
from upgrade_planner.configuration.files.loaded import Gaps
from upgrade_planner.configuration.files.positions import KeyPath, Origin
from upgrade_planner.configuration.model import Conductor
from upgrade_planner.configuration.structuring.entries import (
    RENAMED,
    ChangesEntry,
    ComponentChange,
    ComponentEntry,
    WireChange,
    WireEntry,
)
from upgrade_planner.configuration.values.insulation import InsulationChoice
from upgrade_planner.configuration.values.sizes import SizeChoice, WireSize

_OF_COMPONENT = (
    "kind",
    "name",
    "place",
    "terminals",
    "note",
    "marked",
    "condition",
    "rebuilt_of",
    "rebuilt_with",
    "rebuilt_leaves",
)
"""What a change may give a component anew, besides single ratings."""

AnyEntry = TypeVar("AnyEntry", WireEntry, ComponentEntry)
Key = tuple[str, str]
"""`("wire", id)` or `("role", role)`."""

WIRE, ROLE = "wire", "role"

POSTS = ("live", "grounded")
"""Names of the two posts of a part that has a positive and a negative one, by polarity."""

DWELL = re.compile(r"\d+(\.\d+)? ?deg", re.ASCII)


class Draft:
    """
    Components and wires of a configuration while it is being put together.

    Keeps the slot of each, whether as-found notes touched it, and where each value was written.
    """

    def __init__(self, gaps: Gaps) -> None:
        self.components: dict[str, ComponentEntry] = {}
        self.wires: dict[str, WireEntry] = {}
        self.slots: dict[Key, str] = {}
        self.as_found: set[Key] = set()
        self.altered: set[str] = set()
        self.removed: dict[Key, Origin] = {}
        self.void = Superseded()
        self._added_beside: dict[str, Superseded] = {}
        self._void_roles: set[str] = set()
        self._gaps = gaps
        self._written: dict[Key, dict[KeyPath, Origin]] = {}

    @property
    def gone(self) -> set[Key]:
        """Parts that were removed, or that a file told of before their system was replaced."""
        void = {(ROLE, role) for role in self._void_roles if role not in self.components}
        return {*self.removed, *void}

    def fit_to_engine(self, cylinders: int) -> None:
        """
        Gives systems the number of cylinders that the vehicle's engine has.

        Points stay closed for the same share of the spark period: the dwell angle goes with it.
        """
        for role, entry in self.components.items():
            count = entry.ratings.get("cylinders")
            if self.slots[(ROLE, role)] == "vehicle" or not isinstance(count, int) or count < 1:
                continue
            if count == cylinders:
                continue
            ratings = {**entry.ratings, "cylinders": cylinders}
            dwell = entry.ratings.get("dwell_angle")
            if isinstance(dwell, str) and DWELL.fullmatch(dwell):
                degrees = float(dwell.removesuffix("deg")) * count / cylinders
                ratings["dwell_angle"] = f"{degrees:.3g} deg"
            self.components[role] = evolve(entry, ratings=ratings)

    def choose_sizes(self, size_system: str) -> None:
        """Takes of each wire the size for the vehicle's size system, and its insulation."""
        for name, entry in self.wires.items():
            chosen = with_one_size(entry, size_system)
            if isinstance(chosen, WireEntry):  # else a fault, unless a change gives another size
                self.wires[name] = chosen

    def drop_wires_to_nowhere(self) -> None:
        """Drops wires that a file added to parts of systems that a later file replaced."""
        for name, void in self._added_beside.items():
            wire = self.wires.get(name)
            if wire is None or self.slots[(WIRE, name)] in void.slots:
                continue
            ends = (wire.start, wire.end)
            if any(self._is_void_end(end, void) or self._is_fed(wire, end, void) for end in ends):
                del self.wires[name]

    def _is_fed(self, wire: WireEntry, end: str, void: Superseded) -> bool:
        """True if the system that a later file chose leads a wire of that circuit there itself."""
        return any(
            other.circuit == wire.circuit and end in (other.start, other.end)
            for name, other in self.wires.items()
            if self.slots[(WIRE, name)] in void.slots and end.partition(".")[0] in void.roles
        )

    def _is_void_end(self, reference: str, void: Superseded) -> bool:
        role, _, terminal = reference.partition(".")
        part = self.components.get(role)
        if role not in void.roles or part is None:
            return role in void.roles
        names = {entry.name for entry in part.terminals}
        posts = POSTS if {"positive", "negative"} <= names else ()
        return terminal not in (*names, *posts)

    def where(self, key: Key, *path: str | int) -> Origin:
        """Where the value at a path of a component or wire was written last."""
        written = self._written.get(key, {})
        for length in range(len(path), 0, -1):
            if path[:length] in written:
                origin = written[path[:length]]
                return Origin(origin.file, (*origin.path, *path[length:]))
        noun, name = key
        entry = self.wires[name] if noun == WIRE else self.components[name]
        return Origin(entry.origin.file, (*entry.origin.path, *path))

    def add_components(self, new: tuple[ComponentEntry, ...], slot: str) -> list[Fault]:
        """Adds components; a role that is taken is a fault."""
        return _told([self._add(self.components, e, (ROLE, e.role), slot) for e in new])

    def add_wires(self, new: tuple[WireEntry, ...], slot: str) -> list[Fault]:
        """Adds wires; an id that is taken is a fault."""
        return _told([self._add(self.wires, e, (WIRE, e.id), slot) for e in new])

    def _add(self, into: dict[str, AnyEntry], entry: AnyEntry, key: Key, slot: str) -> Fault | None:
        noun, name = key
        naming = "id" if noun == WIRE else "role"
        if name in into and self.slots[key] in self.void.slots:
            return None  # the system that a later file chose brings its own
        if name in into:
            at = Origin(entry.origin.file, (*entry.origin.path, naming))
            first = self.where(key, naming)
            found = f"the {noun} {quoted(name)} a second time (the first is {ELSEWHERE})"
            return Fault(at, name, found, f"another {naming}", first)
        into[name] = entry
        self.slots[key] = slot
        self._written.pop(key, None)  # of an earlier one of that name that was removed
        self.removed.pop(key, None)
        self.as_found.discard(key)
        self.altered -= {name} if noun == WIRE else set()
        return None

    def _is_brought(self, role: str) -> bool:
        """True if a system that a later file chose has a part of that role."""
        return role in self.components and self.slots[(ROLE, role)] in self.void.slots

    def override(self, role: str, ratings: dict[str, Any], origin: Origin) -> list[Fault]:
        """Replaces single ratings of a component."""
        old = self._known(self.components, (ROLE, role), origin)
        if not isinstance(old, ComponentEntry):
            return _told([old])
        self.components[role] = evolve(old, ratings={**old.ratings, **ratings})
        self._note((ROLE, role), {("ratings", name): (name,) for name in ratings}, origin)
        return []

    def apply(
        self, changes: ChangesEntry, origin: Origin, *, as_found: bool, slot: str = "changes"
    ) -> list[Fault]:
        """Carries out one `[changes]` or `[as_found]` table; what it adds belongs to `slot`."""
        self._void_roles |= self.void.roles
        own = {part.role for part in changes.add_component if self._is_brought(part.role)}
        self.void |= Superseded(roles=frozenset(own))
        self._added_beside |= {wire.id: self.void for wire in changes.add_wires}
        slot = "as found" if as_found else slot
        faults = [
            *self._remove(self.wires, WIRE, changes.remove_wires, origin),
            *self._remove(self.components, ROLE, changes.remove_components, origin),
            *self.add_components(changes.add_component, slot),
            *self.add_wires(changes.add_wires, slot),
            *_told([self._change_component(change) for change in changes.change_component]),
            *_told([self._change_wire(change) for change in changes.change_wires]),
        ]
        if as_found:
            self.as_found |= {(WIRE, wire.id) for wire in changes.add_wires}
            self.as_found |= {(WIRE, wire.id) for wire in changes.change_wires}
            self.altered |= {wire.id for wire in changes.change_wires if wire.start or wire.end}
            self.as_found |= {(ROLE, part.role) for part in changes.add_component}
            self.as_found |= {(ROLE, part.role) for part in changes.change_component}
        return faults

    def _remove(
        self, entries: dict[str, AnyEntry], noun: str, names: tuple[str, ...], origin: Origin
    ) -> list[Fault]:
        faults = []
        for index, name in enumerate(names):
            list_key = "remove_wires" if noun == WIRE else "remove_components"
            at = Origin(origin.file, (*origin.path, list_key, index))
            known = self._known(entries, (noun, name), at)
            if isinstance(known, Fault):
                faults.append(known)
            elif known is not None:
                del entries[name]
                self.removed[(noun, name)] = at
        return faults

    def _known(
        self, entries: dict[str, AnyEntry], key: Key, origin: Origin
    ) -> AnyEntry | Fault | None:
        """The entry of that name; a fault if there is none; None where a gap may hold it."""
        noun, name = key
        if name in (self.void.wires if noun == WIRE else self.void.roles):
            return None
        if name in entries or self._gaps.has(noun, name):
            return entries.get(name)
        gone = self.removed.get(key)
        if gone is not None:
            found = f"the {noun} {quoted(name)}, which is removed {ELSEWHERE}"
            return Fault(origin, name, found, f"a {noun} that is left", gone)
        return Fault(origin, name, f"no {noun} {quoted(name)}", one_of(name, entries))

    def _change_component(self, change: ComponentChange) -> Fault | None:
        key = (ROLE, change.role)
        old = self._known(self.components, key, _at(change.origin, "role"))
        if not isinstance(old, ComponentEntry):
            return old
        given = _given(change, _OF_COMPONENT)
        ratings = {**old.ratings, **change.ratings} if change.kind is None else change.ratings
        self.components[change.role] = evolve(old, ratings=ratings, **given)
        if change.kind is not None:  # ratings and terminals are now judged by the new kind
            self._note(key, {("ratings",): (), ("terminals",): ()}, change.origin)
        self._note(key, {(name,): (name,) for name in given}, change.origin)
        rated: list[KeyPath] = [("ratings", name) for name in change.ratings]
        self._note(key, {path: path for path in rated}, change.origin)
        return None

    def _change_wire(self, change: WireChange) -> Fault | None:
        key = (WIRE, change.id)
        old = self._known(self.wires, key, _at(change.origin, "id"))
        if not isinstance(old, WireEntry):
            return old
        names = tuple(field.name for field in fields(WireChange))
        given = _given(change, tuple(n for n in names if n not in ("id", "origin")))
        for end in ("start", "end"):
            if self._is_void_end(given.get(end, ""), self.void):
                del given[end]  # it is led as its own system leads it
        if given.get("conductor") not in (None, Conductor.RESISTANCE):
            given.setdefault("resistance", None)  # a wire that becomes plain loses its ohms
        self.wires[change.id] = evolve(old, **given)
        keys = [RENAMED.get(name, name) for name in given]
        self._note(key, {(name,): (name,) for name in keys}, change.origin)
        return None

    def _note(self, key: Key, paths: dict[KeyPath, KeyPath], origin: Origin) -> None:
        """Notes that the values at some paths now stand at other paths below `origin`."""
        written = self._written.setdefault(key, {})
        for path, inner in paths.items():
            for older in [known for known in written if known[: len(path)] == path]:
                del written[older]
            written[path] = Origin(origin.file, (*origin.path, *inner))


def _told(faults: Iterable[Fault | None]) -> list[Fault]:
    return [fault for fault in faults if fault is not None]


def _at(origin: Origin, key: str) -> Origin:
    return Origin(origin.file, (*origin.path, key))


def _given(change: Any, names: tuple[str, ...]) -> dict[str, Any]:
    values = {name: getattr(change, name) for name in names}
    return {name: value for name, value in values.items() if value is not None}


def with_one_size(entry: WireEntry, size_system: str) -> WireEntry | FieldFault:
    """The same wire with its size for a size system and the insulation that goes with it."""
    return _with_one_size(This(entry), size_system)


@lru_cache(KEPT)
def _with_one_size(this: This[WireEntry], size_system: str) -> WireEntry | FieldFault:
    entry = this.value
    sizes, insulations = entry.size.options, entry.insulation.options
    if len(insulations) not in (1, len(sizes)):
        found = f"{len(insulations)} insulations for {len(sizes)} sizes"
        return FieldFault(found, "one, or one for each size", inner=("insulation",))
    option = entry.size.index_in(size_system)
    if option is None:
        systems = " or ".join(size.system for size in sizes if isinstance(size, WireSize))
        expected = f"a size of that system beside the one in {systems}"
        return FieldFault(f"no {size_system} size", expected, inner=("size",))
    if len(sizes) == len(insulations) == 1:
        return entry
    insulation = insulations[option if len(insulations) > 1 else 0]
    return evolve(
        entry, size=SizeChoice((sizes[option],)), insulation=InsulationChoice((insulation,))
    )
