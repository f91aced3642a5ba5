"""The shipped profiles and the ready upgrades on the screen and as data."""

from itertools import groupby
from typing import TYPE_CHECKING

from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from upgrade_planner.configuration.files.headers import header_of
from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.documents.shared.data_text import data_text
from upgrade_planner.documents.terminal.console import console
from upgrade_planner.documents.terminal.list_shapes import CATALOGUE, PAIRS, SYSTEMS
from upgrade_planner.documents.terminal.spoken import said
from upgrade_planner.library.listing import catalogue, listed

if TYPE_CHECKING:
    from rich.console import Console

    from upgrade_planner.library.collected import Library

NEXT = {
    "what one becomes": "list --from NAME",
    "find yours": "list --charging dynamo --ground positive",
    "ready upgrades": "list --pairs",
    "systems": "list --systems",
    "describe your own vehicle": "describe -o my_car.toml",
}
"""What a person may want next, and the words for it behind the program's name."""


def catalogue_json(library: "Library") -> str:
    """The catalogue as JSON text, configurations with their traits."""
    from upgrade_planner.documents.terminal.finds import traits_data  # slow to import

    traits = {one.name: traits_data(one.traits) for one in library.shipped}
    rows = [item._asdict() for item in catalogue()]
    for row in rows:
        if row["kind"] == "configuration":
            row["traits"] = traits.get(row["name"])
    return data_text(CATALOGUE, {"profiles": rows})


def print_catalogue(english: str = "") -> None:
    """The vehicles with their configurations below them, and what to do next."""
    out, shipped = console(), catalogue()
    configurations = [item for item in shipped if item.kind == "configuration"]
    out.print(f"{len(configurations)} configurations of these vehicles; next:")
    for aim, command in NEXT.items():
        out.print(f"  {aim}: upgrade-planner {command}", soft_wrap=True)
    for vehicle in shipped:
        if vehicle.kind == "vehicle":
            out.print()
            out.print(Text(said(f"{vehicle.title} ({vehicle.name})", english), style="bold"))
            ours = (one for one in configurations if one.belongs_to == vehicle.name)
            _print_titles(out, [(one.name, said(one.title, english)) for one in ours])
    for one in configurations:
        if not one.belongs_to:
            out.print(f"{one.name}: {said(f'{one.title}: {one.summary}', english)}")


def _print_titles(out: "Console", rows: list[tuple[str, str]]) -> None:
    shown = Table.grid(padding=(0, 2))
    shown.add_column(no_wrap=True)  # a name in two pieces cannot be copied
    shown.add_column()
    for name, title in rows:
        shown.add_row(Text(name), Text(title))
    if rows:
        out.print(Padding(shown, (0, 0, 0, 2)))


def print_systems(english: str = "") -> None:
    """The systems by slot."""
    out = console()
    shown = [item for item in catalogue() if item.kind == "system"]
    out.print("What fits a vehicle: upgrade-planner list --fits VEHICLE", soft_wrap=True)
    for slot, systems in groupby(shown, key=lambda item: item.belongs_to):
        out.print()
        out.print(Text(slot or "faulty", style="bold"))
        titles = ((one.name, one.title.removeprefix(f"{slot}: ")) for one in systems)
        _print_titles(out, [(name, said(title, english)) for name, title in titles])


def systems_json() -> str:
    """The systems as JSON text."""
    systems = [item._asdict() for item in catalogue() if item.kind == "system"]
    return data_text(SYSTEMS, {"systems": systems})


def print_pairs(english: str = "") -> None:
    """The ready upgrades by vehicle: what is done, and the command for the work sheet."""
    from upgrade_planner.library.pairs import ready_pairs  # slow, seldom needed

    out, vehicles = console(), shipped_profiles("vehicle")
    for family, pairs in groupby(ready_pairs(), key=lambda pair: pair.family):
        title = listed("vehicle", family, {family: header_of("vehicle", vehicles[family])}).title
        out.print(Text(said(title, english), style="bold"))
        for pair in pairs:
            out.print(Padding(Text(said(pair.title, english)), (0, 0, 0, 2)))
            command = f"    upgrade-planner worksheet {pair.before} {pair.after}"
            out.print(command, soft_wrap=True)
        out.print()


def pairs_json() -> str:
    """The ready upgrades as JSON text."""
    from upgrade_planner.library.pairs import ready_pairs  # slow, seldom needed

    return data_text(PAIRS, {"pairs": [pair._asdict() for pair in ready_pairs()]})
