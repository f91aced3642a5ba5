"""The command that gives a shop its files."""

from pathlib import Path
from typing import Annotated

import typer

from upgrade_planner.cli.application import app
from upgrade_planner.cli.parameters import Progress, Replace
from upgrade_planner.cli.saying import say


@app.command()
def shop(
    folder: Annotated[
        Path, typer.Option("-o", "--output", metavar="FOLDER", help="Folder to write.")
    ] = Path("shop"),
    replace: Replace = False,
) -> None:
    """
    Copy a shop's files, to put your own figures in.

    They hold prices, rates, taxes, terms and working times of an invented shop.

    kit and quote take the folder with --shop; a settings file or UPGRADE_PLANNER_SHOP names it
    once for all. The file columns.txt says what each column of the price list means.

    Example: upgrade-planner shop -o my_shop
    """
    from upgrade_planner.jobs import shop as job

    with Progress() as progress:
        progress.say("copying")
        written = job.shop(folder, replace=replace)
    for path in written:
        say(str(path))
    say(f"Put your own figures in, then: upgrade-planner quote … --shop {folder}")
