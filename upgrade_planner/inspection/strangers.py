"""Wires found on a vehicle that its profile does not know."""

from collections.abc import Collection
from itertools import count
from typing import Any

from upgrade_planner.configuration.conditions import Condition
from upgrade_planner.configuration.files.faults import quoted
from upgrade_planner.configuration.model import Conductor
from upgrade_planner.configuration.registry import circuits
from upgrade_planner.configuration.values.quantities import Dimension
from upgrade_planner.configuration.values.sizes import size_text
from upgrade_planner.errors import Problem
from upgrade_planner.inspection.form_lines import FormLine
from upgrade_planner.inspection.spoken_answers import ELSEWHERE, NO
from upgrade_planner.inspection.terminal_names import TerminalNames

NEEDED = (
    "from_found",
    "to_found",
    "size_found",
    "colour_found",
    "circuit_found",
)
UNSAID_INSULATION = "PVC"
"""Insulation of a strange wire that nobody wrote down, as most that are added. Our assumption."""

WANTED = {
    "from_found": "the terminal it leaves from, role.terminal",
    "to_found": "the terminal it leads to, role.terminal",
    "size_found": "its size with the system, e.g. 16 AWG or 1.5 mm²",
    "colour_found": "its colour, e.g. RD or RD/WH",
}


def stranger_entry(
    answer: FormLine, names: TerminalNames, taken: Collection[str], problems: list[Problem]
) -> tuple[dict[str, Any], list[str]]:
    """
    A strange wire as an entry of `add_wires`, and what is doubtful about it.

    Faults go to `problems`; the entry is then of no use.
    """
    _refuse_what_does_not_fit(answer, problems)
    for column in NEEDED:
        if column not in answer.filled:
            problems.append(answer.problem(column, "nothing", _wanted(column)))
    ends = _ends(answer, names, problems)
    entry: dict[str, Any] = {
        "id": _id(answer, taken),
        "circuit": answer.circuit,
        **ends,
        "size": size_text(answer.size) if answer.size else "",
        "colour": answer.colour.code if answer.colour else "",
        "insulation": answer.insulation.name if answer.insulation else UNSAID_INSULATION,
        **_conductor(answer, problems),
    }
    if answer.length:
        entry["length"] = answer.length
    if answer.worn:
        entry["condition"] = answer.worn
    note = _note(answer)
    if note:
        entry["note"] = note
    return entry, _doubts(answer, entry)


def _wanted(column: str) -> str:
    if column == "circuit_found":
        return f"what it is for, one of: {', '.join(circuits())}"
    return WANTED[column]


def _refuse_what_does_not_fit(answer: FormLine, problems: list[Problem]) -> None:
    if answer.present in (NO, ELSEWHERE):
        found = f"'{answer.present}' on a wire that is not in the profile"
        problems.append(answer.problem("present", found, "yes, or an empty line"))
    if answer.marked:
        found = quoted(answer.marked)
        problems.append(answer.problem("marked", found, "nothing: write it under note"))
    if answer.use_measured and answer.conductor is not Conductor.RESISTANCE:
        found = "yes on a wire that is not said to be a resistance wire"
        expected = "resistance wire under conductor_found, or nothing"
        problems.append(answer.problem("use_measured", found, expected))


def _ends(answer: FormLine, names: TerminalNames, problems: list[Problem]) -> dict[str, str]:
    ends = {}
    for column, key, written in (
        ("from_found", "from", answer.start),
        ("to_found", "to", answer.end),
    ):
        ref = names.find(written) if written else None
        if written and ref is None:
            problems.append(answer.problem(column, *names.refusal(written)))
        ends[key] = str(ref) if ref else ""
    if ends["from"] and ends["from"] == ends["to"]:
        problems.append(answer.problem("to_found", "both ends on one terminal", "two terminals"))
    return ends


def _conductor(answer: FormLine, problems: list[Problem]) -> dict[str, str]:
    if answer.conductor in (None, Conductor.COPPER):
        return {}
    entry = {"conductor": str(answer.conductor)}
    if answer.conductor is Conductor.RESISTANCE:
        reading = answer.measured
        is_ohms = reading is not None and reading.dimension is Dimension.RESISTANCE
        if not is_ohms or reading is None or not 0 < reading.value < float("inf"):
            found = "a resistance wire without its ohms"
            problems.append(answer.problem("measured", found, "its ohms, e.g. 1.35 ohm"))
        else:
            entry["resistance"] = reading.text
    return entry


def _id(answer: FormLine, taken: Collection[str]) -> str:
    """`found-1`, the next that is free."""
    numbers = (f"found-{number}" for number in count(1))
    return next(name for name in numbers if name not in taken)


def _note(answer: FormLine) -> str:
    is_ohms = answer.conductor is Conductor.RESISTANCE
    measured = f"Measured: {answer.measured.text}." if answer.measured and not is_ohms else ""
    return " ".join(filter(None, (measured, answer.note)))


def _doubts(answer: FormLine, entry: dict[str, Any]) -> list[str]:
    doubts = []
    if answer.insulation is None:
        words = f"insulation not said; {UNSAID_INSULATION} stands for it"
        doubts.append(f"{answer.called}: {words}")
    if not answer.length:
        doubts.append(
            f"{answer.called}: written as '{entry['id']}'; length not measured, it "
            "follows from the routes"
        )
    if Condition.BURNT in answer.worn:
        doubts.append(f"{answer.called}: burnt; find the cause before it is joined again")
    return doubts
