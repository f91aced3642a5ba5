"""
The wiring of one vehicle at one moment, as immutable values.

Nothing here knows of files or of print; `reading` makes these values, every later stage uses them.
"""

from collections.abc import Mapping
from enum import StrEnum
from functools import cached_property
from typing import Any

from attrs import field

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.conditions import Conditions
from upgrade_planner.configuration.equipment import Equipment
from upgrade_planner.configuration.files.positions import Origin
from upgrade_planner.configuration.kinds import Capability, Family, TerminalUse
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.values.colours import Colour
from upgrade_planner.configuration.values.insulation import Insulation
from upgrade_planner.configuration.values.rings import Rings
from upgrade_planner.configuration.values.sizes import Automatic, WireSize
from upgrade_planner.configuration.ways import Place, Route, Run

OTHER_POST = {"positive": "negative", "negative": "positive"}
"""The battery post that is live, by the grounded one; and the reverse."""


class Conductor(StrEnum):
    """What the conductor of a wire is made for."""

    COPPER = "copper"
    ALUMINIUM = "aluminium"
    RESISTANCE = "resistance wire"
    LINK = "fusible link"


class Joint(StrEnum):
    """How a wire is joined to a terminal."""

    STUD = "stud"
    SCREW = "screw"
    BLADE = "blade"
    BULLET = "bullet"
    POST = "post"
    SPLICE = "splice"
    CAVITY = "cavity"
    CASE = "case"


@frozen
class Connection:
    """
    The hardware of a terminal: `stud M6`, `blade 6.3 mm`, `post positive`, `splice`, `case`.

    `case` means the part is joined to engine, body or frame by its own mounting, without a wire.
    `double blade 6.3 mm` has two blades side by side.
    """

    joint: Joint
    size: str = ""
    is_double: bool = False

    @property
    def label(self) -> str:
        """As printed: joint and size."""
        words = ("double" if self.is_double else "", self.joint, self.size)
        return " ".join(filter(None, words)).replace(" ", "\N{NO-BREAK SPACE}")


@frozen(kw_only=True)
class Terminal:
    """
    One terminal of a component: its function, the label of the trade for it, its hardware.

    Attributes:
        is_marked: True if the label stands on the part itself.
    """

    name: str
    label: str
    connection: Connection
    is_marked: bool = True

    @property
    def mark(self) -> str:
        """What a person reads on the part; "" if nothing stands there."""
        return self.label if self.is_marked else ""


@frozen(order=True)
class TerminalRef:
    """Names one terminal of one component: `alternator.output`."""

    role: str
    terminal: str

    def __str__(self) -> str:
        """As written in profiles."""
        return f"{self.role}.{self.terminal}"


