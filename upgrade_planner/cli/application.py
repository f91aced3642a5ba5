"""The application that commands register themselves with."""

import typer

HELP = """
Plan an ignition or charging upgrade of an old vehicle, wire by wire.

BEFORE and AFTER are configurations: shipped ones ('upgrade-planner list') or TOML files of your
own. Start with:

    upgrade-planner start
    upgrade-planner worksheet van_original_resistance van_upgraded -o sheet.pdf

No sheet is a certificate of safety. Local codes, the maker's service manual and licensed practice
come first.
"""

app = typer.Typer(
    help=HELP,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)
