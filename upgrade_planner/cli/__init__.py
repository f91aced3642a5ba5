"""
The command line: parse, call, print.

Every command is one library call plus printing.
"""

import sys
from typing import Annotated, Any

import typer

from upgrade_planner import __version__
from upgrade_planner.cli import (
    as_found,
    billing,
    catalogue,
    describing,
    drawing,
    inspecting,
    kitting,
    planning,
    quoting,
    shopping,
    starting,
    targeting,
)
from upgrade_planner.cli.application import app
from upgrade_planner.cli.parameters import BAD_INPUT, DONE
from upgrade_planner.cli.running import run
from upgrade_planner.cli.settings import defaults

COMMANDS = (
    planning,
    drawing,
    kitting,
    quoting,
    billing,
    inspecting,
    as_found,
    catalogue,
    describing,
    targeting,
    starting,
    shopping,
)
"""Modules whose commands the application offers; the help lists them by use."""


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"upgrade-planner {__version__}")
        raise typer.Exit(DONE)


@app.callback(invoke_without_command=True)
def _common(
    context: typer.Context,
    version: Annotated[
        bool,
        typer.Option("--version", callback=_version, is_eager=True, help="Show the version."),
    ] = False,
) -> None:
    commands: Any = context.command
    context.default_map = dict.fromkeys(commands.list_commands(context), defaults())
    if context.invoked_subcommand is not None:
        return
    if sys.stdin is not None and sys.stdin.isatty():
        begin = commands.get_command(context, "start")
        with begin.make_context("start", [], parent=context) as inner:
            begin.invoke(inner)
    else:
        typer.echo(context.get_help())
        raise typer.Exit(BAD_INPUT)


def main() -> None:
    """Runs the command line; see `running` for the exit codes."""
    run(app.for_command("".join(sys.argv[1:2])))
