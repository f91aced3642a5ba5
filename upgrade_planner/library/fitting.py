"""
Which systems fit which vehicles, and what is missing where they do not.

Found by trial: the system is put into the vehicle beside systems that fill its other slots. So it
holds for everything that a profile may say, and agrees with what a configuration would be told.
What stands against a system beside it is not held against the one that is tried.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from functools import cache
from itertools import islice
from pathlib import Path
from typing import Any

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.composing.assembling import Parts, composed
from upgrade_planner.configuration.files.faults import ELSEWHERE, Fault
from upgrade_planner.configuration.files.headers import ancestry
from upgrade_planner.configuration.files.loaded import Loaded
from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.configuration.files.toml_files import read_toml
from upgrade_planner.configuration.loading import load_system, load_vehicle
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.configuration.structuring.entries import (
    ConfigurationFile,
    ConfigurationHeader,
    SystemFile,
    VehicleFile,
)
from upgrade_planner.errors import ConfigurationError, PlannerError, Problem, SeveralErrors

MOST_TRIALS = 16
"""Combinations of systems in the other slots that are tried at most; our assumption."""

Systems = Mapping[str, str]
"""System by slot."""


@frozen(kw_only=True)
class Use:
    """
    What a shipped configuration is made of.

    Attributes:
        systems: System by slot, over all that it is based on.
    """

    configuration: str
    vehicle: str
    systems: Systems


@frozen(kw_only=True)
class Fit:
    """
    Whether a system fits a vehicle.

    Attributes:
        missing: What stands against it, a phrase each; empty if it fits.
    """

    system: str
    slot: str
    missing: tuple[str, ...]

    @property
    def fits(self) -> bool:
        """True if nothing stands against it."""
        return not self.missing


@cache
def shipped_uses() -> tuple[Use, ...]:
    """What every shipped configuration that can be read is made of."""
    files: dict[str, Mapping[str, Any]] = {}
    for name, path in shipped_profiles("configuration").items():
        try:
            files[name] = read_toml(path).data
        except PlannerError:
            continue  # faulty: whoever loads it is told
    headers = {name: data.get("configuration", {}) for name, data in files.items()}
    chains = ((name, ancestry(name, headers)) for name in files)
    return tuple(_use(name, chain, files) for name, chain in chains if chain)


def _use(name: str, chain: tuple[str, ...], files: Mapping[str, Mapping[str, Any]]) -> Use:
    systems: dict[str, str] = {}
    for one in chain:
        given = files[one].get("systems", {})
        systems = {**given, **systems} if isinstance(given, dict) else systems
    vehicle = files[chain[-1]]["configuration"]["vehicle"]
    return Use(configuration=name, vehicle=vehicle, systems=systems)


def configurations_of(vehicle: str) -> tuple[str, ...]:
    """Shipped configurations of a vehicle, by name."""
    return tuple(use.configuration for use in shipped_uses() if Path(use.vehicle).stem == vehicle)


def what_is_missing(system: str, vehicle: str) -> tuple[str, ...]:
    """
    What a vehicle lacks for a system, a phrase each; empty if the system fits.

    Raises:
        PlannerError: no such vehicle or system, or one of them is faulty.
    """
    return fit_of(system, vehicle).missing


def fit_of(system: str, vehicle: str) -> Fit:
    """
    Whether a system fits a vehicle, with what it was tried.

    Raises:
        PlannerError: no such vehicle or system, or one of them is faulty.
    """
    slot = read_system(system)[1].system.slot
    header = _vehicle(vehicle)[1].vehicle
    if slot not in (*header.slots, *header.optional_slots):
        return Fit(system=system, slot=slot, missing=(f"no slot '{slot}'",))
    partners, faults = _best_partners(system, slot, vehicle)
    missing = _phrases(_own(faults, partners) or faults, vehicle)
    return Fit(system=system, slot=slot, missing=missing)


def _best_partners(system: str, slot: str, vehicle: str) -> tuple[Systems, tuple[Fault, ...]]:
    """Systems for the other slots that leave the fewest faults, and these faults."""
    best: tuple[Systems, tuple[Fault, ...]] | None = None
    for partners in islice(_partners(vehicle, slot), MOST_TRIALS):
        faults = trial(vehicle, {**partners, slot: system}).faults
        if best is None or len(faults) < len(best[1]):
            best = (partners, faults)
        if not faults:
            break
    if best is None:
        return {}, trial(vehicle, {slot: system}).faults
    return _improved(*best, system=system, slot=slot, vehicle=vehicle)


def _improved(
    partners: Systems, faults: tuple[Fault, ...], *, system: str, slot: str, vehicle: str
) -> tuple[Systems, tuple[Fault, ...]]:
    """Partners exchanged one by one while that leaves fewer faults."""
    for other in partners:
        for name in systems_for(other):
            if not faults or any(map(_is_final, _own(faults, partners))):
                return partners, faults
            changed = {**partners, other: name}
            left = trial(vehicle, {**changed, slot: system}).faults
            if len(left) < len(faults):
                partners, faults = changed, left
    return partners, faults


def _is_final(fault: Fault) -> bool:
    """True if no system in another slot can put it right."""
    return fault.found.startswith(("no place for the role", "the role", "the wire", "no wire"))


def _own(faults: Iterable[Fault], partners: Systems) -> tuple[Fault, ...]:
    """Faults that do not stand in a system beside the one that is tried."""
    others = {read_system(name)[0] for name in partners.values()}
    return tuple(fault for fault in faults if fault.origin.file not in others)


def vehicles_that_fit(system: str) -> tuple[str, ...]:
    """
    Shipped vehicles that offer everything a system wants, by name.

    Raises:
        PlannerError: no such system, or it is faulty.
    """
    read_system(system)
    found = []
    for vehicle in shipped_profiles("vehicle"):
        try:
            if not what_is_missing(system, vehicle):
                found.append(vehicle)
        except PlannerError:
            continue  # a faulty vehicle fits nothing
    return tuple(found)


def fits_of_vehicle(vehicle: str) -> tuple[tuple[Fit, ...], tuple[str, ...]]:
    """
    Every shipped system for the slots of a vehicle, and reasons for those that were left out.

    Raises:
        PlannerError: no such vehicle, or it is faulty.
    """
    header = _vehicle(vehicle)[1].vehicle
    slots = (*header.slots, *header.optional_slots)
    fits, left_out = [], []
    for system in shipped_profiles("system"):
        try:
            if read_system(system)[1].system.slot in slots:
                fits.append(fit_of(system, vehicle))
        except PlannerError as error:
            left_out.append(f"{system}: {str(error).splitlines()[0]}")
    return tuple(sorted(fits, key=lambda fit: slots.index(fit.slot))), tuple(left_out)


def trial(
    vehicle: str, systems: Systems, overrides: Mapping[str, Mapping[str, object]] | None = None
) -> Loaded[Configuration | None]:
    """
    A vehicle with systems in its slots, as a configuration of nothing else would be.

    Args:
        vehicle: Name or path.
        systems: Name or path of the system, by slot.
        overrides: Ratings by role, as in `[overrides]`.

    Raises:
        PlannerError: a name that is not known, or a faulty file.
    """
    file, content = _vehicle(vehicle)
    read = {slot: (name, *read_system(name)) for slot, name in systems.items()}
    header = ConfigurationHeader(title="trial", summary="", vehicle=vehicle)
    changed = {role: dict(ratings) for role, ratings in (overrides or {}).items()}
    return composed(
        Parts(
            name="trial",
            chain=(("trial", ConfigurationFile(configuration=header, overrides=changed)),),
            vehicle_name=Path(file).stem,
            vehicle_file=file,
            vehicle=content,
            systems=read,
        )
    )


@cache
def _vehicle(name: str) -> tuple[str, VehicleFile]:
    return load_vehicle(name)


@cache
def read_system(name: str) -> tuple[str, SystemFile]:
    """
    The file of a system and what stands in it, read once.

    Raises:
        PlannerError: no such system, or it is faulty.
    """
    return load_system(name)


def _partners(vehicle: str, slot: str) -> Iterator[Systems]:
    """Systems for the other slots: as shipped for that vehicle, then each that there is, once."""
    wanted = {name for name in _vehicle(vehicle)[1].vehicle.slots if name != slot}
    tried: list[dict[str, str]] = []
    for use in shipped_uses():
        others = {name: use.systems[name] for name in sorted(use.systems) if name != slot}
        if use.vehicle == vehicle and wanted <= set(others) and others not in tried:
            tried.append(others)
            yield others
    rows = {name: systems_for(name) for name in sorted(wanted)}
    if all(rows.values()):
        for turn in range(max(map(len, rows.values()), default=1)):
            yield {name: row[turn % len(row)] for name, row in rows.items()}


@cache
def systems_for(slot: str) -> tuple[str, ...]:
    """Shipped systems for a slot, by name; faulty ones are left out."""
    return tuple(name for name in shipped_profiles("system") if _slot_of(name) == slot)


def _slot_of(system: str) -> str:
    try:
        return read_system(system)[1].system.slot
    except PlannerError:
        return ""


def _phrases(faults: Iterable[Fault], vehicle: str) -> tuple[str, ...]:
    """What faults found, with the names of files shortened to those of profiles."""
    file = _vehicle(vehicle)[0]
    return tuple(dict.fromkeys(_phrase(fault, file) for fault in faults))


def _phrase(fault: Fault, vehicle_file: str) -> str:
    first = Path(fault.elsewhere.file).stem if fault.elsewhere else ""
    text = fault.found.replace(ELSEWHERE, f"in {first}").partition(", which mounts ")[0]
    name = Path(vehicle_file).stem
    text = text.replace(vehicle_file, name).replace(f" in {name} and its systems", "")
    if fault.origin.file == vehicle_file and not fault.elsewhere:
        text += f", which {name} itself wants"
    return text.replace(str(Path(vehicle_file).parent.parent) + "/", "")


def with_fitting_vehicles(error: PlannerError) -> PlannerError:
    """The same error; where a shipped system does not fit, it names the vehicles that it fits."""
    if isinstance(error, SeveralErrors):
        return SeveralErrors(map(with_fitting_vehicles, error.errors))
    if not isinstance(error, ConfigurationError) or not error.is_misfit:
        return error
    names = {str(path): name for name, path in shipped_profiles("system").items()}
    return ConfigurationError([_with_hint(p, names.get(p.misfit, "")) for p in error.problems])


def _with_hint(problem: Problem, system: str) -> Problem:
    fitting = vehicles_that_fit(system) if system else ()
    hint = f"; '{system}' fits as it is: {', '.join(fitting)}" if fitting else ""
    return replace(problem, expected=problem.expected + hint)
