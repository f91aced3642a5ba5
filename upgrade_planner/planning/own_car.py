"""
A car of one's own and what it shall become, loaded for all papers alike.

Where the target is a shipped one, lengths and extras of the car go over into it, and changes that
come from differences between the car and the shipped vehicle are told.
"""

from collections.abc import Iterator, Mapping

from attrs import field

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.comparing import compare
from upgrade_planner.comparison.part_changes import PartDisposition
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.electrical.sizing import load_sized, sized
from upgrade_planner.library.fitting import configurations_of, shipped_uses


@frozen(kw_only=True)
class Beyond:
    """
    What a shipped target changes only because the car is not the shipped one.

    Attributes:
        reference: The shipped configuration that the car is like.
        fates: What becomes of wires and parts, by id and role.
    """

    car: str
    reference: str
    target: str
    fates: Mapping[str, str] = field(hash=False)


@frozen(kw_only=True)
class OwnJob:
    """
    The car and what it shall become.

    Attributes:
        beyond: For each target whose changes do not all come from the upgrade itself.
    """

    configurations: tuple[Configuration, ...]
    beyond: tuple[Beyond, ...] = ()


def load_job(before: str, *after: str) -> OwnJob:
    """
    The car and its targets by name or path, sizes chosen.

    Raises:
        PlannerError: faulty input.
    """
    car, *targets = load_sized(before, *after)
    shipped = shipped_profiles("configuration")
    reference = None if before in shipped else _reference(car)
    if reference is None:
        return OwnJob(configurations=(car, *targets))
    from upgrade_planner.targets.adapting import adapted  # which shipped cars do without

    made: list[Configuration] = []
    beyond: list[Beyond] = []
    for name, target in zip(after, targets, strict=True):
        is_like = name in shipped and target.vehicle.name == car.vehicle.name
        made.append(adapted(target, car, reference) if is_like else target)
        if is_like:
            beyond += _beyond(car, made[-1], reference, target)
    return OwnJob(configurations=(car, *made), beyond=tuple(beyond))


def _reference(car: Configuration) -> Configuration | None:
    """The shipped configuration of the same vehicle whose systems and wires are most the car's."""
    names = configurations_of(car.vehicle.name)
    uses = [use for use in shipped_uses() if use.configuration in names]
    alike = {
        one.configuration: (_shared(one.systems, car.systems), "as_found" not in one.configuration)
        for one in uses
    }
    most = max(alike.values(), default=None)
    nearest = [load_configuration(name) for name in sorted(alike) if alike[name] == most]
    if not nearest:
        return None
    own = set(car.wire_by_id)
    return sized(min(nearest, key=lambda one: len(own ^ set(one.wire_by_id))))[0]


def _shared(one: Mapping[str, str], other: Mapping[str, str]) -> int:
    return len(set(one.items()) & set(other.items()))


def _beyond(
    car: Configuration, made: Configuration, reference: Configuration, target: Configuration
) -> Iterator[Beyond]:
    """What the shipped upgrade does not ask, and this car does."""
    here, there = dict(_fates(compare(car, made))), dict(_fates(compare(reference, target)))
    worn = {wire.id for wire in car.wires if wire.condition}
    worn |= {part.role for part in car.components if part.condition}
    beyond = {n: fate for n, fate in here.items() if there.get(n) != fate and n not in worn}
    if beyond:
        yield Beyond(car=car.name, reference=reference.name, target=target.name, fates=beyond)


def _fates(comparison: Comparison) -> Iterator[tuple[str, str]]:
    """What becomes of each wire and part that does not stay as it is."""
    for change in comparison.wires:
        if change.disposition is not Disposition.KEEP:
            yield from ((wire.id, str(change.disposition)) for wire in change.wires)
    for part in comparison.parts:
        if part.disposition is not PartDisposition.KEEP:
            yield part.role, str(part.disposition)
