"""
Reads a configuration by name or path: its own file, what it is based on, vehicle and systems.

All faults of all files that could be read are reported together.
"""

import os
from pathlib import Path
from typing import TypeVar

from attrs import evolve

from upgrade_planner.configuration.composing.assembling import Parts, composed
from upgrade_planner.configuration.composing.superseded import Superseded, replaced_choices
from upgrade_planner.configuration.files.faults import Fault, Sources, nearest, quoted
from upgrade_planner.configuration.files.shipped import UnknownProfile, find_profile
from upgrade_planner.configuration.files.texts import TomlFile, read_what_can_be_read
from upgrade_planner.configuration.model import Configuration, Origin
from upgrade_planner.configuration.structuring.entries import (
    ConfigurationFile,
    SystemFile,
    VehicleFile,
)
from upgrade_planner.configuration.structuring.hooks import structured_as_far_as_possible
from upgrade_planner.configuration.structuring.salvage import ANY, EVERYTHING, Gaps
from upgrade_planner.configuration.tables.wire_csv import WireTable, wires_from_csv
from upgrade_planner.errors import ConfigurationError, PlannerError, Problem

F = TypeVar("F", VehicleFile, SystemFile, ConfigurationFile)
W = TypeVar("W", VehicleFile, SystemFile)

Chain = tuple[tuple[str, ConfigurationFile], ...]
"""A configuration and all it is based on, the base first, each with its file."""

Systems = dict[str, tuple[str, str, SystemFile]]
"""Slot to (system name, file, content)."""

_SORTS = {VehicleFile: "vehicle", SystemFile: "system", ConfigurationFile: "configuration"}


def load_configuration(name: str) -> Configuration:
    """
    The configuration that `name` means: a shipped one, or a TOML file.

    Raises:
        UnknownProfile: no such file or shipped configuration.
        ConfigurationError: one or more files are faulty; holds every problem found.
    """
    reader = _Reader()
    configuration = reader.configuration(find_profile("configuration", name))
    problems = reader.all_problems()
    if configuration is None or problems:
        raise ConfigurationError(problems)
    return configuration


