"""
The command line: parse, call, print.

Every command is one library call plus printing.
"""

from typing import Annotated

import typer

from upgrade_planner import __version__
from upgrade_planner.cli import (
    as_found,
    catalogue,
    describing,
    drawing,
    inspecting,
    kitting,
    planning,
    quoting,
    targeting,
)
from upgrade_planner.cli.application import app
from upgrade_planner.cli.parameters import DONE
from upgrade_planner.cli.running import run

COMMANDS = (
    planning,
    drawing,
    kitting,
    quoting,
    inspecting,
    as_found,
    catalogue,
    describing,
    targeting,
)
"""Modules whose commands the application offers, in the order of the help."""


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"upgrade-planner {__version__}")
        raise typer.Exit(DONE)


@app.callback()
def _common(
    version: Annotated[
        bool,
        typer.Option("--version", callback=_version, is_eager=True, help="Show the version."),
    ] = False,
) -> None:
    pass


def main() -> None:
    """Runs the command line; see `running` for the exit codes."""
    run(app)
