"""All shipped profiles, by what their headers say."""

from collections.abc import Mapping
from typing import NamedTuple

from upgrade_planner.configuration.files.headers import Header, ancestry, header_of
from upgrade_planner.configuration.files.shipped import PROFILE_FOLDERS, shipped_profiles
from upgrade_planner.errors import ConfigurationError


class Listed(NamedTuple):
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
        found += [listed(kind, name, headers) for name in headers]
    kinds = list(PROFILE_FOLDERS)
    return tuple(sorted(found, key=lambda i: (kinds.index(i.kind), i.belongs_to, i.name)))


def listed(kind: str, name: str, headers: Mapping[str, Header]) -> Listed:
    """One profile of a kind as listed, from the headers of all of that kind by name."""
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
