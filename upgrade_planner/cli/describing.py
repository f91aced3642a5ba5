"""The command that asks a person about a vehicle and writes its configuration."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from upgrade_planner.cli.application import app
from upgrade_planner.cli.parameters import Progress, Replace
from upgrade_planner.errors import PlannerError

if TYPE_CHECKING:
    from upgrade_planner.jobs.describe import Described
    from upgrade_planner.library.answer_files import AnswerFile
    from upgrade_planner.library.proposing import Proposal
    from upgrade_planner.library.questions import Answers


class BrokenOff(PlannerError):
    """The person, or the end of the input, ended the questions."""


@app.command()
def describe(
    output: Annotated[
        Path, typer.Option("-o", "--output", help="Configuration to write, .toml.")
    ] = Path("my_vehicle.toml"),
    answers: Annotated[
        Path | None, typer.Option("--answers", help="File with the answers; nothing is asked.")
    ] = None,
    questions: Annotated[
        Path | None, typer.Option("--questions", help="Write a file of answers to fill in.")
    ] = None,
    replace: Replace = False,
) -> None:
    """
    Describe your own vehicle by answering questions; get a configuration to start from.

    An empty answer means "not known", ? shows more help, back goes to the question before.

    Example: upgrade-planner describe -o my_car.toml

    Example: upgrade-planner describe --questions answers.toml
    """
    from upgrade_planner.jobs.describe import require_free

    if questions is not None:
        _write_questions(questions, replace=replace)
        return
    require_free(output, replace=replace)
    if answers is not None:
        from upgrade_planner.library.answer_files import load_answers

        described = _described_by_file(output, load_answers(answers))
    else:
        described = _described_by_questions(output)
    _say_what_was_written(described)


def _write_questions(target: Path, *, replace: bool) -> None:
    from upgrade_planner.documents.shared.writing import write_whole
    from upgrade_planner.jobs.describe import require_free
    from upgrade_planner.library.answer_files import answers_template

    require_free(target, replace=replace)
    write_whole(target, answers_template().encode())
    typer.echo(f"{target}: fill it in, then: upgrade-planner describe --answers {target} -o …")


def _proposals(answers: "Answers") -> "tuple[Proposal, ...]":
    from upgrade_planner.library.collected import load_library
    from upgrade_planner.library.proposing import proposals
    from upgrade_planner.library.questions import wanted_of

    with Progress() as progress:
        library = load_library(progress.say)
        if not library.shipped:
            raise PlannerError("describe: found no sound shipped configuration to start from")
        return proposals(wanted_of(answers), library, progress.say)


def _described_by_file(target: Path, file: "AnswerFile") -> "Described":
    from upgrade_planner.documents.terminal.proposals import print_proposals
    from upgrade_planner.jobs import describe as job

    found = _proposals(file.answers)
    print_proposals(found)
    named = (one for one in found if one.name == file.based_on and not one.is_combination)
    shipped = tuple(one for one in found if not one.is_combination)
    return job.describe(target, next(named, found[0]), shipped, file.answers)


def _described_by_questions(target: Path) -> "Described":
    from upgrade_planner.cli.dialogue import Dialogue
    from upgrade_planner.jobs import describe as job

    if sys.stdin is None or sys.stdin.closed:
        raise PlannerError(
            "standard input: found it closed; expected a terminal, or --answers FILE"
        )
    try:
        answers, chosen, found = Dialogue(_proposals).hold()
    except (typer.Abort, KeyboardInterrupt, EOFError) as error:
        raise BrokenOff("\ndescribe: broken off, nothing was written") from error
    shipped = tuple(one for one in found if not one.is_combination)
    return job.describe(target, chosen, shipped, answers)


def _say_what_was_written(described: "Described") -> None:
    target, proposal = described.target, described.proposal
    for remark in described.remarks:
        typer.echo(remark, err=True)
    typer.echo(f"{target}: starts from {proposal.name}.")
    doubts, todo = len(described.doubts), len(proposal.match.differing)
    typer.echo(f"Not known: {doubts}. Not as on your vehicle: {todo}. Both stand at its top.")
    typer.echo(f"Next: open {target} in an editor and compare it with the vehicle, then")
    typer.echo(f"  upgrade-planner check {target}")
    typer.echo(f"  upgrade-planner list --from {target}")
