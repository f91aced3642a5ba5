"""One profile to be shown, or copied for editing: the calls behind `show`."""

import os
from pathlib import Path

from upgrade_planner.configuration.files.faults import nearest
from upgrade_planner.configuration.files.shipped import (
    PROFILE_FOLDERS,
    UnknownProfile,
    find_profile,
    shipped_profiles,
)
from upgrade_planner.configuration.files.toml_files import read_toml
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.configuration.tables.csv_files import csv_bytes
from upgrade_planner.configuration.tables.wire_csv import wires_to_csv
from upgrade_planner.documents.shared.writing import NotWritten, require_target, write_whole
from upgrade_planner.electrical.sizing import load_sized


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


def show(name: str) -> Configuration | str:
    """
    A configuration, by shipped name or path; of a vehicle or system its text.

    Raises:
        UnknownProfile: no shipped profile and no file of that name.
        ConfigurationError: its file is faulty.
    """
    kind, path = kind_and_path(name)
    return load_sized(name)[0] if kind == "configuration" else read_toml(path).text


def schema(name: str) -> str:
    """
    The JSON Schema of a format as text.

    Raises:
        PlannerError: no such format.
    """
    from upgrade_planner.documents.schemas.named import schema_text  # slow, seldom needed

    return schema_text(name)


def schema_copied(name: str, target: Path) -> str:
    """
    Writes the JSON Schema of a format.

    Returns:
        What was written, and how an editor comes to use it, in one line.

    Raises:
        PlannerError: no such format, or the file cannot be written.
    """
    text = schema(name)
    require_target(target, (".json",))
    write_whole(target, text.encode())
    if name not in PROFILE_FOLDERS:
        return f"{target}: the schema of {name}"
    return f"{target}: an editor checks a {name} whose first line is '#:schema {target.name}'"


def copied(name: str, target: Path, *, replace: bool = False) -> str:
    """
    Writes a profile as TOML, or the wires of a configuration as CSV.

    Returns:
        What was written, in one line.

    Raises:
        NotWritten: another suffix, a file that is there already and may not be replaced, or a
            target that cannot be written.
    """
    kind, path = kind_and_path(name)
    suffixes = (".toml", ".csv")
    if kind != "configuration" and target.suffix.lower() == ".csv":
        raise NotWritten(
            f"{target}: found '{name}', which is a {kind}; expected .toml, or a configuration, for "
            "only its wires fill a spreadsheet ('upgrade-planner list')"
        )
    require_target(target, suffixes, inputs=[path], is_edited=True, replace=replace)
    if target.suffix.lower() == ".csv":
        configuration = load_configuration(name)
        write_whole(target, csv_bytes(wires_to_csv(configuration)), is_edited=True)
        return f"{target}: {len(configuration.wires)} wires"
    write_whole(target, read_toml(path).text.encode())
    return f"{target}: a copy of the {kind} {path.stem}; edit it and use its file name"