def load_configurations(*names: str) -> tuple[Configuration, ...]:
    """
    Several configurations; what is wrong with any of them is reported together.

    Raises:
        UnknownProfile: one name is no file or shipped configuration, the others are sound.
        ConfigurationError: one or more files are faulty; holds every problem found.
        PlannerError: both of these; its text says all.
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
        raise PlannerError("\n".join(dict.fromkeys(map(str, failures))))
    return tuple(loaded)


def load_vehicle(name: str) -> tuple[str, VehicleFile]:
    """
    A vehicle by name or path, before systems fill its slots: the name of its file, its content.

    Raises:
        UnknownProfile: no such file or shipped vehicle.
        ConfigurationError: the file is faulty.
    """
    return _Reader().alone("vehicle", name, VehicleFile)


def load_system(name: str) -> tuple[str, SystemFile]:
    """
    A system by name or path, before it is put into a vehicle: the name of its file, its content.

    Raises:
        UnknownProfile: no such file or shipped system.
        ConfigurationError: the file is faulty.
    """
    return _Reader().alone("system", name, SystemFile)


class _Reader:
    """Collects faults, problems and gaps while files lead to files."""

    def __init__(self) -> None:
        self._sources = Sources()
        self._faults: list[Fault] = []
        self._problems: list[Problem] = []
        self._gaps = Gaps()

    def all_problems(self) -> list[Problem]:
        """Everything that was found so far, with line and column."""
        return self._problems + [self._sources.problem(fault) for fault in self._faults]

    def alone(self, kind: str, name: str, cls: type[W]) -> tuple[str, W]:
        """One vehicle or system, sound, without what it will be joined to."""
        read = self._read(find_profile(kind, name), cls)
        content = None if read is None else self._with_csv(*read)
        problems = self.all_problems()
        if read is None or content is None or problems:
            raise ConfigurationError(problems)
        return read[0].name, content

    def configuration(self, path: Path) -> Configuration | None:
        """The configuration of a file, or None if there are problems."""
        chain = self._chain(path)
        if not chain:
            return None
        chosen = {
            slot: (name, file) for file, content in chain for slot, name in content.systems.items()
        }
        vehicle = self._vehicle(chain)
        systems = self._systems(chosen)
        if vehicle is None:
            return None
        configuration, faults = composed(
            Parts(
                name=Path(chain[-1][0]).stem,
                chain=chain,
                vehicle_name=Path(vehicle[0]).stem,
                vehicle_file=vehicle[0],
                vehicle=vehicle[1],
                systems=systems,
                named_in={slot: file for slot, (_, file) in chosen.items()},
                superseded=self._superseded(chain),
            ),
            self._gaps,
        )
        self._faults += _with_hints(faults, systems)
        return configuration

    def _chain(self, path: Path) -> Chain:
        """The configuration and all it is based on, as far as that can be read."""
        chain: Chain = ()
        seen: list[Path] = []
        following: Path | None = path
        while following is not None:
            seen.append(following)
            read = self._read(following, ConfigurationFile)
            if read is None:
                self._gaps |= EVERYTHING
                return chain
            file, content = read
            chain = ((file.name, content), *chain)
            has_one_root = self._has_one_root(file)
            following = self._base(file, content, seen) if has_one_root else None
        return chain

    def _base(self, file: TomlFile, content: ConfigurationFile, seen: list[Path]) -> Path | None:
        """The file that a configuration is based on, unless it is in the chain already."""
        base = content.configuration.based_on
        if base is None:
            return None
        key = ("configuration", "based_on")
        found = self._find("configuration", base, file.name, key)
        if found is None:
            return None
        same = [path for path in seen if path.resolve() == found.resolve()]
        if same:
            circle = [*seen[seen.index(same[0]) :], found]
            words = f"a circle: {' → '.join(path.stem for path in circle)}"
            expected = "a configuration that is not based on this one"
            self._faults.append(Fault(Origin(file.name, key), "based_on", words, expected))
            return None
        return found

    def _has_one_root(self, file: TomlFile) -> bool:
        header = file.data.get("configuration")
        if not isinstance(header, dict):
            self._gaps |= EVERYTHING
            return False
        given = [key for key in ("vehicle", "based_on") if key in header]
        if len(given) == 1:
            return True
        self._gaps |= EVERYTHING
        found = "both vehicle and based_on" if given else "neither vehicle nor based_on"
        at = Origin(file.name, ("configuration", *given[1:]))
        self._faults.append(Fault(at, "configuration", found, "one of the two"))
        return False

    def _vehicle(self, chain: Chain) -> tuple[str, VehicleFile] | None:
        """The vehicle that the configuration at the bottom of the chain names."""
        file, root = chain[0]
        name = root.configuration.vehicle
        key = ("configuration", "vehicle")
        path = None if name is None else self._find("vehicle", name, file, key)
        read = self._read(path, VehicleFile) if path else None
        return None if read is None else (read[0].name, self._with_csv(*read))

    def _systems(self, chosen: dict[str, tuple[str, str]]) -> Systems:
        systems = {}
        for slot, (name, file) in sorted(chosen.items()):
            path = self._find("system", name, file, ("systems", slot))
            read = self._read(path, SystemFile) if path else None
            if read is None:
                missing = {("slot", slot), ("role", ANY), ("wire", ANY)}
                self._gaps |= Gaps(frozenset(missing))
            else:
                systems[slot] = (Path(name).stem, read[0].name, self._with_csv(*read))
        return systems

    def _superseded(self, chain: Chain) -> dict[str, Superseded]:
        """What each file of the chain says of systems that a later one replaces."""
        found: dict[str, Superseded] = {}
        for file, choices in replaced_choices(chain).items():
            for system in self._systems(choices).values():
                found[file] = found.get(file, Superseded()) | Superseded.by_replacing(system[2])
        return found

    def _find(self, kind: str, name: str, file: str, key: tuple[str, str]) -> Path | None:
        """The file that a name in another file means."""
        try:
            return find_profile(kind, name, beside=Path(file))
        except UnknownProfile as error:
            at = Origin(file, key)
            self._faults.append(Fault(at, key[-1], error.found, error.expected))
            return None

    def _read(self, path: Path, cls: type[F]) -> tuple[TomlFile, F] | None:
        """The sound part of a file; None if nothing of it can be used."""
        file, problems = read_what_can_be_read(path)
        self._problems += problems
        if file is None:
            return None
        self._sources.add_text(file.name, file.text)
        other = _other_sort(file, cls)
        if other:
            expected = f"a {_SORTS[cls]}, with a table [{_SORTS[cls]}]"
            problem = Problem(file=file.name, found=f"a {other}", expected=expected)
            self._problems.append(problem)
            return None
        entry, faults, gaps = structured_as_far_as_possible(cls, file)
        self._faults += faults
        self._gaps |= gaps
        return None if entry is None else (file, entry)

    def _with_csv(self, file: TomlFile, content: W) -> W:
        """The same profile with the wires of its CSV file, if it names one."""
        name = content.wiring.csv
        if name is None:
            return content
        path = file.path.parent / name
        if not os.path.exists(path):  # false, not an error, for a name too long
            at = Origin(file.name, ("wiring", "csv"))
            found = f"{quoted(name)}, a file that is not there"
            near = nearest(path.name, [item.name for item in path.parent.glob("*.csv")])
            expected = f"'{near}'?" if near else "a CSV file of wires"
            self._faults.append(Fault(at, "csv", found, expected))
            self._gaps |= Gaps(frozenset({("wire", ANY)}))
            return content
        table: WireTable = wires_from_csv(path)
        self._sources.add_places(table.name, table.spans)
        self._problems += table.problems
        self._faults += table.faults
        self._gaps |= table.gaps
        wiring = evolve(content.wiring, wires=(*content.wiring.wires, *table.wires))
        return evolve(content, wiring=wiring)


def _with_hints(faults: list[Fault], systems: Systems) -> list[Fault]:
    """The same faults; where a shipped system does not fit, they name vehicles that it fits."""
    if not faults:
        return faults
    from upgrade_planner.configuration.fitting import with_fitting_vehicles  # reads by this module

    return with_fitting_vehicles(faults, {name: file for name, file, _ in systems.values()})


def _other_sort(file: TomlFile, cls: type) -> str:
    """What a file is, if it is plainly another sort of profile than wanted."""
    others = [sort for sort in _SORTS.values() if sort in file.data and sort != _SORTS[cls]]
    return others[0] if others and _SORTS[cls] not in file.data else ""
