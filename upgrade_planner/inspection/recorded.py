"""From a filled survey form to what is different on the vehicle: changes, doubts, findings."""

import re
from collections.abc import Iterable, Iterator, Mapping

from attrs import define, evolve, field

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.faults import one_of, quoted
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.configuration.tables.spreadsheet import Row
from upgrade_planner.configuration.values.sizes import size_text
from upgrade_planner.errors import ConfigurationError, Problem
from upgrade_planner.inspection import found_parts, found_wires
from upgrade_planner.inspection.added_parts import AddedPart, added_part
from upgrade_planner.inspection.collecting import Collector, Entry
from upgrade_planner.inspection.form_lines import (
    FORM,
    FREE_KINDS,
    OF_VEHICLE,
    FormLine,
    read_form_lines,
)
from upgrade_planner.inspection.judging import UNIT, MeasuredFinding
from upgrade_planner.inspection.spoken_answers import ELSEWHERE, NO, is_bare
from upgrade_planner.inspection.strangers import stranger_entry
from upgrade_planner.inspection.terminal_names import TerminalNames, is_loose
from upgrade_planner.inspection.walk import Inspection

SIZE_WORDS = {"metric": "mm²"}
"""How a size names the size system of a vehicle, where it is not its own name."""

FEW_STRANGE = 5
"""Lines of a form that may not fit the profile before the whole form is refused; our assumption."""

_BARE_NUMBER = re.compile(r"[+-]?(?:\d+(?:[.,]\d+)?|[.,]\d+)", re.ASCII)


@frozen(kw_only=True)
class Recorded:
    """
    What a form says about a vehicle.

    Attributes:
        remove_wires: Ids of the wires that are absent.
        remove_components: Roles of the parts that are absent.
        change_wires: Entries of `change_wires`, as in a profile.
        add_wires: Entries of `add_wires`.
        change_component: Entries of `change_component`.
        add_component: Entries of `add_component`.
        doubts: What a person should look at again, in words.
        findings: Measured values outside their range.
        agreeing: Measured values that lie in their range, in words.
        settings: What was taken over from a measured value, in words.
        not_looked_at: Ids of the wires nobody looked at.
        parts_not_looked_at: Roles of the parts nobody looked at.
        questions: Signs that were found and are written down nowhere, with both answers.
        left: Answers that are not clear; nothing of their cell, or of a line that contradicts
            itself, was taken.
    """

    remove_wires: tuple[str, ...] = ()
    remove_components: tuple[str, ...] = ()
    change_wires: tuple[Entry, ...] = ()
    add_wires: tuple[Entry, ...] = ()
    change_component: tuple[Entry, ...] = ()
    add_component: tuple[Entry, ...] = ()
    doubts: tuple[str, ...] = ()
    findings: tuple[MeasuredFinding, ...] = ()
    settings: tuple[str, ...] = ()
    agreeing: tuple[str, ...] = ()
    not_looked_at: tuple[str, ...] = ()
    parts_not_looked_at: tuple[str, ...] = ()
    questions: tuple[str, ...] = ()
    left: tuple[Problem, ...] = ()

    @property
    def changes(self) -> int:
        """How many things differ."""
        lists = (
            self.remove_wires,
            self.remove_components,
            self.change_wires,
            self.add_wires,
            self.change_component,
            self.add_component,
        )
        return sum(map(len, lists))


