"""
Reads a configuration by name or path: its own file, what it is based on, vehicle and systems.

All faults of all files that could be read are reported together.
"""

import os
from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import Any, TypeVar

from attrs import evolve

from upgrade_planner.configuration.composing.assembling import Parts, composed
from upgrade_planner.configuration.composing.superseded import Superseded, replaced_choices
from upgrade_planner.configuration.files.faults import Fault, Sources, nearest, quoted, shown
from upgrade_planner.configuration.files.loaded import ANY, EVERYTHING, Gaps, Loaded, sound
from upgrade_planner.configuration.files.positions import Origin
from upgrade_planner.configuration.files.shipped import UnknownProfile, find_profile, shipped_folder
from upgrade_planner.configuration.files.toml_files import TomlFile, read_what_can_be_read
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.configuration.structuring.entries import (
    FORMAT,
    ConfigurationFile,
    SystemFile,
    VehicleFile,
    WireEntry,
)
from upgrade_planner.configuration.structuring.hooks import structured_as_far_as_possible
from upgrade_planner.configuration.tables.wire_csv import wires_from_csv
from upgrade_planner.errors import ConfigurationError, PlannerError, Problem, SeveralErrors

F = TypeVar("F", VehicleFile, SystemFile, ConfigurationFile)
W = TypeVar("W", VehicleFile, SystemFile)

Chain = tuple[tuple[str, ConfigurationFile], ...]
"""A configuration and all it is based on, the base first, each with its file."""

Choices = dict[str, tuple[str, str]]
"""Slot to (name of its system, file that chose it)."""

Systems = dict[str, tuple[str, str, SystemFile]]
"""Slot to (system name, file, content)."""

KEPT_PROFILES = 200
"""Profiles that stay in memory once they are read: a target is tried again and again, and what it
is based on stays the same. A number of our own."""

LARGEST_KEPT_BYTES = 100_000
"""A larger profile is read each time. A number of our own, three times the largest shipped one."""

_TABLES = {VehicleFile: "vehicle", SystemFile: "system", ConfigurationFile: "configuration"}


def load_configuration(name: str) -> Configuration:
    """
    The configuration that `name` means: a shipped one, or a TOML file.

    Raises:
        UnknownProfile: no such file or shipped configuration.
        ConfigurationError: one or more files are faulty; holds every problem found.
    """
    return sound(_configuration(find_profile("configuration", name)))


def load_configurations(*names: str) -> tuple[Configuration, ...]:
    """
    Several configurations; what is wrong with any of them is reported together.

    Raises:
        UnknownProfile: one name is no file or shipped configuration, the others are sound.
        ConfigurationError: one or more files are faulty; holds every problem found.
        SeveralErrors: both of these.
    """
    loaded: list[Configuration] = []
    failures: list[PlannerError] = []
    for name in names:
        try:
            loaded.append(load_configuration(name))
        except (UnknownProfile, ConfigurationError) as error:
            failures.append(error)
    if len(failures) == 1:
        raise failures[0]
    faulty = [failure for failure in failures if isinstance(failure, ConfigurationError)]
    if failures and len(faulty) == len(failures):
        raise ConfigurationError([problem for failure in faulty for problem in failure.problems])
    if failures:
        raise SeveralErrors(failures)
    return tuple(loaded)


def load_vehicle(name: str) -> tuple[str, VehicleFile]:
    """
    A vehicle by name or path, before systems fill its slots: the name of its file, its content.

    Raises:
        UnknownProfile: no such file or shipped vehicle.
        ConfigurationError: the file is faulty.
    """
    return sound(_profile(find_profile("vehicle", name), VehicleFile))


def load_profiles_of(name: str) -> tuple[VehicleFile, Mapping[str, SystemFile]]:
    """
    What a configuration is put together from: its vehicle, and the systems by their slots.

    Raises:
        UnknownProfile: no such file or shipped configuration.
        ConfigurationError: a file is faulty.
    """
    chain = sound(_chain(find_profile("configuration", name)))
    _, vehicle = sound(_vehicle(chain))
    systems = sound(_systems(_chosen(chain)))
    return vehicle, {slot: content for slot, (_, _, content) in systems.items()}


def load_system(name: str) -> tuple[str, SystemFile]:
    """
    A system by name or path, before it is put into a vehicle: the name of its file, its content.

    Raises:
        UnknownProfile: no such file or shipped system.
        ConfigurationError: the file is faulty.
    """
    return sound(_profile(find_profile("system", name), SystemFile))


