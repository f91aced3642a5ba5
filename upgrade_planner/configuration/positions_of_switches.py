"""Switch positions that a vehicle names for operating states: `[states.loaded]`."""

from collections.abc import Collection, Iterator, Mapping

from upgrade_planner.configuration.entries import VehicleFile
from upgrade_planner.configuration.faults import Fault, one_of
from upgrade_planner.configuration.model import Component, Origin
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.salvage import Gaps

STATE_NAMES = ("off", "key_on", "cranking", "idling", "loaded", "coasting")
"""Operating states that a profile may name; `electrical.states` says what they are."""


def switch_positions(
    vehicle: VehicleFile, components: tuple[Component, ...]
) -> Mapping[str, Mapping[str, str]]:
    """Position by role, by state; roles that this configuration does not have are left out."""
    roles = {part.role for part in components}
    return {
        state: {role: position for role, position in named.items() if role in roles}
        for state, named in vehicle.states.items()
    }


def state_faults(
    file: str,
    vehicle: VehicleFile,
    components: tuple[Component, ...],
    removed: Collection[tuple[str, str]],
    gaps: Gaps,
) -> Iterator[Fault]:
    """
    States that do not exist, parts that are no switches, positions that they do not have.

    Nothing is said of switches that a change removed, nor of parts with faults of their own.
    """
    by_role = {part.role: part for part in components}
    for state, named in vehicle.states.items():
        if state not in STATE_NAMES:
            at = Origin(file, ("states", state))
            yield Fault(at, "states", f"the state '{state}'", one_of(state, STATE_NAMES))
        for role, position in named.items():
            at = Origin(file, ("states", state, role))
            part = by_role.get(role)
            if ("role", role) in removed or gaps.has("role", role):
                continue
            if part is None:
                switches = [p.role for p in components if "positions" in p.ratings]
                yield Fault(at, role, f"no switch '{role}'", one_of(role, switches))
            elif "positions" not in kinds()[part.kind].ratings:
                yield Fault(at, role, f"'{role}', which is no switch", "a switch")
            elif "positions" in part.ratings and position not in part.ratings["positions"]:
                choice = one_of(position, part.ratings["positions"])
                yield Fault(at, role, f"no position '{position}' on '{role}'", choice)
