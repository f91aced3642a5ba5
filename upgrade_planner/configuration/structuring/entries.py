"""What profile files may hold, table by table, before vehicle and systems are put together."""

from typing import Annotated, Any, Literal

from attrs import Factory

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.conditions import Condition
from upgrade_planner.configuration.equipment import (
    KEY,
    NO,
    NOT_KNOWN,
    PULL_SWITCH,
    RULES,
    YES,
    usual_equipment,
)
from upgrade_planner.configuration.files.positions import Origin
from upgrade_planner.configuration.model import Conductor, Connection
from upgrade_planner.configuration.values.colours import Colour
from upgrade_planner.configuration.values.insulation import InsulationChoice
from upgrade_planner.configuration.values.quantities import Dimension
from upgrade_planner.configuration.values.rings import Rings
from upgrade_planner.configuration.values.sizes import SizeChoice
from upgrade_planner.configuration.ways import Covering

Length = Annotated[float, Dimension.LENGTH, "above zero"]
Resistance = Annotated[float, Dimension.RESISTANCE, "above zero"]
Voltage = Annotated[float, Dimension.VOLTAGE, "above zero"]
Temperature = Annotated[float, Dimension.TEMPERATURE]
KindName = Annotated[str, "kind"]
CircuitName = Annotated[str, "circuit"]
Name = Annotated[str, "name"]
Role = Annotated[str, "role"]
Words = Annotated[str, "words"]
Reference = Annotated[str, "reference"]
Ground = Annotated[str, "choice", "negative", "positive"]
SizeSystem = Annotated[str, "choice", "SAE", "AWG", "mm²"]
Space = Annotated[str, "choice", "engine", "cabin", "outside"]
Speed = Annotated[float, Dimension.SPEED, "above zero"]
BuiltAs = Annotated[str, "choice", *usual_equipment(), ""]
YesOrNo = Annotated[str, "choice", YES, NO, NOT_KNOWN]
SwitchedBy = Annotated[str, "choice", KEY, PULL_SWITCH, NOT_KNOWN]
RulesOf = Annotated[str, "choice", *RULES, NOT_KNOWN]
Along = Annotated[float, "between", 0, 1]
Across = Annotated[float, "between", -1, 1]
Metal = Annotated[str, "choice", "engine", "body", "frame", ""]

ProfileFormat = Literal[1]

FORMAT: ProfileFormat = 1
"""What a profile says under `format`, in the table that names it: how the rest is to be read. A
file without it is of format 1; another number stands for meanings that are not read here."""

RENAMED = {"start": "from", "end": "to"}
"""Fields whose key in the file is a word that Python reserves or reads badly."""

NOWHERE = Origin("", ())


@frozen(kw_only=True)
class TerminalEntry:
    """One entry of `terminals`."""

    name: Role
    label: str
    connection: Connection


@frozen(kw_only=True)
class ComponentEntry:
    """A `[[component]]` table; systems leave out `place`."""

    role: Role
    kind: KindName
    name: Words
    place: Name | None = None
    terminals: tuple[TerminalEntry, ...] = ()
    ratings: dict[str, Any] = Factory(dict)
    note: str = ""
    marked: YesOrNo = ""
    condition: tuple[Condition, ...] = ()
    rebuilt_of: tuple[KindName, ...] = ()
    rebuilt_with: str = ""
    rebuilt_leaves: str = ""
    origin: Origin = NOWHERE


@frozen(kw_only=True)
class ComponentChange:
    """A `[[changes.change_component]]` table: what is given replaces what was."""

    role: Role
    kind: KindName | None = None
    name: Words | None = None
    place: Name | None = None
    terminals: tuple[TerminalEntry, ...] | None = None
    ratings: dict[str, Any] = Factory(dict)
    note: str | None = None
    marked: YesOrNo | None = None
    condition: tuple[Condition, ...] | None = None
    rebuilt_of: tuple[KindName, ...] | None = None
    rebuilt_with: str | None = None
    rebuilt_leaves: str | None = None
    origin: Origin = NOWHERE


@frozen(kw_only=True)
class WireEntry:
    """One line of `wires`."""

    id: Name
    circuit: CircuitName
    start: Reference
    end: Reference
    size: SizeChoice
    colour: Colour
    insulation: InsulationChoice
    conductor: Conductor = Conductor.COPPER
    resistance: Resistance | None = None
    length: Length | None = None
    route: str = ""
    if_present: Role | None = None
    note: str = ""
    condition: tuple[Condition, ...] = ()
    rings: Rings = Rings()
    origin: Origin = NOWHERE


