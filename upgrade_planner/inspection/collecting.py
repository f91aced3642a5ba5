"""What comes together while a filled form is read: faults, doubts, findings; and rules for all."""

from typing import Any

from attrs import define, field

from upgrade_planner.configuration.conditions import Condition
from upgrade_planner.configuration.files.faults import quoted
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.configuration.values.quantities import Dimension
from upgrade_planner.errors import Problem
from upgrade_planner.inspection.form_lines import FormLine, MeterReading
from upgrade_planner.inspection.judging import MeasuredFinding, judged
from upgrade_planner.inspection.measuring import Measurement
from upgrade_planner.inspection.spoken_answers import NO
from upgrade_planner.inspection.walk import Inspection

Entry = dict[str, Any]
"""One table of a profile, as it will be written."""


@define
class Collector:
    """
    Faults, doubts and findings of one form.

    Attributes:
        inspection: What the form asked for.
        automatic: Ids of wires whose size the profile leaves to the program.
    """

    inspection: Inspection
    automatic: frozenset[str]
    problems: list[Problem]
    doubts: list[str] = field(factory=list)
    findings: list[MeasuredFinding] = field(factory=list)
    settings: list[str] = field(factory=list)
    agreeing: list[str] = field(factory=list)

    @property
    def configuration(self) -> Configuration:
        """The wiring that the form was printed for."""
        return self.inspection.configuration

    def refuse(self, answer: FormLine, column: str, found: str, expected: str) -> None:
        """Notes a fault in a cell."""
        self.problems.append(answer.problem(column, found, expected))

    def doubt(self, answer: FormLine, words: str) -> None:
        """Notes something that a person should look at again."""
        self.doubts.append(f"{answer.called}: {words}")

    def refuse_columns(self, answer: FormLine, allowed: tuple[str, ...]) -> None:
        """Faults for columns that this sort of line does not have."""
        for column in answer.filled:
            if column not in allowed:
                expected = f"nothing: a {answer.kind} has no such column; write it under note"
                self.refuse(answer, column, cell(answer, column), expected)

    def presence_is_clear(self, answer: FormLine) -> bool:
        """
        False if nobody looked; a line that contradicts itself is a fault besides.

        What has a state, a size or a value written to it is there, though its box is empty.
        """
        others = [name for name in answer.filled if name not in ("present", "note")]
        if answer.present == "" and ("present" in answer.filled or not others):
            self._not_looked_at(answer)
            return False
        if answer.present == NO:
            for column in others:
                found = f"{cell(answer, column)} on a {answer.kind} that is absent ('no')"
                self.refuse(answer, column, found, "an empty cell, or 'yes' under present")
        return True

    def _not_looked_at(self, answer: FormLine) -> None:
        if answer.note and "present" not in answer.filled:
            self.doubt(answer, f"not looked at; note: {answer.note}")

    def conditions(self, answer: FormLine) -> Entry:
        """What is wrong with a wire or part, as an entry: boxes ticked, values measured."""
        off = (Condition.MEASURED_OFF,) if self.is_off(answer) else ()
        found = (*answer.worn, *off)
        return {"condition": found} if found else {}

    def is_off(self, answer: FormLine) -> bool:
        """True if what was measured lies outside its range and is not taken as the right value."""
        is_odd = any(finding.subject == answer.subject for finding in self.findings)
        return is_odd and not answer.use_measured

    def judge(self, answer: FormLine, expected: Measurement) -> None:
        """Notes a finding if the reading lies outside its range."""
        assert answer.measured is not None
        finding = judged(answer.subject, answer.measured, expected)
        if finding is not None:
            self.findings.append(finding)
        else:
            self.agreeing.append(f"{answer.subject} {answer.measured.text}")

    def taken(self, answer: FormLine, rating: str, old: float | None) -> Entry:
        """The measured resistance in place of the stated one, which the person asked for."""
        assert answer.measured is not None
        before = f"{old:g} ohm" if old is not None else "none"
        words = f"{rating.replace('_', ' ')} set to {answer.measured.text} as measured"
        self.settings.append(f"{answer.subject}: {words}; was {before}")
        return {rating: answer.measured.text}

    def refuse_use(self, answer: FormLine) -> None:
        """Notes that a measured value shall be used that is none."""
        found = "yes without a measured resistance"
        self.refuse(answer, "use_measured", found, "the ohms under measured, above zero")

    def doubt_condition(self, answer: FormLine) -> None:
        """Notes what a condition leaves open."""
        if answer.other_state:
            words = (
                f"state {quoted(answer.other_state)} is no word of the form; it stands as a note"
            )
            self.doubt(answer, words)
        if Condition.BURNT in answer.worn:
            self.doubt(answer, "burnt; find the cause before it is joined again")
        if Condition.REPAIRED in answer.worn and not answer.note:
            self.doubt(answer, "repaired; how and where is not said")


def cell(answer: FormLine, column: str) -> str:
    """A cell as a message repeats it."""
    return quoted(answer.row.cells[column].strip())


def measured_words(answer: FormLine) -> str:
    """The reading of the form as a sentence of a note; "" without one."""
    return f"Measured: {answer.measured.text}." if answer.measured else ""


def is_ohms(reading: MeterReading | None) -> bool:
    """True for a resistance that a profile can state."""
    if reading is None or reading.dimension is not Dimension.RESISTANCE:
        return False
    return 0 < reading.value < float("inf")


def note_with(answer: FormLine, old: str, *before: str) -> str:
    """The old note with what was found behind it; "" if nothing is to be added."""
    new = " ".join(filter(None, (*before, answer.note)))
    return f"{old} {new}".strip() if new else ""
