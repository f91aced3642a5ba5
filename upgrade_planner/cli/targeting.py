"""The command that turns the car as it is into the car as its owner wishes it."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from upgrade_planner.cli.application import app
from upgrade_planner.cli.parameters import (
    English,
    Progress,
    Replace,
    configuration_argument,
    english_words,
)
from upgrade_planner.cli.saying import say
from upgrade_planner.errors import PlannerError

if TYPE_CHECKING:
    from upgrade_planner.jobs.target import Wish, WishedCar

LIST = "?"
"""In place of a system: show what there is for the slot."""


def _system(slot: str) -> Any:
    """An option that names a system for a slot."""

    def names(incomplete: str) -> list[str]:
        from upgrade_planner.jobs.completing import systems_from

        return systems_from(incomplete, slot)

    return typer.Option(
        metavar="SYSTEM",
        help="System: its name, words of it, or ? for what fits.",
        autocompletion=names,
    )


@app.command()
def target(
    car: Annotated[str, configuration_argument("CAR", "The car as it is")],
    output: Annotated[
        Path,
        typer.Option("-o", "--output", metavar="FILE", help="Configuration to write, .toml."),
    ] = Path("my_target.toml"),
    ignition: Annotated[str, _system("ignition")] = "",
    charging: Annotated[str, _system("charging")] = "",
    starting: Annotated[str, _system("starting")] = "",
    indicator: Annotated[str, _system("indicator")] = "",
    lighting: Annotated[str, _system("lighting")] = "",
    cooling: Annotated[str, _system("cooling")] = "",
    fuel: Annotated[str, _system("fuel")] = "",
    isolator: Annotated[str, _system("isolator")] = "",
    ground: Annotated[
        str, typer.Option(metavar="POST", help="Grounded post: negative or positive.")
    ] = "",
    voltage: Annotated[
        str, typer.Option(metavar="VOLTS", help="System voltage: 6, 12 or 24.")
    ] = "",
    amperes: Annotated[
        str,
        typer.Option(
            "--output-current",
            metavar="CURRENT",
            help="Rated output of a new charging machine: 42 A.",
        ),
    ] = "",
    replace: Replace = False,
    english: English = None,
) -> None:
    """
    Write what your car shall be, from the car as it is.

    What you wish comes with all that it asks. Everything of yours stays: lengths, lamps, colours.
    Without options it asks. A wish that would bring a danger or a warning that the car has not is
    refused, with its reason.

    Example: upgrade-planner target van_as_found --ignition integral -o my_target.toml

    Example: upgrade-planner target van_as_found --charging "?"
    """
    from upgrade_planner.jobs import target as job

    systems = {
        "ignition": ignition,
        "charging": charging,
        "starting": starting,
        "indicator": indicator,
        "lighting": lighting,
        "cooling": cooling,
        "fuel": fuel,
        "isolator": isolator,
    }
    given = {slot: text.strip() for slot, text in systems.items() if text.strip()}
    listed = [slot for slot, text in given.items() if text == LIST]
    wish = job.wish_of(
        {slot: text for slot, text in given.items() if text != LIST},
        ground=ground,
        voltage=voltage,
        amperes=amperes,
    )
    words = job.english_of(car, english_words(english))
    for slot in listed:
        show_choices(car, slot, wish, output.parent, words)
    if listed:
        return
    job.require_wishable(car, output, replace=replace)
    if wish == job.Wish():
        wish = asked(car, output.parent, words)
    with Progress() as progress:
        made = job.target(car, wish, output, replace=replace, say=progress.say)
    say_what_was_written(car, made, words)


def show_choices(car: str, slot: str, wish: "Wish", folder: Path, english: str) -> list[str]:
    """Prints what fits a slot, numbered, and what does not; gives the names in that order."""
    from upgrade_planner.documents.terminal.wishes import choice_lines
    from upgrade_planner.jobs import target as job

    with Progress() as progress:
        found = tuple(job.choices(car, slot, wish, folder, progress.say))
    for line in choice_lines(slot, found, english):
        say(line)
    return [one.system for one in found if not one.missing and not one.is_there]


def asked(car: str, folder: Path, english: str) -> "Wish":
    """
    The wish, asked slot by slot.

    Args:
        car: The car as it is.
        folder: Where the target shall lie.
        english: `us` or `uk`.

    Raises:
        PlannerError: nobody is there to answer.
    """
    from upgrade_planner.jobs import target as job

    if sys.stdin is None or sys.stdin.closed:
        raise PlannerError("target: found nothing wished; expected --ignition, --ground, …")
    slots = job.slots_in(car)
    say("What shall change? Empty = it stays, ? = what fits. On your car now:")
    for slot, title in slots.items():
        say(f"  {slot}: {title or 'empty'}", english=english)
    wish = _turned("Another voltage (6, 12, 24)?", "voltage", job.Wish(), english)
    wish = _turned("Another ground (negative, positive)?", "ground", wish, english)
    while True:
        slot = typed(f"What shall change ({', '.join(slots)})? Empty = no more").lower()
        if not slot:
            return wish
        if slot not in slots:
            say(f"  found '{slot[:40]}'; expected one of: {', '.join(slots)}")
            continue
        names = show_choices(car, slot, wish, folder, english)
        wish = _with_choice(wish, slot, names, english)


def _turned(question: str, key: str, wish: "Wish", english: str) -> "Wish":
    """The wish with another voltage or ground, if one is answered."""
    from upgrade_planner.jobs import target as job

    while True:
        text = typed(f"{question} Empty = it stays", english)
        words = {"voltage": "", "ground": "", key: text}
        try:
            return job.wish_turned(wish, **words)
        except PlannerError as error:
            say(f"  {error}")


def _with_choice(wish: "Wish", slot: str, names: list[str], english: str) -> "Wish":
    from upgrade_planner.jobs import target as job

    while names:
        text = typed(f"Which one for {slot}? 1 to {len(names)}; empty = it stays")
        if not text:
            return wish
        if text.isascii() and text.isdigit() and 1 <= int(text) <= len(names):
            return job.with_system(wish, slot, names[int(text) - 1])
        meant = job.systems_meant(text, names)
        if len(meant) == 1:
            return job.with_system(wish, slot, meant[0])
        for name in meant or names:
            say(f"  {names.index(name) + 1:2} {job.title_of(name)}", english=english)
    return wish


def typed(question: str, english: str = "") -> str:
    """An answer, without spaces too many."""
    say(question, english=english)
    text: str = typer.prompt(">", default="", show_default=False, prompt_suffix=" ")
    return " ".join(text.split())


def say_what_was_written(car: str, made: "WishedCar", english: str) -> None:
    """The file, what it changes, what is still to be decided, and the next command."""
    say(f"{made.target}: {'; '.join(made.changes)}.")
    for ask, first, other in made.decisions:
        say(f"DECIDE: {ask}\n  1 {first}\n  2 {other}", english=english)
    say(f"Next: upgrade-planner worksheet {car} {made.target} -o sheet.pdf")
