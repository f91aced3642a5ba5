"""Switch positions that profiles name for operating states: `[states.loaded]`."""

from collections.abc import Collection, Iterable, Iterator, Mapping

from upgrade_planner.configuration.files.faults import Fault, one_of
from upgrade_planner.configuration.files.loaded import Gaps
from upgrade_planner.configuration.files.positions import Origin
from upgrade_planner.configuration.model import Component
from upgrade_planner.configuration.registry import kinds

STATE_NAMES = ("off", "key_on", "cranking", "idling", "loaded", "coasting")
"""Operating states that a profile may name; `electrical.states` says what they are."""

Named = Mapping[str, Mapping[str, str]]
"""Position by role, by state, as one file names them."""


def switch_positions(
    named: Iterable[tuple[str, Named]], components: tuple[Component, ...]
) -> Named:
    """
    Position by role, by state; roles that this configuration does not have are left out.

    Args:
        named: Files with what they name: the vehicle, then systems, then changes; the last wins.
        components: The parts there are.
    """
    roles = {part.role for part in components}
    positions: dict[str, dict[str, str]] = {}
    for _, states in named:
        for state, of_state in states.items():
            known = {role: position for role, position in of_state.items() if role in roles}
            positions.setdefault(state, {}).update(known)
    return positions


def state_faults(
    named: Iterable[tuple[str, Named]],
    components: tuple[Component, ...],
    removed: Collection[tuple[str, str]],
    gaps: Gaps,
) -> Iterator[Fault]:
    """
    States that do not exist, parts that are no switches, positions that they do not have.

    Nothing is said of switches that a change removed, of parts with faults of their own, nor of
    positions that a later file names anew.
    """
    by_role = {part.role: part for part in components}
    files = list(named)
    last = {
        (state, role): number
        for number, (_, states) in enumerate(files)
        for state, of_state in states.items()
        for role in of_state
    }
    for number, (file, states) in enumerate(files):
        for state, of_state in states.items():
            if state not in STATE_NAMES:
                at = Origin(file, ("states", state))
                yield Fault(at, "states", f"the state '{state}'", one_of(state, STATE_NAMES))
            for role, position in of_state.items():
                is_known = ("role", role) in removed or gaps.has("role", role)
                if is_known or last[(state, role)] != number:
                    continue
                at = Origin(file, ("states", state, role))
                yield from _position_faults(at, role, position, by_role)


def _position_faults(
    at: Origin, role: str, position: str, by_role: Mapping[str, Component]
) -> Iterator[Fault]:
    part = by_role.get(role)
    if part is None:
        switches = [p.role for p in by_role.values() if "positions" in p.ratings]
        yield Fault(at, role, f"no switch '{role}'", one_of(role, switches))
    elif "positions" not in kinds()[part.kind].ratings:
        yield Fault(at, role, f"'{role}', which is no switch", "a switch")
    elif "positions" in part.ratings and position not in part.ratings["positions"]:
        choice = one_of(position, part.ratings["positions"])
        yield Fault(at, role, f"no position '{position}' on '{role}'", choice)
