"""
A target: the car as it is, other systems in some slots, and edits that make the rest go with them.

Values only; words and TOML are made in `documents/profiles/target_text`.
"""

from collections.abc import Iterable, Mapping
from enum import StrEnum

from attrs import evolve, field

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.configuration.values.measures import Quantity


@frozen(kw_only=True)
class NewName:
    """
    What a part is called now.

    Attributes:
        code: Which words are put to the old name.
        old: Name before, or of the wire that the part belongs to.
        facts: What the words name beside it.
    """

    code: str
    old: str
    facts: "Mapping[str, Quantity | str]" = field(factory=dict, hash=False)


Value = (
    Quantity
    | TerminalRef
    | NewName
    | str
    | int
    | float
    | Mapping[str, "Value"]
    | tuple["Value", ...]
)
"""What a key of a profile may be given; a number with a fraction is an angle. [°]"""

Values = Mapping[str, Value]


class EditKey(StrEnum):
    """Where in `[changes]` an edit stands."""

    REMOVE_WIRE = "remove_wires"
    REMOVE_PART = "remove_components"
    ADD_PART = "add_component"
    ADD_WIRE = "add_wires"
    CHANGE_PART = "change_component"
    CHANGE_WIRE = "change_wires"


ADDING = {EditKey.CHANGE_WIRE: EditKey.ADD_WIRE, EditKey.CHANGE_PART: EditKey.ADD_PART}
REMOVING = {
    EditKey.CHANGE_WIRE: EditKey.REMOVE_WIRE,
    EditKey.CHANGE_PART: EditKey.REMOVE_PART,
}


@frozen(kw_only=True)
class Edit:
    """
    One line of the target.

    Attributes:
        name: Id of the wire, or role of the part.
        values: What it is given.
        why: Code of the reason, for the comment.
        called: New name of a part.
    """

    table: EditKey
    name: str
    values: Values = field(factory=dict, hash=False)
    why: str
    called: NewName | None = None


@frozen(kw_only=True)
class EditLine:
    """All edits of one wire or part together."""

    name: str
    values: Values
    whys: tuple[str, ...]
    called: NewName | None


@frozen(kw_only=True)
class Decision:
    """Something that the program could not decide: what was written, and what else could be."""

    code: str
    role: str = ""
    facts: Mapping[str, Value] = field(factory=dict, hash=False)


@frozen(kw_only=True)
class Target:
    """
    What shall be made of a car.

    Attributes:
        systems: Chosen system by slot; only those that change.
        voltage_v: New system voltage; None if it stays. [V]
        ground: New grounded post; "" if it stays.
        output_a: Rated output of the new charging machine; None if it is as its system has it. [A]
        cures_car: True if what is found at the car itself is cured, too.
        may_add: False if a cure may only change what is there: it was seen, or is told as seen.
    """

    systems: Mapping[str, str]
    voltage_v: float | None = None
    ground: str = ""
    output_a: float | None = None
    edits: tuple[Edit, ...] = ()
    questions: tuple[Decision, ...] = ()
    cures_car: bool = False
    may_add: bool = True

    def with_edits(self, edits: Iterable[Edit]) -> "Target":
        """The same with more edits."""
        return evolve(self, edits=(*self.edits, *edits))

    def lines(self) -> Mapping[EditKey, Mapping[str, EditLine]]:
        """The edits by table and name; what changes a line that is added stands in that line."""
        tables: dict[EditKey, dict[str, EditLine]] = {table: {} for table in EditKey}
        for edit in self.edits:
            table = edit.table
            if table in ADDING and edit.name in tables[ADDING[table]]:
                table = ADDING[table]
            if table in REMOVING and edit.name in tables[REMOVING[table]]:
                continue  # it goes: nothing of it needs to change
            if table in REMOVING.values() and _forget(tables, table, edit.name):
                continue  # it was only added here
            old = tables[table].get(edit.name)
            tables[table][edit.name] = _merged(old, edit)
        return tables


def _forget(tables: dict[EditKey, dict[str, EditLine]], table: EditKey, name: str) -> bool:
    """Drops what was said of a thing that goes; True if it was only added."""
    (changing,) = (key for key, removing in REMOVING.items() if removing is table)
    tables[changing].pop(name, None)
    return tables[ADDING[changing]].pop(name, None) is not None


def _merged(old: EditLine | None, edit: Edit) -> EditLine:
    if old is None:
        return EditLine(name=edit.name, values=edit.values, whys=(edit.why,), called=edit.called)
    ratings = {**_mapping(old.values.get("ratings")), **_mapping(edit.values.get("ratings"))}
    values = {**old.values, **edit.values, **({"ratings": ratings} if ratings else {})}
    whys = tuple(dict.fromkeys((*old.whys, edit.why)))
    return EditLine(name=edit.name, values=values, whys=whys, called=edit.called or old.called)


def _mapping(value: Value | None) -> Values:
    return value if isinstance(value, Mapping) else {}
