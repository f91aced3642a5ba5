"""Writes what a person saw of a vehicle as a configuration, commented and proven to load."""

import tempfile
from collections.abc import Iterator
from pathlib import Path

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.profiles.described_changes import (
    converted_roles,
    has_no_fuses,
    overrides_of,
)
from upgrade_planner.documents.profiles.described_text import Attempt, described_text, doubts_of
from upgrade_planner.documents.shared.writing import require_target, write_whole
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.errors import PlannerError
from upgrade_planner.jobs.trial_file import SUFFIX, loader
from upgrade_planner.library import collected
from upgrade_planner.library.answer_files import AnswerFile, answers_template, load_answers
from upgrade_planner.library.collected import Say
from upgrade_planner.library.proposing import Proposal, proposals
from upgrade_planner.library.questions import (
    Answer,
    AnswerError,
    Answers,
    Question,
    completed,
    is_unknown,
    questions,
    read_answer,
    wanted_of,
)
from upgrade_planner.targets.settling import Settled, converted_car
from upgrade_planner.targets.wish_edits import Target

__all__ = [
    "Answer",
    "AnswerError",
    "AnswerFile",
    "Answers",
    "Described",
    "Proposal",
    "Question",
    "completed",
    "describe",
    "is_unknown",
    "load_answers",
    "proposals_for",
    "questions",
    "read_answer",
    "require_free",
    "write_questions",
]


@frozen(kw_only=True, eq=False)
class Described:
    """
    A configuration as written.

    Attributes:
        proposal: What it starts from.
        remarks: What went otherwise than asked for, a sentence each.
        doubts: Questions without a full answer.
        converted: Parts that were written for another voltage or ground, and not seen.
    """

    target: Path
    proposal: Proposal
    remarks: tuple[str, ...]
    doubts: tuple[str, ...]
    converted: tuple[str, ...]


def require_free(target: Path, *, replace: bool) -> None:
    """
    Says before the first question what would only come out after the last.

    Raises:
        NotWritten: another suffix, a folder, a missing folder, or a file that is there already.
    """
    require_target(target, (SUFFIX,), is_edited=True, replace=replace)


def proposals_for(answers: Answers, say: Say = lambda _: None) -> tuple[Proposal, ...]:
    """
    What a configuration may start from, the nearest first.

    Raises:
        PlannerError: no shipped configuration is sound.
    """
    library = collected.load_library(say)
    if not library.shipped:
        raise PlannerError("describe: found no sound shipped configuration to start from")
    return proposals(wanted_of(answers), library, say)


def write_questions(target: Path, *, replace: bool = False) -> None:
    """
    Writes a file of answers to fill in.

    Raises:
        NotWritten: the target cannot be written.
    """
    require_free(target, replace=replace)
    write_whole(target, answers_template().encode())


def describe(
    target: Path, chosen: Proposal, found: tuple[Proposal, ...], answers: Answers
) -> Described:
    """
    Writes the configuration that answers and a proposal make.

    A combination that does not load gives way to the nearest shipped configuration.

    Args:
        target: File to write.
        chosen: What to start from.
        found: All proposals, the nearest first.
        answers: What was seen.

    Raises:
        NotWritten: the target cannot be written.
        ConfigurationError: nothing of it loads; a fault of this program or of a shipped file.
    """
    remarks: list[str] = []
    shipped = [one for one in found if not one.is_combination]
    for start in (chosen, *(one for one in shipped[:1] if one is not chosen)):
        proposal = evolve(start, overrides=overrides_of(start, answers))
        for way in _ways_of_writing(proposal, answers):
            text = described_text(proposal, answers, way)
            failure = failure_of(text)
            if failure is None:
                write_whole(target, text.encode())
                return Described(
                    target=target,
                    proposal=start,
                    remarks=tuple(remarks),
                    doubts=tuple(question.ask for question in doubts_of(answers)),
                    converted=converted_roles(way.conversion),
                )
            remarks += [] if way.on_base else [_remark(proposal, way.ground, failure)]
    assert failure is not None
    raise failure


def failure_of(text: str) -> PlannerError | None:
    """Why a configuration does not load; None if it does."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"described{SUFFIX}"
        path.write_text(text, encoding="utf-8")
        try:
            load_sized(str(path))
        except PlannerError as error:
            return error
    return None


def _ways_of_writing(proposal: Proposal, answers: Answers) -> Iterator[Attempt]:
    """The ways to write a file, the best first."""
    for unfused in (True, False) if has_no_fuses(answers) else (False,):
        for ground, voltage, on_base in _turns(proposal, answers):
            way = Attempt(ground=ground, voltage=voltage, on_base=on_base, unfused=unfused)
            yield evolve(way, conversion=_conversion(proposal, answers, way))


def _conversion(proposal: Proposal, answers: Answers, way: Attempt) -> Settled | None:
    """What another ground or voltage asks of the described vehicle; None if nothing does."""
    if not way.ground and not way.voltage:
        return None
    volts = float(way.voltage) if way.voltage else None
    wish = Target(systems={}, voltage_v=volts, ground=way.ground)
    plain = described_text(proposal, answers, evolve(way, ground="", voltage=""))
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"described{SUFFIX}"
        path.write_text(plain, encoding="utf-8")
        try:
            (car,) = load_sized(str(path))
            with loader(car, str(path), path.parent) as load:
                return converted_car(wish, car, load)
        except PlannerError:
            return None  # the attempt itself says why it does not load


def _turns(proposal: Proposal, answers: Answers) -> Iterator[tuple[str, str, bool]]:
    """Ground and voltage to write, and whether upon the shipped configuration."""
    ground, voltage = _other_ground(proposal, answers), _other_voltage(proposal, answers)
    for one, other in dict.fromkeys(((ground, voltage), (ground, ""), ("", ""))):
        if proposal.is_combination:
            yield one, other, True
        yield one, other, False


def _other_voltage(proposal: Proposal, answers: Answers) -> str:
    """The system voltage, if the proposal has another one; "" if it is the same."""
    answer = answers.get("voltage")
    there = f"{proposal.configuration.vehicle.voltage_v:g}"
    return answer.ids[0] if answer and answer.ids[0] != there else ""


def _remark(proposal: Proposal, ground: str, failure: PlannerError) -> str:
    reason = str(failure).splitlines()[0].partition(": ")[2] or str(failure)
    what = f"{proposal.name} with {ground} ground" if ground else proposal.name
    return f"{what} does not load ({reason}); it was not used."


def _other_ground(proposal: Proposal, answers: Answers) -> str:
    """The grounded terminal, if the proposal has the other one; "" if it is the same."""
    answer = answers.get("ground")
    there = proposal.configuration.vehicle.ground
    return answer.ids[0] if answer and answer.ids[0] != there else ""