@frozen(kw_only=True)
class WireChange:
    """One line of `change_wires`: what is given replaces what was."""

    id: Name
    circuit: CircuitName | None = None
    start: Reference | None = None
    end: Reference | None = None
    size: SizeChoice | None = None
    colour: Colour | None = None
    insulation: InsulationChoice | None = None
    conductor: Conductor | None = None
    resistance: Resistance | None = None
    length: Length | None = None
    route: str | None = None
    note: str | None = None
    condition: tuple[Condition, ...] | None = None
    rings: Rings | None = None
    origin: Origin = NOWHERE


@frozen(kw_only=True)
class WiringEntry:
    """The `[wiring]` table: wires in place, or the name of a CSV file that holds them."""

    wires: tuple[WireEntry, ...] = ()
    csv: str | None = None


@frozen(kw_only=True)
class PlaceEntry:
    """A `[[place]]` table."""

    id: Name
    name: Words
    space: Space
    metal: Metal = ""
    walk: int = 0
    along: Along | None = None
    across: Across | None = None
    origin: Origin = NOWHERE


@frozen(kw_only=True)
class RouteEntry:
    """A `[[route]]` table."""

    start: Name
    end: Name
    length: Length
    covering: Covering
    ambient: Temperature
    loom: str = ""
    through: Role | None = None
    origin: Origin = NOWHERE


@frozen(kw_only=True)
class VehicleHeader:
    """The `[vehicle]` table."""

    format: ProfileFormat = FORMAT
    title: Words
    summary: str
    voltage: Voltage
    ground: Ground
    size_system: SizeSystem
    slots: tuple[Name, ...]
    engine: str = ""
    cylinders: int | None = None
    body: str = ""
    optional_slots: tuple[Name, ...] = ()
    built_as: BuiltAs = ""
    governed_speed: Speed | None = None
    highest_test_speed: Speed | None = None
    doors: YesOrNo = ""
    crank_handle: YesOrNo = ""
    marked: YesOrNo = ""
    switched_by: SwitchedBy = ""
    rules: RulesOf = ""


@frozen(kw_only=True)
class VehicleFile:
    """A vehicle profile."""

    vehicle: VehicleHeader
    place: tuple[PlaceEntry, ...]
    route: tuple[RouteEntry, ...] = ()
    mounting: dict[str, str] = Factory(dict)
    named_terminals: dict[str, Reference] = Factory(dict)
    states: dict[str, dict[str, str]] = Factory(dict)
    component: tuple[ComponentEntry, ...]
    wiring: WiringEntry = WiringEntry()


@frozen(kw_only=True)
class ChangesEntry:
    """The `[changes]` and `[as_found]` tables."""

    note: str = ""
    remarks: tuple[Words, ...] = ()
    remove_wires: tuple[Name, ...] = ()
    remove_components: tuple[Role, ...] = ()
    add_wires: tuple[WireEntry, ...] = ()
    change_wires: tuple[WireChange, ...] = ()
    add_component: tuple[ComponentEntry, ...] = ()
    change_component: tuple[ComponentChange, ...] = ()


@frozen(kw_only=True)
class SystemHeader:
    """The `[system]` table."""

    format: ProfileFormat = FORMAT
    name: Words
    slot: Name
    summary: str


@frozen(kw_only=True)
class SystemFile:
    """A system profile."""

    system: SystemHeader
    named_terminals: dict[str, Reference] = Factory(dict)
    states: dict[str, dict[str, str]] = Factory(dict)
    component: tuple[ComponentEntry, ...] = ()
    wiring: WiringEntry = WiringEntry()
    changes: ChangesEntry = ChangesEntry()


@frozen(kw_only=True)
class ConfigurationHeader:
    """The `[configuration]` table."""

    format: ProfileFormat = FORMAT
    title: Words
    summary: str
    vehicle: str | None = None
    based_on: str | None = None
    voltage: Voltage | None = None
    ground: Ground | None = None
    called: str = ""
    owner: str = ""
    serial_number: str = ""


@frozen(kw_only=True)
class ConfigurationFile:
    """A configuration."""

    configuration: ConfigurationHeader
    systems: dict[str, str] = Factory(dict)
    named_terminals: dict[str, Reference] = Factory(dict)
    states: dict[str, dict[str, str]] = Factory(dict)
    overrides: dict[str, dict[str, Any]] = Factory(dict)
    changes: ChangesEntry = ChangesEntry()
    as_found: ChangesEntry = ChangesEntry()
