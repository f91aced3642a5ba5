"""The application that commands register themselves with, and the help that lists them by use."""

from collections.abc import Callable, Iterator
from copy import copy
from typing import Any

import typer
from typer.core import TyperCommand, TyperGroup

from upgrade_planner.cli.as_typed import AsTyped

HELP = """
Plan an ignition or charging upgrade of an old vehicle, wire by wire.

BEFORE and AFTER are configurations: shipped ones ('upgrade-planner list') or TOML files of your
own. Several AFTER are stages of one job, in their order. Start with one of these:

    upgrade-planner start

    upgrade-planner worksheet van_as_found van_upgraded -o sheet.pdf

No sheet is a certificate of safety. Local codes, the maker's service manual and licensed practice
come first.
"""

GROUPS = (
    ("Your car", ("start", "describe", "survey", "record", "target")),
    ("Library", ("list", "show")),
    ("Look before you work", ("check", "readings", "compare")),
    ("Papers for the work", ("worksheet", "drawings")),
    ("Counter and office", ("kit", "quote", "accept", "invoice", "shop")),
)
"""Every command, by what one wants, in the order in which a job meets them."""

INDENTS = 6
"""Characters around the first column of a list in help."""


class CommandsByUse(AsTyped, TyperGroup):
    """A group that lists its commands as `GROUPS` has them."""

    def list_commands(self, ctx: Any) -> list[str]:
        """Names of all commands; completion and suggestions use the same order."""
        return [name for _, names in GROUPS for name in names]

    def format_commands(self, ctx: Any, formatter: Any) -> None:
        """Writes one section a group, all with the same width of the first column."""
        widest = max(map(len, self.list_commands(ctx)))
        for title, names in GROUPS:
            with formatter.section(title):
                formatter.write_dl(list(self._lines(ctx, names, widest, formatter)))

    def _lines(
        self, ctx: Any, names: tuple[str, ...], widest: int, formatter: Any
    ) -> Iterator[tuple[str, str]]:
        for name in names:
            command = self.get_command(ctx, name)
            if command is not None:
                room = formatter.width - widest - INDENTS
                yield name.ljust(widest), command.get_short_help_str(room)


class PlainCommand(AsTyped, TyperCommand):
    """A command whose help names its arguments in capitals, whatever the version of typer."""

    def collect_usage_pieces(self, ctx: Any) -> list[str]:
        """What stands behind the name of the command in the line of usage."""
        return ["[OPTIONS]", *(one.metavar for one in _arguments(self.get_params(ctx)))]

    def format_options(self, ctx: Any, formatter: Any) -> None:
        """Writes the arguments, then the options."""
        params = self.get_params(ctx)
        arguments = [(one.metavar, one.help) for one in _arguments(params)]
        options = [
            record
            for one in params
            if one.param_type_name == "option"
            for record in [one.get_help_record(ctx)]
            if record
        ]
        for title, lines in (("Arguments", arguments), ("Options", options)):
            if lines:
                with formatter.section(title):
                    formatter.write_dl(lines)


def _arguments(params: list[Any]) -> list[Any]:
    return [one for one in params if one.param_type_name == "argument"]


class Application(typer.Typer):
    """An application whose commands are plain ones."""

    def command(self, name: str | None = None, **settings: Any) -> Callable[..., Any]:
        """A decorator that registers a function as a command."""
        return super().command(name, **{"cls": PlainCommand, **settings})

    def for_command(self, name: str) -> "Application":
        """
        The application with one of its commands alone; with all, where none has this name.

        Typer makes every command ready before it looks which is meant, a fifth of the time of
        its own import.
        """
        found = [one for one in self.registered_commands if _name_of(one) == name]
        alone = copy(self)
        alone.registered_commands = found or self.registered_commands
        return alone


def _name_of(command: Any) -> str:
    return str(command.name or command.callback.__name__)


app = Application(
    help=HELP,
    cls=CommandsByUse,
    context_settings={"help_option_names": ["-h", "--help"]},
    add_completion=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)