def recorded(
    rows: Iterable[Row],
    inspection: Inspection,
    *,
    form: str = "",
    automatic: frozenset[str] = frozenset(),
    is_european: bool = False,
    has_units: bool = False,
    strict: bool = True,
) -> Recorded:
    """
    What a filled form says.

    Args:
        rows: The lines of the form.
        inspection: What the form asked for.
        form: Check code of the form for this configuration.
        automatic: Ids of wires whose size the profile leaves to the program.
        is_european: True if commas are decimal commas for certain.
        has_units: True if the unit of a measured value is printed in its box, so that a bare
            number has it.
        strict: False to take what is clear and to list what is not; a line that contradicts
            itself is left out whole.

    Raises:
        ConfigurationError: anything that cannot be read or contradicts itself; all of it. Not
            strict: a form about another vehicle.
    """
    rows = tuple(_with_unit(row, inspection) if has_units else row for row in rows)
    marks = {row.cells.get(FORM, "").strip() for row in rows}
    other = {mark for mark in marks if form and mark and not form.startswith(mark)}
    if other:
        _refuse_other_form(rows, inspection, form, other)
    left: list[Problem] = []
    for _ in range(len(rows) + 1):
        result, unread, refused = _taken(rows, inspection, automatic, is_european)
        if not unread and not refused:
            break
        if strict:
            raise ConfigurationError([*unread, *refused])
        left += [*unread, *refused]
        rows = tuple(_without(rows, unread, refused))
    result = evolve(result, left=tuple(left))
    return evolve(result, doubts=(*_other_state(form, other), *result.doubts))


def _taken(
    rows: tuple[Row, ...], inspection: Inspection, automatic: frozenset[str], is_european: bool
) -> tuple[Recorded, list[Problem], list[Problem]]:
    """What the rows say, cells that cannot be read, and what does not go together."""
    system = str(inspection.configuration.vehicle.size_system)
    system = SIZE_WORDS.get(system, system)
    answers, unread = read_form_lines(rows, is_european=is_european, size_system=system)
    refused: list[Problem] = []
    collector = Collector(inspection, automatic, refused)
    result = _Recorder(collector, TerminalNames(inspection.configuration)).result(answers)
    return result, unread, refused


def _without(
    rows: Iterable[Row], unread: Iterable[Problem], refused: Iterable[Problem]
) -> Iterator[Row]:
    """The rows without cells that cannot be read, and without lines that contradict themselves."""
    cells = {(one.line, one.subject) for one in unread}
    lines = {(one.line, one.subject.rpartition(", ")[0]) for one in refused}
    for row in rows:
        subject = f"{row.cells.get('line', '').strip().lower()} {row.cells.get('id', '').strip()}"
        subject = subject.strip()
        bad = {c for c in row.cells if (row.line, f"{subject}, {c}") in cells}
        if (row.line, subject) not in lines and not bad & {"line", "id"}:
            kept = {name: text for name, text in row.cells.items() if name not in bad}
            yield evolve(row, cells=kept)


def _other_state(form: str, other: set[str]) -> tuple[str, ...]:
    if not other:
        return ()
    codes = ", ".join(sorted(code.partition(OF_VEHICLE)[0] for code in other))
    return (
        f"the form was printed for another state of the profile (code {codes}, now "
        f"{form.partition(OF_VEHICLE)[0]}): compare sizes and ends",
    )


def _refuse_other_form(
    rows: tuple[Row, ...], inspection: Inspection, form: str, other: set[str]
) -> None:
    """
    One fault instead of a hundred for a form about another vehicle, however few lines are filled.

    Raises:
        ConfigurationError: it says so itself; or it does not say of which vehicle it is, and many,
            or half, of its wires and parts are not those of the configuration.
    """
    configuration = inspection.configuration
    vehicles = {code.partition(OF_VEHICLE)[2] for code in other} - {""}
    if vehicles == {configuration.vehicle.name}:
        return  # printed for this vehicle before its file was changed: what fits is taken
    named = [row for row in rows if row.cells.get("line") in ("part", "wire")]
    if vehicles:
        found = f"a form printed for another vehicle, {', '.join(sorted(vehicles))}"
        expected = f"a form of {configuration.vehicle.name}, or the file that it was printed for"
        raise ConfigurationError([rows[0].problem(FORM, found, expected)])
    strange = [row for row in named if _is_strange(row, configuration)]
    if len(strange) <= FEW_STRANGE and 2 * len(strange) < max(len(named), 1):
        return
    row = strange[0]
    found = (
        f"the form of another configuration (code {', '.join(sorted(other))}): {len(strange)} of "
        f"its lines do not fit, the first is {row.cells['line']} {quoted(row.cells.get('id', ''))}"
    )
    expected = f"a form printed for {configuration.name} (code {form})"
    raise ConfigurationError([row.problem(FORM, found, expected)])


