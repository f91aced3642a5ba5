"""Commands about the library of profiles: what there is, and copies to edit."""

from pathlib import Path
from typing import Annotated

import typer

from upgrade_planner.cli.application import app
from upgrade_planner.cli.options import Units, UnitsChoice


@app.command("list")
def list_profiles(
    as_json: Annotated[bool, typer.Option("--json", help="As data instead of a table.")] = False,
) -> None:
    """
    List the shipped vehicles, systems and configurations.

    Example: upgrade-planner list
    """
    from upgrade_planner.documents.catalogue import catalogue, catalogue_json, print_catalogue

    if as_json:
        typer.echo(catalogue_json(catalogue()), nl=False)
    else:
        print_catalogue(catalogue())


@app.command()
def show(
    name: Annotated[str, typer.Argument(help="Configuration, vehicle or system: name or file.")],
    output: Annotated[
        Path | None,
        typer.Option("-o", "--output", help="Copy: .toml the profile to edit, .csv its wires."),
    ] = None,
    units: Units = UnitsChoice.BOTH,
) -> None:
    """
    Show a profile, or copy it to a file of your own.

    Example: upgrade-planner show van_as_found -o my_van.toml
    """
    from upgrade_planner.documents.catalogue import copy_profile, show_profile

    if output is None:
        show_profile(name, units.value)
    else:
        typer.echo(copy_profile(name, output))