def _configuration(path: Path) -> Loaded[Configuration | None]:
    """The configuration of a file, or None if there are faults."""
    chain = _chain(path)
    if not chain.content:
        return chain.giving(None)
    chosen = _chosen(chain.content)
    vehicle = _vehicle(chain.content)
    systems = _systems(chosen)
    if vehicle.content is None:
        return Loaded(None).after(chain, vehicle, systems)
    superseded = _superseded(chain.content)
    parts = Parts(
        name=Path(chain.content[-1][0]).stem,
        chain=chain.content,
        vehicle_name=Path(vehicle.content[0]).stem,
        vehicle_file=vehicle.content[0],
        vehicle=vehicle.content[1],
        systems=systems.content,
        named_in={slot: file for slot, (_, file) in chosen.items()},
        superseded=superseded.content,
    )
    read = Loaded(parts).after(chain, vehicle, systems, superseded)
    return composed(parts, read.gaps).after(read)


def _chain(path: Path, above: tuple[Path, ...] = ()) -> Loaded[Chain]:
    """The configuration and all it is based on, as far as that can be read."""
    read = _read(path, ConfigurationFile)
    if read.content is None:
        told = [_asked_for(problem, above) for problem in read.problems]
        return Loaded((), gaps=EVERYTHING).after(evolve(read, problems=tuple(told)))
    file, content = read.content
    own = ((file.name, content),)
    seen = (*above, path)
    base = _base(file, content, seen).after(read)
    if base.content is None:
        return base.giving(own)
    rest = _chain(base.content, seen)
    return rest.giving((*rest.content, *own)).after(base)


def _asked_for(problem: Problem, above: tuple[Path, ...]) -> Problem:
    """The same problem of a base; it says which file is based on it."""
    if not above:
        return problem
    return replace(problem, expected=f"{problem.expected}; {above[-1]} is based on this file")


def _base(
    file: TomlFile, content: ConfigurationFile, seen: tuple[Path, ...]
) -> Loaded[Path | None]:
    """The file that a configuration is based on, unless it is in the chain already."""
    rootless = _without_one_root(file)
    base = content.configuration.based_on
    if rootless is not None or base is None:
        return rootless or Loaded(None)
    at = Origin(file.name, ("configuration", "based_on"))
    found = _find("configuration", base, at)
    if found.content is None:
        return found
    same = [path for path in seen if path.resolve() == found.content.resolve()]
    if not same:
        return found
    circle = [*seen[seen.index(same[0]) :], found.content]
    words = f"a circle: {' → '.join(path.stem for path in circle)}"
    expected = "a configuration that is not based on this one"
    return Loaded(None, (Fault(at, "based_on", words, expected),))


def _without_one_root(file: TomlFile) -> Loaded[None] | None:
    """What is to be said of a file that names not exactly one of vehicle and base."""
    header = file.data.get("configuration")
    if not isinstance(header, dict):
        return Loaded(None, gaps=EVERYTHING)
    given = [key for key in ("vehicle", "based_on") if key in header]
    if len(given) == 1:
        return None
    found = "both vehicle and based_on" if given else "neither vehicle nor based_on"
    at = Origin(file.name, ("configuration", *given[1:]))
    return Loaded(None, (Fault(at, "configuration", found, "one of the two"),), EVERYTHING)


def _vehicle(chain: Chain) -> Loaded[tuple[str, VehicleFile] | None]:
    """The vehicle that the configuration at the bottom of the chain names."""
    file, root = chain[0]
    name = root.configuration.vehicle
    if name is None:
        return Loaded(None)
    found = _find("vehicle", name, Origin(file, ("configuration", "vehicle")))
    return (
        _profile(found.content, VehicleFile).after(found) if found.content else found.giving(None)
    )


def _chosen(chain: Chain) -> Choices:
    """The system of each slot, and the last file that names it."""
    return {slot: (name, file) for file, content in chain for slot, name in content.systems.items()}


def _systems(chosen: Choices) -> Loaded[Systems]:
    """The systems that are chosen, as far as they can be read."""
    systems: Systems = {}
    steps: list[Loaded[None]] = []
    for slot, (name, file) in sorted(chosen.items()):
        found = _find("system", name, Origin(file, ("systems", slot)))
        steps.append(found.giving(None))
        read = _profile(found.content, SystemFile) if found.content else Loaded(None)
        if read.content is None:
            missing = Gaps.of_any("role", "wire") | Gaps.of_any("slot", name=slot)
            steps += [read.giving(None), Loaded(None, gaps=missing)]
        else:
            systems[slot] = (Path(name).stem, *read.content)
            steps.append(read.giving(None))
    return Loaded(systems).after(*steps)


def _superseded(chain: Chain) -> Loaded[dict[str, Superseded]]:
    """What each file of the chain says of systems that a later one replaces."""
    void: dict[str, Superseded] = {}
    steps = []
    for file, choices in replaced_choices(chain).items():
        systems = _systems(choices)
        steps.append(systems)
        for _, _, system in systems.content.values():
            void[file] = void.get(file, Superseded()) | Superseded.by_replacing(system)
    return Loaded(void).after(*steps)


