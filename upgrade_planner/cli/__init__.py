"""
The command line: parse, call, print.

Every command is one library call plus printing. Exit codes: 0 done; 1 done, but a danger finding
stands in the target; 2 bad input or a target that cannot be written.
"""

import os
import sys
from typing import Annotated

import typer

from upgrade_planner import __version__
from upgrade_planner.cli import (
    as_found,
    catalogue,
    describing,
    inspecting,
    kitting,
    planning,
    quoting,
)
from upgrade_planner.cli.application import app
from upgrade_planner.cli.options import BAD_INPUT, DONE
from upgrade_planner.errors import PlannerError

COMMANDS = (planning, kitting, quoting, inspecting, as_found, catalogue, describing)
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
    """Runs the command line; every error on purpose becomes text and exit code 2."""
    try:
        app()
    except PlannerError as error:
        from upgrade_planner.library.fitting import with_fitting_vehicles

        typer.echo(str(with_fitting_vehicles(error)), err=True)
        sys.exit(BAD_INPUT)
    except BrokenPipeError:  # the reader of a pipe has gone: not a fault
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(DONE)