@frozen(kw_only=True)
class Component:
    """
    A part with terminals, at a place, doing a job (its role).

    Attributes:
        role: The job in this vehicle, whoever made the part; unique in a configuration.
        kind: One of the kinds of data/kinds.toml.
        name: What people call it.
        place: Id of the place it sits at.
        ratings: Ratings by name, SI units; see data/kinds.toml.
        note: A remark of the profile's author that the work sheet prints.
        rebuilt_of: Kinds that it is made of where they are: such a part stays and gets other
            insides.
        rebuilt_with: What is bought for that; "" if nothing is.
        rebuilt_leaves: What comes out of the old part; "" if nothing does.
        as_found: True if it was added or changed by as-found notes.
        condition: In which state it was found; () if nothing is wrong with it.
    """

    role: str
    kind: str
    name: str
    place: str
    terminals: tuple[Terminal, ...]
    ratings: Mapping[str, Any] = field(factory=dict)
    note: str = ""
    rebuilt_of: tuple[str, ...] = ()
    rebuilt_with: str = ""
    rebuilt_leaves: str = ""
    as_found: bool = False
    condition: Conditions = ()
    slot: str = "vehicle"
    origin: Origin = field(default=Origin("", ()), eq=False, repr=False)

    def terminal(self, name: str) -> Terminal | None:
        """The terminal of that function, or None."""
        return self._terminal_by_name.get(name)

    @cached_property
    def _terminal_by_name(self) -> Mapping[str, Terminal]:
        return {item.name: item for item in reversed(self.terminals)}  # of equal names the first

    @property
    def words(self) -> str:
        """What people call its kind."""
        return kinds()[self.kind].words

    @cached_property
    def family(self) -> Family:
        """What does the same job as it."""
        return kinds()[self.kind].family

    @property
    def is_single_fuse(self) -> bool:
        """True for a fuse in its own holder: no box, and no breaker that is closed again."""
        is_box = "fuses" in self.ratings
        return self.family is Family.PROTECTION and not is_box and not self.can(Capability.RESETS)

    @property
    def excites_itself(self) -> bool:
        """True for a charging machine that regulates itself and has no terminal for a feed."""
        feeds = any(self.terminal(name) for name in ("lamp", "sense", "ignition"))
        return self.can(Capability.CHARGES) and self.can(Capability.REGULATES) and not feeds

    def can(self, capability: Capability) -> bool:
        """True if its kind has that capability."""
        return capability in kinds()[self.kind].capabilities

    def terminal_as(self, job: TerminalUse) -> str | None:
        """Name of the terminal that plays a part, or None if it has none."""
        name = kinds()[self.kind].plays.get(job, job)
        return str(name) if name in self._terminal_by_name else None

    def ref_as(self, job: TerminalUse) -> TerminalRef | None:
        """As `terminal_as`, the terminal itself."""
        name = self.terminal_as(job)
        return None if name is None else TerminalRef(self.role, name)

    @property
    def return_terminal(self) -> str | None:
        """Name of the terminal through which its current returns, or None if it has none."""
        names = kinds()[self.kind].returns
        return next((name for name in names if self.terminal(name) is not None), None)

    @property
    def is_fed(self) -> bool:
        """True if the battery must be able to reach it."""
        return kinds()[self.kind].fed != ()

    @property
    def one_feed_is_enough(self) -> bool:
        """True if it works from any one of its feed terminals."""
        return kinds()[self.kind].one_feed_is_enough

    @property
    def feed_terminals(self) -> tuple[str, ...]:
        """Names of the terminals that the battery must be able to reach."""
        kind, names = kinds()[self.kind], [terminal.name for terminal in self.terminals]
        if kind.fed is None:
            return tuple(name for name in names if name not in kind.returns)
        return tuple(name for name in kind.fed if name in names)


@frozen(kw_only=True)
class Wire:
    """
    One conductor between two terminals.

    Attributes:
        id: Name of the wire in its configuration.
        circuit: What the wire is for; a key of data/circuits.toml.
        start: End that current leaves from in normal use, as the profile says.
        end: The other end.
        given_size: As the profile has it; AUTOMATIC until `electrical.sizing` has chosen one.
        conductor: Copper, resistance wire or fusible link.
        resistance_ohm: Total resistance of a resistance wire. [Ω]
        measured_length_m: Length measured on the vehicle; None if it follows from the route. [m]
        loom: Name of the loom it must run in, or "".
        altered: True if an earlier owner joined it elsewhere: its way is not known.
        condition: In which state it was found; () if nothing is wrong with it.
        rings: What its rings are made for, where somebody looked.
    """

    id: str
    circuit: str
    start: TerminalRef
    end: TerminalRef
    given_size: WireSize | Automatic = field(alias="size")
    conductor: Conductor = Conductor.COPPER
    resistance_ohm: float | None = None
    insulation: Insulation
    colour: Colour
    measured_length_m: float | None = None
    loom: str = ""
    note: str = ""
    as_found: bool = False
    altered: bool = False
    condition: Conditions = ()
    rings: Rings = Rings()
    slot: str = "vehicle"
    origin: Origin = field(default=Origin("", ()), eq=False, repr=False)

    @property
    def size(self) -> WireSize:
        """
        The size of the conductor.

        Raises:
            TypeError: it is still to be chosen.
        """
        if isinstance(self.given_size, Automatic):
            raise TypeError(f"{self.id}: found an automatic size; expected a chosen one")
        return self.given_size

    @property
    def ends(self) -> tuple[TerminalRef, TerminalRef]:
        """Both ends, start first."""
        return (self.start, self.end)

    @property
    def joins(self) -> frozenset[TerminalRef]:
        """Both ends without direction."""
        return frozenset(self.ends)

    def other_end(self, ref: TerminalRef) -> TerminalRef:
        """The end that is not `ref`."""
        return self.end if ref == self.start else self.start


