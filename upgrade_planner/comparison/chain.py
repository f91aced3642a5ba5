"""Jobs on one vehicle, one after the other: each starts from what the one before leaves."""

from collections.abc import Iterable, Iterator, Sequence

from attrs import evolve

from upgrade_planner.checks.causes import every
from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.comparison.as_built import as_built
from upgrade_planner.comparison.comparing import compare
from upgrade_planner.comparison.connector_room import with_room
from upgrade_planner.comparison.numbers import WireNumbers
from upgrade_planner.comparison.results import Comparison, Policy
from upgrade_planner.comparison.wire_changes import Added, FromVehicle, Resized
from upgrade_planner.configuration.model import Configuration

Fits = Added | Resized
"""Changes that fit a new wire."""

_GRAVE = (Severity.DANGER, Severity.WARNING)


def stages_of(configurations: Sequence[Configuration], policy: Policy) -> tuple[Comparison, ...]:
    """One comparison for each stage, each from the vehicle as the stage before leaves it."""
    before = configurations[0]
    found = []
    for after in configurations[1:]:
        comparison = compare(before, after, policy)
        found.append(comparison)
        before = as_built(comparison)
    return tuple(_numbered_on(with_room(found)))


def _numbered_on(comparisons: Iterable[Comparison]) -> Iterator[Comparison]:
    """A conductor keeps its number from stage to stage."""
    known = None
    for comparison in comparisons:
        one = evolve(comparison, known_numbers=known)
        known = WireNumbers(old=one.numbers.new, new={})
        yield one


def new_findings(before: Iterable[Finding], after: Iterable[Finding]) -> tuple[Finding, ...]:
    """Dangers and warnings of `after` that `before` did not have, of the same rule, as bad."""
    gravity = list(Severity)
    known = tuple(every(before))

    def is_new(finding: Finding) -> bool:
        return finding.severity in _GRAVE and not any(
            old.code == finding.code
            and gravity.index(old.severity) <= gravity.index(finding.severity)
            and set(finding.subjects) <= set(old.subjects)
            for old in known
        )

    return tuple(finding for finding in after if any(map(is_new, every([finding]))))


def next_change(comparison: Comparison, wire_id: str) -> FromVehicle:
    """What a job does to a wire that is in use before it."""
    found = (c for c in comparison.wires if isinstance(c, FromVehicle))
    return next(change for change in found if change.before.id == wire_id)
