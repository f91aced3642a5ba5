"""One dialogue from nothing to printed papers; it goes on from the files that are there."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from upgrade_planner.cli.application import app
from upgrade_planner.cli.describing import BrokenOff, described_in_dialogue
from upgrade_planner.cli.parameters import (
    DANGER,
    English,
    Issued,
    Paper,
    PaperChoice,
    Progress,
    ShopFolder,
    Units,
    UnitsChoice,
    english_words,
)
from upgrade_planner.cli.saying import say
from upgrade_planner.cli.targeting import asked, say_what_was_written, typed
from upgrade_planner.errors import PlannerError
from upgrade_planner.jobs.issuing import date_of_issue

if TYPE_CHECKING:
    from upgrade_planner.jobs.start import StartRequest

YES = ("y", "yes")


@app.command()
def start(
    folder: Annotated[
        Path,
        typer.Option(
            "--folder", metavar="FOLDER", help="Where the files of the job lie, or shall lie."
        ),
    ] = Path("."),
    answers: Annotated[
        Path | None,
        typer.Option(
            "--answers", metavar="FILE", help="File with one answer a line; else it asks."
        ),
    ] = None,
    html: Annotated[bool, typer.Option("--html", help="Papers as HTML instead of PDF.")] = False,
    shop: ShopFolder = None,
    paper: Paper = PaperChoice.A4,
    units: Units = UnitsChoice.BOTH,
    english: English = None,
    date_: Issued = "",
) -> None:
    """
    Go from nothing to work sheet, kit list and quotation.

    It asks about the car, offers a form to take to it, asks what it shall be, and writes the
    papers.

    Every file is named when it is written. Leave at any question (Ctrl-C) and call it again: it
    goes on from the files that are there.

    Example: upgrade-planner start
    """
    suffix, words = ".html" if html else ".pdf", english_words(english)
    with _answers_from(answers):
        try:
            car = _described(folder, words)
            car = _looked_at(car, folder, suffix, words)
            target = _target(car, folder, words)
        except (typer.Abort, KeyboardInterrupt, EOFError) as error:
            text = "start: broken off; what is written stays, call it again to go on"
            raise BrokenOff(text) from error
    from upgrade_planner.jobs import start as job

    _papers(
        job.StartRequest(
            car=str(car),
            target=str(target),
            folder=folder,
            issued=date_of_issue(date_),
            suffix=suffix,
            shop=shop,
            paper=paper.value,
            units=units.value,
            english=words,
        )
    )


@contextmanager
def _answers_from(path: Path | None) -> Iterator[None]:
    """The answers of a file in place of the keyboard."""
    if path is None:
        yield
        return
    keyboard = sys.stdin
    try:
        with path.open(encoding="utf-8") as sys.stdin:
            yield
    except OSError as error:
        raise PlannerError(f"{path}: found no file of answers ({error.strerror})") from error
    finally:
        sys.stdin = keyboard


def _is_there(path: Path) -> bool:
    if path.exists():
        say(f"{path} is there: going on from it.")
    return path.exists()


def _described(folder: Path, english: str) -> Path:
    from upgrade_planner.jobs.start import CAR

    car = folder / CAR
    if not _is_there(car):
        say("1 of 4: your car as it is.")
        described = described_in_dialogue(car, english)
        doubts = len(described.doubts)
        say(f"{car}: your car, like {described.proposal.title}; not known: {doubts}, at its top.")
    return car


def _looked_at(car: Path, folder: Path, suffix: str, english: str) -> Path:
    """The car with what was found at it, if there is a filled form; else as described."""
    from upgrade_planner.jobs import record as recording
    from upgrade_planner.jobs import survey as surveying
    from upgrade_planner.jobs.start import FORM, FOUND

    found, form = folder / FOUND, folder / f"{FORM}{suffix}"
    if _is_there(found):
        return found
    if not form.exists():
        say("2 of 4: a form to take to the car shows what is really there.")
        if typed("Print it now, and go on when it is filled? y or n, empty = n").lower() in YES:
            request = surveying.SurveyRequest(
                configuration=str(car), target=form, issued=date_of_issue(""), english=english
            )
            surveying.survey(request)
            say(f"{form}: fill it at the car, then: upgrade-planner start")
            raise typer.Exit
        return car
    while True:
        name = typed("The filled form? Name of its file; empty = go on without")
        if not name:
            return car
        try:
            outcome = recording.record(str(car), folder / name, found)
        except PlannerError as error:
            say(str(error))
            continue
        say(f"{found}: {len(outcome.recorded.left)} answers left, they stand at its top")
        return found


def _target(car: Path, folder: Path, english: str) -> Path:
    """What the car shall be; asked until it is something that the car can be given."""
    from upgrade_planner.jobs import target as wishing
    from upgrade_planner.jobs.start import TARGET

    path = folder / TARGET
    while not _is_there(path):
        say("3 of 4: what it shall be.")
        words = wishing.english_of(str(car), english)
        wish = asked(str(car), folder, words)
        try:
            with Progress() as progress:
                made = wishing.target(str(car), wish, path, say=progress.say)
        except PlannerError as error:
            say(str(error))
            continue
        say_what_was_written(str(car), made, words)
        break
    return path


def _papers(request: "StartRequest") -> None:
    from upgrade_planner.jobs import start as job

    say("4 of 4: work sheet, kit list, quotation.")
    with Progress() as progress:
        made = job.start(request, progress.say)
    for remark in made.remarks:
        say(remark)
    say(f"Written: {', '.join(map(str, made.files))}")
    if made.has_danger:
        say("A danger finding stands in the target: see page one.", err=True)
        raise typer.Exit(DANGER)
