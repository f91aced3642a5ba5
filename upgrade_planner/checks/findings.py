"""
A finding: what a rule says of a configuration, as a value.

A rule gives no words and rounds nothing. It gives a code, which of its causes is true, what the
finding is about, numbers with their kind of quantity, and a remedy by its code. The sentences
stand in `documents/words/sentences`, one file for each module of this folder:

    yield Finding(
        code="CHG-FIELD-DRAIN",
        severity=Severity.WARNING,
        subjects=(at_part(machine.role), *at_wires(names)),
        value=ampere(amps),
        facts={"state": point.state},
        remedy=Remedy("fit-at-least", {"size": size}),
        source="where the limit comes from",
    )

    [CHG-FIELD-DRAIN]
    title = "Field drains the battery"
    what = "{value:.1f} flow through the field ({state}); none is right."

    [remedies]
    fit-at-least = "Fit {size} at least."

Where the sentence differs from case to case, `cause` names the case and `what` (or `title`) is a
table with one sentence for each cause. A placeholder is `value`, `limit` or the name of a fact;
what may stand behind its colon is told in `documents/words/filling.py`. A source may hold
placeholders too.
"""

from collections.abc import Iterable, Mapping
from enum import StrEnum

from attrs import field

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.edits import Edit
from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.configuration.values.measures import Quantity
from upgrade_planner.configuration.values.sizes import WireSize
from upgrade_planner.electrical.models.context import METAL, ref_of
from upgrade_planner.electrical.states import State


class Severity(StrEnum):
    """How bad it is; a danger blocks the job."""

    DANGER = "danger"
    WARNING = "warning"
    CAUTION = "caution"
    NOTE = "note"


class SubjectForm(StrEnum):
    """What a finding can be about."""

    WIRE = "wire"
    PART = "part"
    TERMINAL = "terminal"
    METAL = "metal"


@frozen(order=True)
class Subject:
    """
    One thing that a finding is about.

    Attributes:
        form: What it is.
        name: Id of the wire, role of the part, or name of the lump of metal.
        terminal: Which terminal of the part; "" for all other forms.
    """

    form: SubjectForm
    name: str
    terminal: str = ""

    def __str__(self) -> str:
        """As written in profiles."""
        return f"{self.name}.{self.terminal}" if self.terminal else self.name


def at_wire(wire_id: str) -> Subject:
    """A wire by its id."""
    return Subject(SubjectForm.WIRE, wire_id)


def at_part(role: str) -> Subject:
    """A part by its role."""
    return Subject(SubjectForm.PART, role)


def at_terminal(ref: TerminalRef) -> Subject:
    """A terminal of a part."""
    return Subject(SubjectForm.TERMINAL, ref.role, ref.terminal)


def at_node(node: str) -> Subject:
    """What a node of the network is: a terminal, or a lump of metal."""
    ref = ref_of(node)
    if ref.role == METAL:
        return Subject(SubjectForm.METAL, ref.terminal)
    return at_terminal(ref)


def at_wires(wire_ids: Iterable[str]) -> tuple[Subject, ...]:
    """Wires by their ids, in that order."""
    return tuple(map(at_wire, wire_ids))


def at_parts(roles: Iterable[str]) -> tuple[Subject, ...]:
    """Parts by their roles, in that order."""
    return tuple(map(at_part, roles))


Fact = Quantity | WireSize | Subject | State | str | int | tuple["Fact", ...]
"""
What a sentence may name: a number with its kind, a size of wire, a thing, a state, a name as the
profile has it (of a circuit, an insulation, a pole), a count; or several of these.
"""

Facts = Mapping[str, Fact]


@frozen
class Remedy:
    """
    What to do about it.

    Attributes:
        code: Our own word for it; the sentence is found by it.
        facts: What the sentence names.
        edits: The same as changes of the configuration; () where somebody has to look first.
    """

    code: str
    facts: Facts = field(factory=dict, hash=False)
    edits: tuple[Edit, ...] = ()


@frozen(kw_only=True)
class Finding:
    """
    What one rule found.

    Attributes:
        code: Our own code of the rule.
        severity: How bad it is.
        subjects: What it is about, the worst or the cause first.
        source: Where the limit comes from.
        remedy: What to do.
        cause: Which of the rule's cases it is; "" if it has one only.
        value: What was found, if it is one number; a plain number is a count.
        limit: What it is judged by, in the same unit.
        facts: What else the sentence names.
        follows: Findings that follow from this one, and go with it.
    """

    code: str
    severity: Severity
    subjects: tuple[Subject, ...]
    source: str
    remedy: Remedy
    cause: str = ""
    value: Quantity | int | None = None
    limit: Quantity | int | None = None
    facts: Facts = field(factory=dict, hash=False)
    follows: tuple["Finding", ...] = ()

    @property
    def where(self) -> tuple[str, ...]:
        """The subjects as written in profiles."""
        return tuple(map(str, self.subjects))

    @property
    def named(self) -> Facts:
        """All that a sentence can name: the facts, and `value` and `limit` where there are any."""
        figures = {"value": self.value, "limit": self.limit}
        return {**self.facts, **{name: v for name, v in figures.items() if v is not None}}
