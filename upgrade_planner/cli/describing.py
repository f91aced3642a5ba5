"""The command that asks a person about a vehicle and writes its configuration."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from upgrade_planner.cli.application import app
from upgrade_planner.cli.parameters import English, Progress, Replace, english_words
from upgrade_planner.cli.saying import say, say_command
from upgrade_planner.errors import PlannerError

if TYPE_CHECKING:
    from upgrade_planner.jobs.describe import Answers, Described, Proposal


class BrokenOff(PlannerError):
    """The person, or the end of the input, ended the questions."""


@app.command()
def describe(
    output: Annotated[
        Path,
        typer.Option("-o", "--output", metavar="FILE", help="Configuration to write, .toml."),
    ] = Path("my_vehicle.toml"),
    answers: Annotated[
        Path | None,
        typer.Option("--answers", metavar="FILE", help="File with the answers; nothing is asked."),
    ] = None,
    questions: Annotated[
        Path | None,
        typer.Option("--questions", metavar="FILE", help="Write a file of answers to fill in."),
    ] = None,
    replace: Replace = False,
    english: English = None,
) -> None:
    """
    Answer questions about your vehicle; get its file.

    An empty answer means "not known", ? shows more help, back goes to the question before.

    Example: upgrade-planner describe -o my_car.toml

    Example: upgrade-planner describe --questions answers.toml
    """
    from upgrade_planner.jobs import describe as job

    if questions is not None:
        job.write_questions(questions, replace=replace)
        say(f"{questions}: fill it in, then: upgrade-planner describe --answers {questions} -o …")
        return
    job.require_free(output, replace=replace)
    words = english_words(english)
    if answers is None:
        _say_what_was_written(described_in_dialogue(output, words), words)
    else:
        _say_what_was_written(_described_by_file(output, answers, words), words)


def _proposals(answers: "Answers") -> "tuple[Proposal, ...]":
    from upgrade_planner.jobs import describe as job

    with Progress() as progress:
        return job.proposals_for(answers, progress.say)


def _described_by_file(target: Path, answers: Path, english: str) -> "Described":
    from upgrade_planner.documents.terminal.proposals import print_proposals
    from upgrade_planner.jobs import describe as job

    file = job.load_answers(answers)
    found = _proposals(file.answers)
    print_proposals(found, english)
    named = (one for one in found if one.name == file.based_on and not one.is_combination)
    return job.describe(target, next(named, found[0]), found, file.answers)


def described_in_dialogue(target: Path, english: str = "") -> "Described":
    """
    Asks about the vehicle and writes its file.

    Args:
        target: File to write.
        english: `us` or `uk`; "" as it is written, for no vehicle is known yet.

    Raises:
        BrokenOff: the person, or the end of the input, ended the questions.
    """
    from upgrade_planner.cli.dialogue import Dialogue
    from upgrade_planner.jobs import describe as job

    if sys.stdin is None or sys.stdin.closed:
        raise PlannerError(
            "standard input: found it closed; expected a terminal, or --answers FILE"
        )
    try:
        answers, chosen, found = Dialogue(_proposals, english).hold()
    except (typer.Abort, KeyboardInterrupt, EOFError) as error:
        raise BrokenOff("\ndescribe: broken off, nothing was written") from error
    return job.describe(target, chosen, found, answers)


def _say_what_was_written(described: "Described", english: str) -> None:
    target, proposal = described.target, described.proposal
    for remark in described.remarks:
        say(remark, err=True, english=english)
    say(f"{target}: starts from {proposal.name}.")
    doubts, todo = len(described.doubts), len(proposal.match.differing)
    converted = f" Converted, not seen: {len(described.converted)}." if described.converted else ""
    say(
        f"Not known: {doubts}. Not as on your vehicle: {todo}.{converted} All of it stands at its "
        "top."
    )
    say("Next: print the form, take it to the vehicle and compare; or choose at once.")
    say_command(f"upgrade-planner survey {target} -o form.pdf")
    say_command(f"upgrade-planner target {target}")
