"""The shipped profiles: listed, shown, copied for editing."""

import json
import os
from collections.abc import Mapping
from itertools import groupby
from pathlib import Path
from typing import Any

from attrs import asdict, frozen

from upgrade_planner.configuration.files.shipped import (
    PROFILE_FOLDERS,
    UnknownProfile,
    find_profile,
    shipped_profiles,
)
from upgrade_planner.configuration.files.texts import read_toml
from upgrade_planner.configuration.reading import load_configuration
from upgrade_planner.configuration.tables.csv_files import csv_bytes
from upgrade_planner.configuration.tables.wire_csv import wires_to_csv
from upgrade_planner.documents.shared.writing import NotWritten, write_whole
from upgrade_planner.documents.terminal.finds import traits_data
from upgrade_planner.documents.terminal.screens import console, print_configuration, table
from upgrade_planner.errors import ConfigurationError
from upgrade_planner.library.collected import Library
from upgrade_planner.library.fitting import shipped_uses
from upgrade_planner.library.pairs import ready_pairs


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
    vehicles = {use.configuration: use.vehicle for use in shipped_uses()}
    listed = (
        _listed(kind, name, path, vehicles)
        for kind in PROFILE_FOLDERS
        for name, path in shipped_profiles(kind).items()
    )
    kinds = list(PROFILE_FOLDERS)
    return tuple(sorted(listed, key=lambda i: (kinds.index(i.kind), i.belongs_to, i.name)))


def _listed(kind: str, name: str, path: Path, vehicles: Mapping[str, str]) -> Listed:
    try:
        header: dict[str, Any] = read_toml(path).data.get(kind, {})
    except ConfigurationError as error:  # one faulty file must not hide the others
        return Listed(kind=kind, name=name, title="faulty", summary=str(error).splitlines()[0])
    title = str(header.get("title") or header.get("name", ""))
    belongs_to = vehicles.get(name, "") if kind == "configuration" else ""
    if kind == "system":
        belongs_to = str(header.get("slot", ""))
        title = f"{belongs_to}: {title}"
    summary = str(header.get("summary", ""))
    return Listed(kind=kind, name=name, title=title, summary=summary, belongs_to=belongs_to)


def catalogue_json(listed: tuple[Listed, ...], library: Library) -> str:
    """The catalogue as JSON text, configurations with their traits."""
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
    out = console()
    for family, pairs in groupby(ready_pairs(), key=lambda pair: pair.family):
        title = _listed("vehicle", family, shipped_profiles("vehicle")[family], {}).title
        out.print(title, style="bold")
        for pair in pairs:
            out.print(f"  {pair.title}")
            out.print(f"    worksheet {pair.before} {pair.after}", soft_wrap=True)
        out.print()


def pairs_json() -> str:
    """The ready upgrades as JSON text."""
    rows = [asdict(pair) for pair in ready_pairs()]
    return json.dumps(rows, indent=1, ensure_ascii=False) + "\n"


def kind_and_path(name: str) -> tuple[str, Path]:
    """
    What sort of profile `name` is, and its file.

    Raises:
        UnknownProfile: no shipped profile and no file of that name.
    """
    for kind in ("configuration", "vehicle", "system"):
        if name in shipped_profiles(kind):
            return kind, shipped_profiles(kind)[name]
    every = {n: p for kind in PROFILE_FOLDERS for n, p in shipped_profiles(kind).items()}
    path = find_profile("configuration", name) if _is_file(name) else None
    if path is None:
        from upgrade_planner.configuration.files.faults import nearest

        guess = nearest(name, every)
        hint = f" (did you mean '{guess}'?)" if guess else ""
        raise UnknownProfile(
            f"'{name}', which is neither a file nor a shipped profile{hint}",
            "a name that 'upgrade-planner list' shows",
        )
    data = read_toml(path).data
    return next((kind for kind in PROFILE_FOLDERS if kind in data), "configuration"), path


def _is_file(name: str) -> bool:
    return os.path.exists(os.path.expanduser(name))  # false, not an error, for any odd name


def show_profile(name: str, units: str) -> None:
    """A configuration as tables; a vehicle or system as its text, to be read or copied."""
    kind, path = kind_and_path(name)
    if kind == "configuration":
        from upgrade_planner.electrical.sizing import load_sized

        print_configuration(load_sized(name)[0], units)
    else:
        console().print(read_toml(path).text, soft_wrap=True)


def copy_profile(name: str, target: Path) -> str:
    """
    Writes a profile as TOML, or the wires of a configuration as CSV.

    Returns:
        What was written, in one line.

    Raises:
        NotWritten: another suffix, or a target that cannot be written.
    """
    kind, path = kind_and_path(name)
    suffix = target.suffix.lower()
    if suffix == ".csv" and kind == "configuration":
        configuration = load_configuration(name)
        write_whole(target, csv_bytes(wires_to_csv(configuration)))
        return f"{target}: {len(configuration.wires)} wires"
    if suffix != ".toml":
        wanted = ".toml or .csv" if kind == "configuration" else ".toml"
        raise NotWritten(f"{target}: found the suffix '{suffix}'; expected {wanted}")
    write_whole(target, read_toml(path).text.encode())
    return f"{target}: a copy of the {kind} {path.stem}; edit it and use its file name"
