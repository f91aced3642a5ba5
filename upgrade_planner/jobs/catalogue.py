"""The shipped profiles and the ready upgrades, listed."""

import json
from collections.abc import Mapping
from itertools import groupby
from typing import TYPE_CHECKING

from attrs import asdict, frozen

from upgrade_planner.configuration.files.headers import Header, ancestry, header_of
from upgrade_planner.configuration.files.shipped import PROFILE_FOLDERS, shipped_profiles
from upgrade_planner.documents.terminal.console import console, table
from upgrade_planner.errors import ConfigurationError
from upgrade_planner.library.pairs import ready_pairs

if TYPE_CHECKING:
    from upgrade_planner.library.collected import Library


@frozen(kw_only=True)
class Listed:
    """
    One shipped profile.

    Attributes:
        belongs_to: Slot of a system, vehicle of a configuration; "" for a vehicle.
    """

    kind: str
    name: str
    title: str
    summary: str
    belongs_to: str = ""


def catalogue() -> tuple[Listed, ...]:
    """All shipped profiles by kind: vehicles, systems by slot, configurations by vehicle."""
    found: list[Listed] = []
    for kind in PROFILE_FOLDERS:
        headers: dict[str, Header] = {}
        for name, path in shipped_profiles(kind).items():
            try:
                headers[name] = header_of(kind, path)
            except ConfigurationError as error:  # one faulty file must not hide the others
                told = str(error).splitlines()[0]
                found.append(Listed(kind=kind, name=name, title="faulty", summary=told))
        found += [_listed(kind, name, headers) for name in headers]
    kinds = list(PROFILE_FOLDERS)
    return tuple(sorted(found, key=lambda i: (kinds.index(i.kind), i.belongs_to, i.name)))


def _listed(kind: str, name: str, headers: Mapping[str, Header]) -> Listed:
    header = headers[name]
    title, belongs_to = str(header.get("title") or header.get("name", "")), ""
    if kind == "configuration":
        chain = ancestry(name, headers)
        belongs_to = str(headers[chain[-1]]["vehicle"]) if chain else ""
    elif kind == "system":
        belongs_to = str(header.get("slot", ""))
        title = f"{belongs_to}: {title}"
    summary = str(header.get("summary", ""))
    return Listed(kind=kind, name=name, title=title, summary=summary, belongs_to=belongs_to)


def catalogue_json(listed: tuple[Listed, ...], library: "Library") -> str:
    """The catalogue as JSON text, configurations with their traits."""
    from upgrade_planner.documents.terminal.finds import traits_data

    traits = {one.name: traits_data(one.traits) for one in library.shipped}
    rows = [asdict(item) for item in listed]
    for row in rows:
        if row["kind"] == "configuration":
            row["traits"] = traits.get(row["name"])
    return json.dumps(rows, indent=1, ensure_ascii=False) + "\n"


def print_catalogue(listed: tuple[Listed, ...]) -> None:
    """The catalogue as tables."""
    out = console()
    for kind in PROFILE_FOLDERS:
        rows = [(item.name, item.title) for item in listed if item.kind == kind]
        out.print(table(f"{kind}s", ("name", "title"), rows))
        out.print()
    out.print("Show one: upgrade-planner show NAME. Copy one to edit: show NAME -o my.toml")
    out.print("Ready upgrades in plain words: upgrade-planner list --pairs")
    out.print("Find one: list --charging dynamo. Describe your own vehicle: describe -o my.toml")


def print_pairs() -> None:
    """The ready upgrades by vehicle: what is done, and the two names for the work sheet."""
    out, vehicles = console(), shipped_profiles("vehicle")
    for family, pairs in groupby(ready_pairs(), key=lambda pair: pair.family):
        title = _listed("vehicle", family, {family: header_of("vehicle", vehicles[family])}).title
        out.print(title, style="bold")
        for pair in pairs:
            out.print(f"  {pair.title}")
            out.print(f"    worksheet {pair.before} {pair.after}", soft_wrap=True)
        out.print()


def pairs_json() -> str:
    """The ready upgrades as JSON text."""
    rows = [asdict(pair) for pair in ready_pairs()]
    return json.dumps(rows, indent=1, ensure_ascii=False) + "\n"