def _is_strange(row: Row, configuration: Configuration) -> bool:
    kind, name = row.cells.get("line", ""), row.cells.get("id", "")
    if kind == "part":
        return name not in configuration.component_by_role
    wire = configuration.wire_by_id.get(name)
    return kind == "wire" and (wire is None or bool(found_wires.overwritten(row, wire)))


def _with_unit(row: Row, inspection: Inspection) -> Row:
    """The row with the printed unit behind a bare measured number."""
    key = (row.cells.get("line", ""), row.cells.get("id", ""))
    measured = row.cells.get("measured", "").strip()
    expected = inspection.measurement_of.get(key)
    if expected is None or not _BARE_NUMBER.fullmatch(measured):
        return row
    whole = re.sub(r"^([+-]?)([.,])", r"\g<1>0\2", measured)
    return evolve(row, cells={**row.cells, "measured": f"{whole} {UNIT[expected.dimension]}"})


@define
class _Recorder:
    """Goes through the answers and keeps what differs."""

    collector: Collector
    names: TerminalNames
    changed: dict[str, Entry] = field(factory=dict)
    absent: list[str] = field(factory=list)
    parts: dict[str, Entry] = field(factory=dict)
    parts_gone: dict[str, FormLine] = field(factory=dict)
    added: list[Entry] = field(factory=list)
    parts_added: list[Entry] = field(factory=list)

    def result(self, answers: Iterable[FormLine]) -> Recorded:
        """Everything that the answers say."""
        seen = {(a.kind, a.id) for a in answers if self._takes(a)}
        self._check_parts_gone()
        collector, configuration = self.collector, self.collector.configuration
        wires = (wire.id for wire in configuration.wires)
        parts = (part.role for part in configuration.components)
        return Recorded(
            remove_wires=tuple(self.absent),
            remove_components=tuple(self.parts_gone),
            change_wires=tuple({"id": key, **entry} for key, entry in self.changed.items()),
            add_wires=tuple(self.added),
            change_component=tuple({"role": key, **entry} for key, entry in self.parts.items()),
            add_component=tuple(self.parts_added),
            doubts=tuple(collector.doubts),
            findings=tuple(collector.findings),
            settings=tuple(collector.settings),
            agreeing=tuple(collector.agreeing),
            not_looked_at=tuple(name for name in wires if ("wire", name) not in seen),
            parts_not_looked_at=tuple(name for name in parts if ("part", name) not in seen),
        )

    def _takes(self, answer: FormLine) -> bool:
        """Takes one line in; True if somebody looked at the wire or part that it is about."""
        if answer.size is not None and is_bare(answer.row.cells["size_found"]):
            written = quoted(answer.row.cells["size_found"])
            words = f"size {written} read as {size_text(answer.size)}"
            self.collector.doubt(answer, f"{words}, the sizes of this vehicle")
        if answer.kind in FREE_KINDS:
            if answer.filled:
                self._stranger(answer) if answer.kind == "stranger" else self._added(answer)
            return False
        if not self._is_known(answer):
            return False
        if answer.kind == "reading":
            found_parts.take_reading(answer, self.collector)
            return False
        return self._part(answer) if answer.kind == "part" else self._wire(answer)

    def _is_known(self, answer: FormLine) -> bool:
        configuration = self.collector.configuration
        measurements = self.collector.inspection.measurements
        known: Mapping[str, Iterable[str]] = {
            "wire": configuration.wire_by_id,
            "part": configuration.component_by_role,
            "reading": [found.id for found in measurements if found.kind == "reading"],
        }
        if answer.id in known[answer.kind]:
            return True
        found = f"no {answer.kind} {quoted(answer.id)} in {configuration.name}"
        self.collector.refuse(answer, "id", found, one_of(answer.id, known[answer.kind]))
        return False

    def _wire(self, answer: FormLine) -> bool:
        wire = self.collector.configuration.wire_by_id[answer.id]
        self.collector.refuse_columns(answer, found_wires.COLUMNS)
        found_wires.refuse_overwritten(answer, wire, self.collector)
        if any(map(is_loose, (answer.start, answer.end))):
            self.absent.append(wire.id)
            words = (
                f"hangs loose ({answer.start or answer.end}): it feeds nothing and is written as "
            )
            self.collector.doubt(answer, words + "absent; take it out, or insulate its end")
            return True
        if not self.collector.presence_is_clear(answer):
            return False
        if answer.present == NO:
            self.absent.append(wire.id)
            if answer.note:
                self.collector.doubt(answer, f"absent; note: {answer.note}")
            return True
        entry = found_wires.wire_entry(answer, wire, self.names, self.collector)
        if entry:
            self.changed[wire.id] = entry
        return True

    def _part(self, answer: FormLine) -> bool:
        part = self.collector.configuration.component(answer.id)
        self.collector.refuse_columns(answer, found_parts.COLUMNS)
        if answer.present == ELSEWHERE:
            expected = "yes or no, and the place under note"
            self.collector.refuse(answer, "present", "'elsewhere' on a part", expected)
            return False
        if not self.collector.presence_is_clear(answer):
            return False
        if answer.present == NO:
            self.parts_gone[part.role] = answer
            if answer.note:
                self.collector.doubt(answer, f"absent; note: {answer.note}")
            return True
        entry = found_parts.part_entry(answer, part, self.collector)
        if entry:
            self.parts[part.role] = entry
        return True

    def _stranger(self, answer: FormLine) -> None:
        if any(map(is_loose, (answer.start, answer.end))):
            ends = " to ".join(filter(None, (answer.start, answer.end)))
            words = f"a strange wire that hangs loose ({ends}) is in no circuit: take it out"
            self.collector.doubt(answer, " ".join(filter(None, (words, answer.note))))
            return
        taken = self._taken_ids()
        problems = self.collector.problems
        before = len(problems)
        entry, doubts = stranger_entry(answer, self.names, taken, problems)
        if len(problems) == before:
            self.added.append(entry)
            self.collector.doubts += doubts

    def _taken_ids(self) -> set[str]:
        configuration = self.collector.configuration
        added = (entry["id"] for entry in self.added)
        return {*configuration.wire_by_id, *added}

    def _added(self, answer: FormLine) -> None:
        roles = (entry["role"] for entry in self.parts_added)
        taken = {*self._taken_ids(), *self.collector.configuration.component_by_role, *roles}
        made = added_part(answer, self.names, taken, self.collector)
        if made is None or self._is_elsewhere(answer, made):
            return
        self.parts_added.append(made.component)
        self.added += made.wires
        for name, entry in made.changed.items():
            self.changed[name] = {**self.changed.get(name, {}), **entry}

    def _is_elsewhere(self, answer: FormLine, made: AddedPart) -> bool:
        """True, with a fault, if the wire in which a switch sits is not where it was."""
        moved = [n for n in made.changed if n in self.absent or "to" in self.changed.get(n, {})]
        if moved:
            found = f"a switch in the wire {moved[0]}, which is absent or joined elsewhere"
            self.collector.refuse(answer, "from_found", found, "the ends of a wire that is there")
        return bool(moved)

    def _check_parts_gone(self) -> None:
        """A part can only be absent if nothing is joined to it any more."""
        for role, answer in self.parts_gone.items():
            joined = sorted(set(self._joined_to(role)))
            if joined:
                found = f"'no', but these wires are joined to it: {', '.join(joined)}"
                expected = "each of them 'no' or 'elsewhere', too; if another part is in its "
                expected += "place, 'yes', and what it is under marked"
                self.collector.refuse(answer, "present", found, expected)

    def _joined_to(self, role: str) -> Iterator[str]:
        for wire in self.collector.configuration.wires:
            entry = self.changed.get(wire.id, {})
            ends = (entry.get("from", str(wire.start)), entry.get("to", str(wire.end)))
            if wire.id not in self.absent and any(_role(end) == role for end in ends):
                yield wire.id
        for entry in self.added:
            if role in (_role(entry["from"]), _role(entry["to"])):
                yield entry["id"]


def _role(end: str) -> str:
    return end.partition(".")[0]