@frozen(kw_only=True)
class Vehicle:
    """What is known of the vehicle as a whole."""

    name: str
    title: str
    summary: str
    voltage_v: float
    ground: str
    size_system: str
    engine: str = ""
    body: str = ""
    equipment: Equipment = field(factory=Equipment)
    owner: str = ""
    serial_number: str = ""


@frozen(kw_only=True, eq=False)
class Configuration:
    """The whole wiring of one vehicle at one moment."""

    name: str
    title: str
    summary: str
    vehicle: Vehicle
    systems: Mapping[str, str]
    system_titles: Mapping[str, str]
    places: tuple[Place, ...]
    routes: tuple[Route, ...]
    components: tuple[Component, ...]
    wires: tuple[Wire, ...]
    runs: Mapping[str, Run]
    switch_positions: Mapping[str, Mapping[str, str]]
    named_terminals: Mapping[str, TerminalRef] = field(factory=dict)
    """Terminals that vehicle or systems offer to wires, by the name of their job."""
    as_found_note: str = ""
    as_found_remarks: tuple[str, ...] = ()
    """What else was found at the vehicle, one sentence each."""
    file: str = ""
    """File that it was read from, as the person named it."""
    digest: str = ""

    @cached_property
    def component_by_role(self) -> Mapping[str, Component]:
        """Components by role."""
        return {component.role: component for component in self.components}

    @cached_property
    def wire_by_id(self) -> Mapping[str, Wire]:
        """Wires by id."""
        return {wire.id: wire for wire in self.wires}

    @cached_property
    def place_by_id(self) -> Mapping[str, Place]:
        """Places by id."""
        return {place.id: place for place in self.places}

    @cached_property
    def wires_at(self) -> Mapping[TerminalRef, tuple[Wire, ...]]:
        """Wires by the terminal they are joined to, these in order, those by id."""
        found: dict[TerminalRef, list[Wire]] = {}
        for wire in self.wires:
            for ref in wire.ends:
                found.setdefault(ref, []).append(wire)
        refs = sorted(found, key=lambda ref: (ref.role, ref.terminal))  # as `TerminalRef` orders
        return {ref: tuple(found[ref]) for ref in refs}

    def parts_of(self, *families: Family) -> tuple[Component, ...]:
        """Components of these families, by role."""
        if families not in self._of_families:
            found = tuple(part for part in self.components if part.family in families)
            self._of_families[families] = found
        return self._of_families[families]

    @cached_property
    def _of_families(self) -> dict[tuple[Family, ...], tuple[Component, ...]]:
        return {}

    def parts_that(self, capability: Capability) -> tuple[Component, ...]:
        """Components with that capability, by role."""
        if capability not in self._able:
            found = tuple(part for part in self.components if part.can(capability))
            self._able[capability] = found
        return self._able[capability]

    @cached_property
    def _able(self) -> dict[Capability, tuple[Component, ...]]:
        return {}

    def parts_with(self, job: TerminalUse) -> tuple[tuple[Component, TerminalRef], ...]:
        """Components with a terminal that plays a part, and that terminal; by role."""
        if job not in self._playing:
            found = ((part, part.ref_as(job)) for part in self.components)
            self._playing[job] = tuple((part, ref) for part, ref in found if ref is not None)
        return self._playing[job]

    @cached_property
    def _playing(self) -> dict[TerminalUse, tuple[tuple[Component, TerminalRef], ...]]:
        return {}

    def component(self, role: str) -> Component:
        """The component of that role; KeyError if the configuration has none."""
        return self.component_by_role[role]

    def place_of(self, ref: TerminalRef) -> Place:
        """Where a terminal is."""
        return self.place_by_id[self.component(ref.role).place]
