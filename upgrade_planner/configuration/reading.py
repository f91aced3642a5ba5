"""
Reads a configuration by name or path: its own file, what it is based on, vehicle and systems.

All faults of all files that could be read are reported together.
"""

from pathlib import Path
from typing import TypeVar

from attrs import evolve

from upgrade_planner.configuration.composing import Parts, composed
from upgrade_planner.configuration.entries import (
    ConfigurationFile,
    SystemFile,
    VehicleFile,
)
from upgrade_planner.configuration.faults import Fault, located
from upgrade_planner.configuration.files import TomlFile, read_toml
from upgrade_planner.configuration.model import Configuration, Origin
from upgrade_planner.configuration.shipped import UnknownProfile, find_profile
from upgrade_planner.configuration.structuring import structured
from upgrade_planner.configuration.wire_csv import wires_from_csv
from upgrade_planner.errors import ConfigurationError, Problem

F = TypeVar("F", VehicleFile, SystemFile, ConfigurationFile)
W = TypeVar("W", VehicleFile, SystemFile)


def load_configuration(name: str) -> Configuration:
    """
    The configuration that `name` means: a shipped one, or a TOML file.

    Raises:
        UnknownProfile: no such file or shipped configuration.
        ConfigurationError: one or more files are faulty; holds every problem found.
    """
    reader = _Reader()
    configuration = reader.configuration(name)
    if configuration is None:
        raise ConfigurationError(reader.problems + located(reader.faults, reader.texts))
    return configuration


class _Reader:
    """Collects texts, faults and problems while files lead to files."""

    def __init__(self) -> None:
        self.texts: dict[str, str] = {}
        self.faults: list[Fault] = []
        self.problems: list[Problem] = []

    def configuration(self, name: str) -> Configuration | None:
        chain = self._chain(find_profile("configuration", name))
        if not chain:
            return None
        (_, root), (file, _) = chain[0], chain[-1]
        named = root.configuration.vehicle
        vehicle_file = self._vehicle(named, Path(chain[0][0])) if named else None
        systems = self._systems(chain)
        if vehicle_file is None or self.faults or self.problems:
            return None
        configuration, faults = composed(
            Parts(
                name=Path(file).stem,
                chain=chain,
                vehicle_name=Path(vehicle_file[0]).stem,
                vehicle_file=vehicle_file[0],
                vehicle=vehicle_file[1],
                systems=systems,
            )
        )
        self.faults += faults
        return configuration

    def _chain(self, path: Path) -> tuple[tuple[str, ConfigurationFile], ...]:
        """The configuration and all it is based on, the base first."""
        chain: list[tuple[str, ConfigurationFile]] = []
        seen: list[Path] = []
        while True:
            seen.append(path.resolve())
            read = self._read(path, ConfigurationFile)
            if read is None:
                return ()
            file, content = read
            chain.insert(0, (file.name, content))
            base = content.configuration.based_on
            if not self._has_one_root(file, content) or base is None:
                return tuple(chain) if not self.faults else ()
            found = self._find("configuration", base, file, ("configuration", "based_on"))
            if found is None:
                return ()
            if found.resolve() in seen:
                names = " → ".join(p.stem for p in [*seen, found])
                at = Origin(file.name, ("configuration", "based_on"))
                self.faults.append(
                    Fault(at, "based_on", f"a circle: {names}", "a configuration outside it")
                )
                return ()
            path = found

    def _has_one_root(self, file: TomlFile, content: ConfigurationFile) -> bool:
        header = content.configuration
        if (header.vehicle is None) != (header.based_on is None):
            return True
        both = header.vehicle is not None
        found = "both vehicle and based_on" if both else "neither vehicle nor based_on"
        at = Origin(file.name, ("configuration",))
        self.faults.append(Fault(at, "configuration", found, "one of the two"))
        return False

    def _vehicle(self, name: str, beside: Path) -> tuple[str, VehicleFile] | None:
        file = TomlFile(str(beside), beside, "", {})
        path = self._find("vehicle", name, file, ("configuration", "vehicle"))
        read = self._read(path, VehicleFile) if path else None
        if read is None:
            return None
        return read[0].name, self._with_csv(read[0], read[1])

    def _systems(
        self, chain: tuple[tuple[str, ConfigurationFile], ...]
    ) -> dict[str, tuple[str, str, SystemFile]]:
        chosen: dict[str, tuple[str, str]] = {}
        for file, content in chain:
            chosen |= {slot: (name, file) for slot, name in content.systems.items()}
        systems = {}
        for slot, (name, named_in) in sorted(chosen.items()):
            naming = TomlFile(named_in, Path(named_in), "", {})
            path = self._find("system", name, naming, ("systems", slot))
            read = self._read(path, SystemFile) if path else None
            if read is not None:
                systems[slot] = (Path(name).stem, read[0].name, self._with_csv(*read))
        return systems

    def _find(self, kind: str, name: str, file: TomlFile, key: tuple[str, ...]) -> Path | None:
        try:
            return find_profile(kind, name, beside=file.path)
        except UnknownProfile as error:
            found, _, expected = str(error).removeprefix("found ").partition("; expected ")
            self.faults.append(Fault(Origin(file.name, key), key[-1], found, expected))
            return None

    def _read(self, path: Path, cls: type[F]) -> tuple[TomlFile, F] | None:
        try:
            file = read_toml(path)
        except ConfigurationError as error:
            self.problems += error.problems
            return None
        self.texts[file.name] = file.text
        entry, faults = structured(cls, file)
        self.faults += faults
        return None if entry is None else (file, entry)

    def _with_csv(self, file: TomlFile, content: W) -> W:
        """The same profile with the wires of its CSV file, if it names one."""
        name = content.wiring.csv
        if name is None:
            return content
        wires, problems = wires_from_csv(file.path.parent / name)
        self.problems += problems
        wiring = evolve(content.wiring, wires=content.wiring.wires + wires)
        return evolve(content, wiring=wiring)