def _find(kind: str, name: str, at: Origin) -> Loaded[Path | None]:
    """The file that a name in another file means."""
    try:
        return Loaded(find_profile(kind, name, beside=Path(at.file)))
    except UnknownProfile as error:
        return Loaded(None, (Fault(at, str(at.path[-1]), error.found, error.expected),))


def _profile(path: Path, cls: type[W]) -> Loaded[tuple[str, W] | None]:
    """The name of a file and its sound part, with the wires of its CSV file if it names one."""
    read = _read(path, cls)
    if read.content is None:
        return read.giving(None)
    file, content = read.content
    return _with_listed_wires(file, content).after(read)


def _with_listed_wires(file: TomlFile, content: W) -> Loaded[tuple[str, W]]:
    listed: Loaded[tuple[WireEntry, ...]] = _wires_beside(file, content.wiring.csv)
    wiring = evolve(content.wiring, wires=(*content.wiring.wires, *listed.content))
    return Loaded((file.name, evolve(content, wiring=wiring))).after(listed)


def _read(path: Path, cls: type[F]) -> Loaded[tuple[TomlFile, F] | None]:
    """A file and its sound part; None if nothing of it can be used. It is read once."""
    state = _state_of(path)
    if state is None:
        return _read_anew(path, cls)
    once: Loaded[tuple[TomlFile, F] | None] = _read_once(path, _TABLES[cls], state)
    return once


def _state_of(path: Path) -> tuple[int, int, int] | bytes | None:
    """By what a file is known again: a shipped one by its date, another by all that it says."""
    try:
        if not path.is_file() or path.stat().st_size > LARGEST_KEPT_BYTES:
            return None
        if not path.is_relative_to(shipped_folder("profiles")):
            return path.read_bytes()
        there = path.stat()
        return there.st_mtime_ns, there.st_size, there.st_ino
    except (OSError, ValueError):  # to be told by who reads it
        return None


@lru_cache(KEPT_PROFILES)
def _read_once(path: Path, table: str, state: tuple[int, int, int] | bytes) -> Any:
    (cls,) = (cls for cls, name in _TABLES.items() if name == table)
    return _read_anew(path, cls)


def _read_anew(path: Path, cls: type[F]) -> Loaded[tuple[TomlFile, F] | None]:
    file, problems = read_what_can_be_read(path)
    if file is None:
        return Loaded(None, problems=tuple(problems))
    other = _other_profile(file, cls)
    if other:
        expected = f"a {_TABLES[cls]}, with a table [{_TABLES[cls]}]"
        problems.append(Problem(file=file.name, found=f"a {other}", expected=expected))
        sources = Sources({file.name: file.text})
        return Loaded(None, problems=tuple(problems), sources=sources)
    foreign = _foreign_format(file, _TABLES[cls])
    if foreign is not None:  # its other keys may mean something else
        sources = Sources({file.name: file.text})
        return Loaded(None, (foreign,), problems=tuple(problems), sources=sources)
    entry = structured_as_far_as_possible(cls, file)
    content = None if entry.content is None else (file, entry.content)
    return entry.giving(content).after(Loaded(None, problems=tuple(problems)))


def _foreign_format(file: TomlFile, table: str) -> Fault | None:
    """What is to be said of a file that is written in a format which is not read here."""
    header = file.data.get(table)
    given = header.get("format", FORMAT) if isinstance(header, dict) else FORMAT
    is_number = isinstance(given, int) and not isinstance(given, bool)
    if is_number and given == FORMAT:
        return None
    found = str(given) if is_number else shown(given)
    expected = f"{FORMAT}, the format that is read here"
    return Fault(Origin(file.name, (table, "format")), "format", found, expected)


def _wires_beside(file: TomlFile, csv: str | None) -> Loaded[tuple[WireEntry, ...]]:
    """The wires of the CSV file that a profile names."""
    if csv is None:
        return Loaded(())
    path = file.path.parent / csv
    if os.path.exists(path):  # false, not an error, for a name too long
        return wires_from_csv(path)
    found = f"{quoted(csv)}, a file that is not there"
    near = nearest(path.name, [item.name for item in path.parent.glob("*.csv")])
    expected = f"'{near}'?" if near else "a CSV file of wires"
    at = Origin(file.name, ("wiring", "csv"))
    return Loaded((), (Fault(at, "csv", found, expected),), Gaps.of_any("wire", name=ANY))


def _other_profile(file: TomlFile, cls: type) -> str:
    """What a file is, if it is plainly another profile than wanted."""
    others = [table for table in _TABLES.values() if table in file.data and table != _TABLES[cls]]
    return others[0] if others and _TABLES[cls] not in file.data else ""
