"""The shipped profiles and the ready upgrades on the screen and as data."""

from itertools import groupby
from typing import TYPE_CHECKING

from upgrade_planner.configuration.files.headers import header_of
from upgrade_planner.configuration.files.shipped import PROFILE_FOLDERS, shipped_profiles
from upgrade_planner.documents.shared.data_text import json_text
from upgrade_planner.documents.terminal.console import console, table
from upgrade_planner.library.listing import catalogue, listed

if TYPE_CHECKING:
    from upgrade_planner.library.collected import Library


def catalogue_json(library: "Library") -> str:
    """The catalogue as JSON text, configurations with their traits."""
    from upgrade_planner.documents.terminal.finds import traits_data  # slow to import

    traits = {one.name: traits_data(one.traits) for one in library.shipped}
    rows = [item._asdict() for item in catalogue()]
    for row in rows:
        if row["kind"] == "configuration":
            row["traits"] = traits.get(row["name"])
    return json_text(rows)


def print_catalogue() -> None:
    """The catalogue as tables."""
    out, shipped = console(), catalogue()
    for kind in PROFILE_FOLDERS:
        rows = [(item.name, item.title) for item in shipped if item.kind == kind]
        out.print(table(f"{kind}s", ("name", "title"), rows))
        out.print()
    out.print("Show one: upgrade-planner show NAME. Copy one to edit: show NAME -o my.toml")
    out.print("Ready upgrades in plain words: upgrade-planner list --pairs")
    out.print("Find one: list --charging dynamo. Describe your own vehicle: describe -o my.toml")


def print_pairs() -> None:
    """The ready upgrades by vehicle: what is done, and the two names for the work sheet."""
    from upgrade_planner.library.pairs import ready_pairs  # slow, seldom needed

    out, vehicles = console(), shipped_profiles("vehicle")
    for family, pairs in groupby(ready_pairs(), key=lambda pair: pair.family):
        title = listed("vehicle", family, {family: header_of("vehicle", vehicles[family])}).title
        out.print(title, style="bold")
        for pair in pairs:
            out.print(f"  {pair.title}")
            out.print(f"    worksheet {pair.before} {pair.after}", soft_wrap=True)
        out.print()


def pairs_json() -> str:
    """The ready upgrades as JSON text."""
    from upgrade_planner.library.pairs import ready_pairs  # slow, seldom needed

    rows = [pair._asdict() for pair in ready_pairs()]
    return json_text(rows)
